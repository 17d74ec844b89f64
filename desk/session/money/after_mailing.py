"""After mailing: what came back, what was lost, what is sent again, claims, and refunds that were paid."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date
from enum import StrEnum

from desk.costs.claims import ClaimDays, claim_days
from desk.domain.faults import Refused
from desk.domain.ledger import Entry, LedgerRow
from desk.domain.money import Money, zero
from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.rates.extras import INSURANCE, INSURANCE_ABROAD
from desk.session.pile.days_that_left import days_that_left
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import amount_words, pieces_in_words
from desk.store.tables import ledger, orders, pieces, settings

NOTES = "after mailing"  # the setting the days are saved under
SENT_AGAIN = "sent again"  # the source of orders made here
AGAIN = "R"  # follows the number of an order that is sent again


class Noted(StrEnum):
    """What was noted on a day."""

    REFUND_PAID = "refund paid"
    CLAIM_FILED = "claim filed"


@dataclass(frozen=True, slots=True)
class DayNoted:
    """The day on which something was done about a piece."""

    piece_id: int
    what: Noted
    on: date


@dataclass(frozen=True, slots=True)
class DaysNoted:
    """All days noted, oldest first."""

    days: tuple[DayNoted, ...] = ()

    def of(self, what: Noted) -> dict[int, date]:
        """Return the days of one kind by piece."""
        return {one.piece_id: one.on for one in self.days if one.what is what}


@dataclass(frozen=True, slots=True, kw_only=True)
class MailedPiece:
    """A piece that left: its status now, its cover, its claim, and the refund its buyer gets.

    `claim` is None where no cover is known; `cover` is the insurance in the price or the value insured. `refund` is
    what the buyer gets back, positive. `paid_back` is what the carrier paid for a claim.
    """

    piece_id: int
    number: str
    recipient: str
    mailed_on: date
    status: PieceStatus
    reason: str
    value: Money
    cover: Money
    claim: ClaimDays | None
    claimed_on: date | None
    paid_back: Money
    refund: Money
    refunded_on: date | None


def mailed_pieces(sitting: Sitting, pile: Pile) -> tuple[MailedPiece, ...]:
    """Return every piece that left, the latest mailing date first."""
    ids = {verdict.case.key.reference: number for number, verdict in pile.verdicts.items()}
    days = [(ids[one], day.day) for day in days_that_left(sitting) for one in day.postage if one in ids]
    with sitting.store.reading() as conn:
        noted = settings.read(conn, NOTES, DaysNoted())
        rows: dict[int, list[LedgerRow]] = {number: [] for number, _ in days}
        for row in ledger.of_pieces(conn, rows):
            rows[row.piece_id].append(row)
    refunds, claims = noted.of(Noted.REFUND_PAID), noted.of(Noted.CLAIM_FILED)
    return tuple(_mailed(pile, n, day, rows[n], refunds.get(n), claims.get(n)) for n, day in days)


def _mailed(
    pile: Pile, number: int, day: date, rows: Iterable[LedgerRow], refunded: date | None, claimed: date | None
) -> MailedPiece:
    verdict = pile.verdicts[number]
    case, cover = verdict.case, _cover(verdict)
    nothing = zero(pile.terms.shop.policy.currency)
    sums = {
        entry: sum(
            (row.amount for row in rows if row.entry is entry and row.amount.currency == nothing.currency), nothing
        )
        for entry in (Entry.CLAIM_PAID, Entry.BUYER_REFUND)
    }
    return MailedPiece(
        piece_id=number,
        number=case.number,
        recipient=case.order.address.recipient,
        mailed_on=day,
        status=verdict.status,
        reason=case.aside_reason,
        value=case.order.goods_value,
        cover=cover,
        claim=claim_days(day, abroad=verdict.is_abroad) if cover else None,
        claimed_on=claimed,
        paid_back=sums[Entry.CLAIM_PAID],
        refund=-sums[Entry.BUYER_REFUND],
        refunded_on=refunded,
    )


def _cover(verdict: Verdict) -> Money:
    """Return what the price covers, or the goods' value where insurance was bought."""
    value = verdict.case.order.goods_value
    if {INSURANCE, INSURANCE_ABROAD} & set(verdict.extras_sold):
        return value
    return (verdict.offer.facts.cover if verdict.offer else None) or zero("USD")


