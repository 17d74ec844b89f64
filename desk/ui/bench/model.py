"""The contents of the bench's lists, made from the pile. No widgets here."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice

from desk.domain.severity import Severity
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import Shop
from desk.domain.status import PieceStatus
from desk.session.contents.piece_words import billable_words, short_place_words
from desk.session.pile.alike import Alike
from desk.session.pile.packing import placement_for
from desk.session.pile.pile import PiecesWhere, Pile
from desk.session.verdict.verdict import Verdict

NEXT, LAST = 7, 6
COPIED = " (weight copied)"
DRAWN_AS = {MailerKind.ENVELOPE: "letter", MailerKind.CARD: "letter", MailerKind.FLAT: "flat", MailerKind.RIGID: "flat"}
MARKS = {PieceStatus.READY: Severity.FINE, PieceStatus.LABELED: Severity.FINE, PieceStatus.NEEDS_A_LOOK: Severity.LOOK}


@dataclass(frozen=True, slots=True)
class NextRow:
    """A piece to be weighed, or a copied weight to be checked."""

    piece_id: int
    shape: str
    number: str
    to: str
    is_check: bool = False


@dataclass(frozen=True, slots=True)
class LastRow:
    """A weighed piece: its figure and status."""

    piece_id: int
    number: str
    figure: str
    mark: Severity
    status: str

    @property
    def short_status(self) -> str:
        """Return the status for a narrow list."""
        return self.status.replace(COPIED, " (copied)")


class NextPieces:
    """What comes next: copies to check, then pieces to weigh, in import order. It follows the pile."""

    def __init__(self, pile: Pile, alike: Alike) -> None:
        self._pile, self._alike = pile, alike
        self._to_weigh = PiecesWhere(pile, lambda verdict: verdict.status is PieceStatus.TO_WEIGH)

    def rows(self, after: int | None, count: int = NEXT) -> list[NextRow]:
        """Return the next ones from the open piece on, starting again with the first behind the last."""
        checks = [number for number in self._alike.all_to_check() if number != after]
        rows = [_next_row(self._pile, self._alike, number, is_check=True) for number in checks[:count]]
        to_weigh = (number for number in self._to_weigh.after(after) if number != after)
        return rows + [_next_row(self._pile, self._alike, number) for number in islice(to_weigh, count - len(rows))]


def last_rows(pile: Pile, count: int = LAST) -> list[LastRow]:
    """Return the pieces weighed last, newest first."""
    return [_last_row(pile.verdicts[number], number) for number in pile.last_weighed(count)]


def shape_of(verdict: Verdict, mailer: str, shop: Shop) -> str:
    """Return the shape to draw: the one decided, else that of its expected mailer."""
    if verdict.quote is not None:
        return verdict.quote.shape.shape
    known = shop.mailer(mailer) if mailer else None
    return DRAWN_AS.get(known.kind, "parcel") if known else "parcel"


def _next_row(pile: Pile, alike: Alike, number: int, *, is_check: bool = False) -> NextRow:
    verdict, shop = pile.verdicts[number], pile.terms.shop
    mailer = placement_for(verdict.case, number, alike, shop).mailer
    return NextRow(number, shape_of(verdict, mailer, shop), verdict.case.number, _short(verdict), is_check)


def _short(verdict: Verdict) -> str:
    address = verdict.case.order.address
    name = (address.recipient or address.company).split(" ")[0]
    return ", ".join(filter(None, (name, short_place_words(verdict))))


def _last_row(verdict: Verdict, number: int) -> LastRow:
    mark = Severity.STOP if verdict.is_stopped else MARKS.get(verdict.status, Severity.NOTE)
    weighing = verdict.case.weighing
    issue = "blocked" if verdict.is_stopped else "check"
    words = issue if verdict.status is PieceStatus.NEEDS_A_LOOK else str(verdict.status)
    copied = COPIED if weighing is not None and weighing.copied_from else ""
    return LastRow(number, verdict.case.number, billable_words(verdict), mark, f"{words}{copied}")
