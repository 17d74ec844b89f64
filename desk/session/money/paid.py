"""Enter actual postage costs: match the rows of a list to pieces, then save in one step."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.ledger import REPLACED, Entry, LedgerRow
from desk.domain.money import Money
from desk.intake.paid import PaidRow, read_paid, read_paid_text
from desk.session.money.entries import not_reversed
from desk.session.pile.stored_cases import StoredCase, read_stored, read_terms
from desk.session.sitting import Sitting
from desk.session.words.figures import counted
from desk.session.words.services import services_meant
from desk.store.tables import hand_overs, ledger, pieces
from desk.store.tables.pieces import StoredPiece
from desk.store.transaction import Transaction

SEVERAL, NONE, TAKEN = "several packages fit", "no package fits", "its tracking number is on another package"
TWICE = "its package is in the list twice"
OTHER = "“{}” is a service we don't know"
ENTRIES = {"paid": Entry.POSTAGE_PAID, "adjustment": Entry.ADJUSTMENT, "refund": Entry.CARRIER_REFUND}


@dataclass(frozen=True, slots=True)
class Matched:
    """A row and the piece it belongs to. `why` says why there is none, or what to know about the row."""

    row: PaidRow
    piece_id: int | None
    number: str = ""
    why: str = ""


def match_file(sitting: Sitting, path: Path) -> list[Matched]:
    """Match the rows of a file; Unreadable with every fault."""
    return match(sitting, read_paid(path, read_terms(sitting).shop.policy.currency))


def match_text(sitting: Sitting, text: str) -> list[Matched]:
    """Match the rows of pasted text; Unreadable with every fault."""
    return match(sitting, read_paid_text(text, read_terms(sitting).shop.policy.currency))


def match(sitting: Sitting, rows: Iterable[PaidRow]) -> list[Matched]:
    """Match rows to pieces: by package or order number, else by postal code and name. Nothing ambiguous is matched."""
    stored = read_stored(sitting)
    by_reference, by_door = _indexes(stored)
    with sitting.store.reading() as conn:
        tracked = {one.tracking: one.id for one in pieces.all_pieces(conn) if one.tracking}
    numbers, charts = {one.id: one.case.number for one in stored}, sitting.rulebook.charts
    is_known: dict[str, bool] = {"": True}  # by service; a list names the same few again and again
    matched: list[Matched] = []
    paid_for: set[int] = set()
    for row in rows:
        fitting = by_reference.get(row.reference, []) if row.reference else []
        fitting = fitting or by_door.get(_door(row.recipient, row.postal_code), [])
        is_tracked = row.tracking in tracked
        if len(fitting) != 1:
            matched.append(Matched(row, None, "", SEVERAL if fitting else NONE))
        elif is_tracked and tracked[row.tracking] != fitting[0]:
            matched.append(Matched(row, None, "", TAKEN))
        elif row.kind == "paid" and fitting[0] in paid_for:
            matched.append(Matched(row, None, "", TWICE))
        else:
            if row.service not in is_known:
                is_known[row.service] = bool(services_meant(row.service, charts))
            why = "" if is_known[row.service] else OTHER.format(row.service)
            matched.append(Matched(row, fitting[0], numbers[fitting[0]], why))
            paid_for |= {fitting[0]} if row.kind == "paid" else set()
    return matched


def enter_paid(sitting: Sitting, matched: Iterable[Matched]) -> int:
    """Enter the matched rows as one step and return how many changed anything. Refused when nothing matched.

    A paid amount replaces the estimate once; later rows are adjustments or refunds.
    """
    going = [one for one in matched if one.piece_id is not None]
    if not going:
        raise Refused("No row matches a package. Check the order numbers in the list.")
    changed = 0
    with sitting.store.act(f"Postage paid entered: {counted(len(going), 'row')}") as tx:
        known = {
            piece.id: piece for piece in pieces.some_pieces(tx.conn, {one.piece_id for one in going if one.piece_id})
        }
        entered = _entered(tx, known)
        for one in going:
            assert one.piece_id is not None
            changed += _enter(tx, known[one.piece_id], one.row, entered[one.piece_id])
    sitting.announce(sitting.store.last_changes)
    return changed


def _enter(tx: Transaction, piece: StoredPiece, row: PaidRow, entered: list[LedgerRow]) -> bool:
    """Save one row; return False when it was already there."""
    if row.kind != "paid":
        return _add(tx, entered, ENTRIES[row.kind], row)
    tracking = row.tracking or piece.tracking
    paid = row.paid if piece.paid is None else piece.paid
    bought_as = row.service if paid == row.paid else ""  # the service belongs to the amount that is kept
    moved = hand_overs.match(tx, piece.id, tracking, paid, bought_as)
    if row.paid is None or not entered:
        return moved  # entered with the other rows at hand-over
    if piece.paid is None:
        _add(tx, entered, Entry.POSTAGE_PAID, row)
        _replace_estimate(tx, entered)
        return True
    return moved


def _add(tx: Transaction, entered: list[LedgerRow], entry: Entry, row: PaidRow) -> bool:
    if row.paid is None or not entered:
        return False
    amount = row.paid if entry is Entry.CARRIER_REFUND else -row.paid
    why = " ".join(filter(None, (row.why, row.tracking)))
    fresh = _like(entered[-1], entry, amount, why)  # the last hand-over's day, service and zone
    if _is_entered(fresh, entered):
        return False  # a repeated row of the same list
    ledger.add(tx, [fresh])
    entered.append(fresh)
    return True


def _is_entered(row: LedgerRow, entered: Iterable[LedgerRow]) -> bool:
    """Return True when a row like this was entered and not undone; undo adds the opposite amount."""
    alike = [one.amount for one in entered if (one.entry, one.why) == (row.entry, row.why)]
    return alike.count(row.amount) > alike.count(-row.amount)


def _replace_estimate(tx: Transaction, entered: list[LedgerRow]) -> None:
    estimated = sum(one.amount.minor for one in entered if one.entry is Entry.POSTAGE_ESTIMATED)
    amount = Money(-estimated, entered[0].amount.currency)
    ledger.add(tx, [_like(entered[-1], Entry.POSTAGE_ESTIMATED, amount, REPLACED)])


def _like(row: LedgerRow, entry: Entry, amount: Money, why: str) -> LedgerRow:
    return replace(row, entry=entry, amount=amount, why=why)


def _entered(tx: Transaction, known: Mapping[int, StoredPiece]) -> dict[int, list[LedgerRow]]:
    """Return the rows of each piece; none for a piece whose hand-over was undone."""
    rows: dict[int, list[LedgerRow]] = {piece_id: [] for piece_id in known}
    for row in not_reversed(ledger.of_pieces(tx.conn, known)):
        rows[row.piece_id].append(row)
    return rows


def _indexes(stored: Iterable[StoredCase]) -> tuple[dict[str, list[int]], dict[tuple[str, str], list[int]]]:
    by_reference: dict[str, list[int]] = defaultdict(list)
    by_door: dict[tuple[str, str], list[int]] = defaultdict(list)
    for one in stored:
        key, address = one.case.key, one.case.order.address
        by_reference[key.reference].append(one.id)
        for number in (key.order, *one.case.packed_with):
            by_reference[number].append(one.id)
        by_door[_door(address.recipient, address.postal_code)].append(one.id)
    return by_reference, by_door


def _door(recipient: str, postal_code: str) -> tuple[str, str]:
    """Return name and postal code for comparing: no case, no spaces, five digits of a ZIP+4."""
    code = "".join(postal_code.split()).upper().partition("-")[0]
    return " ".join(recipient.casefold().split()), code