def mark_after_mailing(sitting: Sitting, piece_ids: Collection[int], status: PieceStatus | None, reason: str) -> None:
    """Mark pieces that left as *came back* or *lost*, with a reason; None means that they arrived after all.

    Refused for a piece that has not left. What it cost stays in the ledger.
    """
    step = f"{str(status).capitalize() if status else 'Arrived after all'}: {pieces_in_words(len(piece_ids))}"
    with sitting.store.act(step) as tx:
        for piece in pieces.some_pieces(tx.conn, piece_ids):
            if not piece.handed_over:
                raise Refused(
                    f"{pieces.number_of(tx.conn, piece)} has not been handed over, so it can't be marked here."
                )
        pieces.set_beside(tx, piece_ids, status, " ".join(reason.split()))
    sitting.announce(sitting.store.last_changes)


def note_day(sitting: Sitting, piece_ids: Collection[int], what: Noted, on: date) -> None:
    """Note the day a refund was paid or a claim was filed; a later day replaces an earlier one."""
    with sitting.store.act(f"{what.value.capitalize()}: {pieces_in_words(len(piece_ids))}") as tx:
        before = settings.read(tx.conn, NOTES, DaysNoted()).days
        others = tuple(one for one in before if one.what is not what or one.piece_id not in piece_ids)
        settings.write(tx, NOTES, DaysNoted(others + tuple(DayNoted(n, what, on) for n in sorted(piece_ids))))
    sitting.announce(sitting.store.last_changes)


def enter_claim_paid(sitting: Sitting, piece_id: int, amount: Money) -> None:
    """Enter what the carrier paid for a claim as a new ledger row. Refused for an amount of 0 or less, and for a piece without costs."""
    if amount.minor <= 0:
        raise Refused("Type what the carrier paid, more than 0.")
    with sitting.store.act(f"Claim paid: {amount_words(amount)}") as tx:
        entered = ledger.of_pieces(tx.conn, [piece_id])
        if not entered:
            raise Refused("This package has no costs yet. Hand it over first.")
        ledger.add(tx, [replace(entered[0], entry=Entry.CLAIM_PAID, amount=amount, why="claim")])
    sitting.announce(sitting.store.last_changes)


def send_again(sitting: Sitting, pile: Pile, piece_ids: Collection[int]) -> tuple[str, ...]:
    """Make a new order for each of these pieces and return its number. It has its own postage, and shipping paid is 0.

    Its goods and their value are those of the piece, so customs is told the true value. Refused for a piece that has
    not left, and where the address was deleted.
    """
    with sitting.store.act(f"To be sent again: {pieces_in_words(len(piece_ids))}") as tx:
        taken = {one.order.number for one in orders.all_orders(tx.conn)}
        fresh = [_again(pile.verdicts[number], taken) for number in piece_ids]
        orders.save(tx, fresh)
        pieces.ensure_pieces(tx, [PieceKey(order.number, 1) for order in fresh])
    sitting.announce(sitting.store.last_changes)
    return tuple(order.number for order in fresh)


def _again(verdict: Verdict, taken: set[str]) -> Order:
    case, order = verdict.case, verdict.case.order
    if not case.handed_over:
        raise Refused(f"{case.number} has not been handed over yet.")
    if orders.is_forgotten(order):
        raise Refused(f"The address of {case.number} was deleted. Import its order again first.")
    number = _free(f"{case.number}{AGAIN}", taken)
    taken.add(number)
    whole: Mapping[str, object] = {one.name: getattr(order, one.name) for one in fields(Order)}
    build: Callable[..., Order] = Order
    copied = build(**whole)
    gross = sum((line.unit_price * line.quantity for line in order.lines), zero(order.currency))
    return replace(
        copied,
        number=number,
        source=SENT_AGAIN,
        status="",
        shipping_paid=zero(order.shipping_paid.currency),
        discount=gross - order.goods_value,
        charges=(),
    )


def _free(number: str, taken: Collection[str]) -> str:
    count = 2
    free = number
    while free in taken:
        free, count = f"{number}{count}", count + 1
    return free
