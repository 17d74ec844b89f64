"""One piece in a few words for papers and lists: number, ounces, stamps, items, destination."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.exact import plain
from desk.domain.weight import Weight, pounds_and_ounces
from desk.session.verdict.verdict import Verdict
from desk.session.words.facts import country_in_words
from desk.session.words.figures import measure
from desk.session.words.stamp_names import counts_for, name_of_stamp
from desk.session.words.weights import reading_words


@dataclass(frozen=True, slots=True)
class StampMark:
    """One stamp to put on: its name (`forever`) and what it counts for (`1`, `+1`), for drawings in the window."""

    words: str
    counts_for: str


def billable_words(verdict: Verdict) -> str:
    """Return what to write on the piece: `2 oz`, `3.5 oz`, `4 lb`; empty until it is weighed."""
    if verdict.offer is None:
        return ""
    return measure(f"{verdict.offer.billable.figure} {verdict.offer.billable.unit}")


def stamp_marks(verdict: Verdict) -> tuple[StampMark, ...]:
    """Return the stamps to put on, one mark each."""
    marks: list[StampMark] = []
    for kind, value, number in verdict.stamps.stamps if verdict.stamps else ():
        marks += [StampMark(name_of_stamp(kind), counts_for(kind, value))] * number
    return tuple(marks)


def stamps_in_words(verdict: Verdict) -> tuple[tuple[int, str], ...]:
    """Return the stamps to put on as (number, kind): `(1, "Forever")`, `(2, "additional ounce")`, `(1, "5¢")`."""
    stamps = verdict.stamps.stamps if verdict.stamps else ()
    return tuple((number, name_of_stamp(kind, value)) for kind, value, number in stamps)


def item_words(verdict: Verdict) -> tuple[str, ...]:
    """Return the contents, one line per item: `2 × Pocket notebook, blue`."""
    lines = verdict.case.order.lines
    return tuple(f"{line.quantity} × {', '.join(filter(None, (line.item, line.variant)))}" for line in lines)


def piece_of(verdict: Verdict) -> str:
    """Return `piece 2 of 3`."""
    return f"piece {verdict.case.key.piece} of {max(verdict.case.pieces_in_order, verdict.case.key.piece)}"


def place_words(verdict: Verdict) -> str:
    """Return the city with its state, or with its country abroad: `Bend OR`, `Leeds, United Kingdom`."""
    address = verdict.case.order.address
    if not verdict.is_abroad:
        return f"{address.city} {address.region}".strip()
    return ", ".join(filter(None, (address.city, country_in_words(address.country).removeprefix("the "))))


def short_place_words(verdict: Verdict) -> str:
    """Return where it goes where there is little room: `Bend OR`, or the country abroad: `United Kingdom`."""
    if verdict.is_abroad:
        return country_in_words(verdict.case.order.address.country).removeprefix("the ")
    return place_words(verdict)


def recipient_name(verdict: Verdict) -> str:
    """Return the recipient, or the company where no name is given."""
    return verdict.case.order.address.recipient or verdict.case.order.address.company


def weighed_words(verdict: Verdict) -> str:
    """Return `1.3 oz`: the scale's reading; empty until it is weighed."""
    return reading_words(verdict.case.weighing.shown) if verdict.case.weighing else ""


def pounds_ounces(weight: Weight | None, place: str = "0.01") -> str:
    """Return `1 lb 3.2 oz`, with the ounces to that decimal place; empty when it is not known."""
    if weight is None:
        return ""
    pounds, ounces = pounds_and_ounces(weight, Decimal(place))
    return f"{pounds} lb {plain(ounces)} oz"


def masked(number: str) -> str:
    """Return a number with all but its last three characters hidden, since anyone could use a printed tax number."""
    return "\u2022" * (len(number) - 3) + number[-3:] if len(number) > 3 else number
