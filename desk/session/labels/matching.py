"""Match each bought label to its piece. Ambiguous ones are left for you to settle by typing a number."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from desk.domain.orders.check_digits import without_routing
from desk.domain.orders.tracking import tracking_number
from desk.domain.places.address import Address
from desk.paper.bought.reading import ReadLabel
from desk.session.pile.pile import Pile
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Verdict
from desk.session.words.services import service_words
from desk.store.tables import pieces

MOST_WORDS = 20_000  # characters of a label's text that are searched


class Sureness(StrEnum):
    """How a label was matched."""

    MATCHED = "matched"
    SEVERAL = "several"  # more than one piece fits, or two labels fit one piece
    WEAK = "weak"  # one piece fits, but with too little evidence
    NONE = "none"
    HELD = "held"  # one piece fits, but its customs issue comes first
    ASIDE = "aside"  # no label: a receipt, or instructions


@dataclass(frozen=True, slots=True)
class LabelMatch:
    """One label with the pieces it may be for. `why` says what decided; `tracking` is empty when none was found.

    `paid` is an amount found in the text: suggested, never entered.
    """

    label: ReadLabel
    sureness: Sureness
    piece_ids: tuple[int, ...]
    why: str
    tracking: str = ""
    paid: Decimal | None = None

    @property
    def piece_id(self) -> int | None:
        """The piece it is for; None while that is open."""
        return self.piece_ids[0] if self.sureness is Sureness.MATCHED else None


@dataclass(frozen=True, slots=True)
class WaitingPiece:
    """A piece waiting for a bought label, with what identifies it."""

    piece_id: int
    reference: str
    order: str
    names: tuple[str, ...]
    postal_code: str
    weight: str
    tracking: str = ""
    service: str = ""
    held: bool = False  # by an open customs issue


def candidates_of(pile: Pile) -> tuple[WaitingPiece, ...]:
    """Return the pieces whose postage is bought online and that have not left."""
    waiting = {
        number: verdict
        for number, verdict in pile.verdicts.items()
        if verdict.payment is Payment.ONLINE and not verdict.case.handed_over and verdict.case.beside is None
    }
    with pile.sitting.store.reading() as conn:
        tracking = {piece.id: piece.tracking for piece in pieces.some_pieces(conn, waiting)}
    return tuple(_waiting(number, verdict, tracking.get(number, "")) for number, verdict in waiting.items())


def _waiting(number: int, verdict: Verdict, tracking: str) -> WaitingPiece:
    address: Address = verdict.case.order.address
    billable = verdict.offer.billable if verdict.offer else None
    return WaitingPiece(
        number,
        verdict.case.key.reference,
        verdict.case.key.order,
        tuple(filter(None, (_folded(address.recipient), _folded(address.company)))),
        _code_of(address.postal_code),
        f"{billable.figure} {billable.unit}" if billable else "",
        tracking,
        service_words(verdict.offer.service).split()[0] if verdict.offer else "",
        bool(verdict.customs_open),
    )


def match_labels(labels: Iterable[ReadLabel], candidates: Sequence[WaitingPiece]) -> tuple[LabelMatch, ...]:
    """Return each label with its piece, or with the pieces it may be for."""
    matches = _without_receipts([_match(label, candidates) for label in labels])
    claims = Counter(one.piece_id for one in matches if one.piece_id is not None)
    held = {one.piece_id for one in candidates if one.held}
    return tuple(_judged_together(one, claims, held) for one in matches)


def _judged_together(one: LabelMatch, claims: Counter[int], held: Collection[int]) -> LabelMatch:
    """Return a match left open when another label claims the same piece, or when the piece can't take one yet."""
    if one.piece_id is None:
        return one
    if claims[one.piece_id] > 1:
        return replace(one, sureness=Sureness.SEVERAL, why="two labels fit this package")
    if one.piece_id in held:
        return replace(one, sureness=Sureness.HELD, why="fix its customs issue, then type its number")
    return one


def _without_receipts(matches: Sequence[LabelMatch]) -> list[LabelMatch]:
    """Return the matches with a page set aside that repeats what a label with a tracking barcode says."""
    claims = Counter(one.piece_id for one in matches if one.piece_id is not None and _has_tracking_code(one.label))
    return [
        _aside(one, "repeats a label")
        if one.piece_id is not None and not one.label.codes and claims[one.piece_id] == 1
        else one
        for one in matches
    ]


def _has_tracking_code(label: ReadLabel) -> bool:
    return any(tracking_number(code) for code in label.codes)


def _aside(one: LabelMatch, why: str) -> LabelMatch:
    return replace(one, sureness=Sureness.ASIDE, piece_ids=(), why=f"no label: {why}")


def _match(label: ReadLabel, candidates: Sequence[WaitingPiece]) -> LabelMatch:
    text = label.text[:MOST_WORDS]
    tracking = next(filter(None, map(tracking_number, (*label.codes, *_long_numbers(text)))), "")
    at_door = [one for one in candidates if _is_at(one, text)]
    named = [one for one in candidates if _has_reference(one, text, label.codes)]
    sureness, fitting, why = _decide(text, named, at_door, candidates)
    match = LabelMatch(label, sureness, tuple(one.piece_id for one in fitting), why, tracking, _paid(text))
    if label.codes or not text.strip():
        return match  # an image whose barcode is unreadable may still be a label
    if len(named) > 1:
        return _aside(match, "it lists several packages")
    stray = any(one.postal_code and _folded_code(one.postal_code) in _folded_code(text) for one in candidates)
    return match if sureness is not Sureness.NONE or stray else _aside(match, "no barcode and no address")


Decision = tuple[Sureness, list[WaitingPiece], str]


def _decide(
    text: str, named: list[WaitingPiece], at_door: list[WaitingPiece], candidates: Sequence[WaitingPiece]
) -> Decision:
    """Decide by our reference, else by postal code and name; order number, weight and service break ties."""
    if named:
        both = [one for one in named if one in at_door] if at_door else named
        if len(both) == 1:
            return Sureness.MATCHED, both, "our reference"
        return Sureness.SEVERAL, both or [*named, *at_door], "the reference and the address disagree"
    if len(at_door) == 1:
        return Sureness.MATCHED, at_door, "postal code and name"
    if at_door:
        return _break_tie(text, at_door)
    weak = [one for one in candidates if _has_word(one.order, text) and len(one.order) >= 4]
    if weak:
        return (Sureness.WEAK if len(weak) == 1 else Sureness.SEVERAL), weak, "only the order number"
    weak = [one for one in candidates if any(_has_name(name, text) for name in one.names)]
    return (Sureness.WEAK, weak, "only the name") if len(weak) == 1 else (Sureness.NONE, [], "")


def _break_tie(text: str, at_door: list[WaitingPiece]) -> Decision:
    """Decide between several packages of one buyer: by order number, weight, or a service only one of them uses."""
    numbered = [one for one in at_door if _has_word(one.order, text)]
    if len(numbered) == 1:
        return Sureness.MATCHED, numbered, "order number, postal code and name"
    heavy = [one for one in at_door if one.weight and _has_weight(one.weight, text)]
    if len(heavy) == 1:
        return Sureness.MATCHED, heavy, "postal code, name and weight"
    left = heavy or at_door
    served = [one for one in left if one.service and _has_word(one.service, text.casefold())]
    if len(served) == 1 and _differ_in_service(left):
        return Sureness.MATCHED, served, "postal code, name and service"
    return Sureness.SEVERAL, at_door, "one buyer, several packages"


def _differ_in_service(candidates: Sequence[WaitingPiece]) -> bool:
    return len({one.service for one in candidates}) == len(candidates)


def _has_reference(one: WaitingPiece, text: str, codes: Sequence[str]) -> bool:
    if one.reference in codes or (one.tracking and one.tracking in map(tracking_number, codes)):
        return True
    return _has_word(one.reference, text)


def _has_word(word: str, text: str) -> bool:
    """Return True when the text has the word as a whole, not inside a longer word or number."""
    return re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text) is not None


def _is_at(one: WaitingPiece, text: str) -> bool:
    """Return True when the label has the piece's postal code and one of its names."""
    if not one.postal_code or _folded_code(one.postal_code) not in _folded_code(text):
        return False
    return any(_has_name(name, text) for name in one.names)


def _has_name(name: str, text: str) -> bool:
    return bool(name) and re.search(rf"(?<!\w){re.escape(name)}(?!\w)", _folded(text)) is not None


def _code_of(postal_code: str) -> str:
    """Return a postal code for comparing: only five digits of a US code."""
    return re.sub(r"^(\d{5})-?\d{4}$", r"\1", postal_code.strip())


def _folded_code(text: str) -> str:
    return re.sub(r"[\s-]", "", text).upper()


def _folded(text: str) -> str:
    """Return the text without accents, case and double spaces, so that José equals JOSE."""
    plain = unicodedata.normalize("NFKD", text.casefold().replace("ø", "o").replace("ł", "l"))
    letters = "".join(character for character in plain if not unicodedata.combining(character))
    return " ".join(re.sub(r"[^\w]+", " ", letters).split())


def _has_weight(weight: str, text: str) -> bool:
    figure, _, unit = weight.partition(" ")
    return re.search(rf"(?<![\d.]){re.escape(figure)}\s*{unit}s?\b", text, re.IGNORECASE) is not None


def _long_numbers(text: str) -> list[str]:
    """Return possible tracking numbers: long runs of digits, spaces allowed, and S10 identifiers."""
    runs = re.findall(r"(?<!\d)\d(?:[ \d]{18,40})\d(?!\d)", text)
    return [
        *(without_routing(run.replace(" ", "")) for run in runs),
        *re.findall(r"\b[A-Z]{2} ?\d{9} ?[A-Z]{2}\b", text),
    ]


def _paid(text: str) -> Decimal | None:
    """Return the postage paid as printed on the label; None when there is none or more than one."""
    amounts = set(re.findall(r"(?:postage|paid|total)\D{0,12}\$\s?(\d{1,4}\.\d{2})(?!\d)", text, re.IGNORECASE))
    return Decimal(amounts.pop()) if len(amounts) == 1 else None
