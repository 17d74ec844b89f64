"""The effect of new prices or zones on a batch: the commonest kinds of piece before and after."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from desk.domain.money import Money, zero
from desk.rates.lists.chart import Charts
from desk.rates.zone import Zones
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict

MOST_KINDS = 50
MOST_PIECES = 500
DAYS_IN_MONTH = Decimal("30.4")


@dataclass(frozen=True, slots=True)
class KindOfPiece:
    """Pieces with the same mailer, billed weight, service and zone: how many, and their price before and after.

    A price is None where no service carries it.
    """

    mailer: str
    billed: str
    service: str
    zone: str
    count: int
    before: Money | None
    after: Money | None


@dataclass(frozen=True, slots=True)
class PriceEffect:
    """The commonest kinds of piece, most common first; the sums are for all their pieces in a month."""

    kinds: tuple[KindOfPiece, ...]
    pieces: int
    of_pieces: int
    months: Decimal
    before: Money
    after: Money


@dataclass(frozen=True, slots=True)
class ZoneMove:
    """Pieces that move from one zone to another, how many, and their cost before and after."""

    old: str
    new: str
    pieces: int
    before: Money
    after: Money


@dataclass(frozen=True, slots=True)
class ZoneEffect:
    """How many of the last pieces change zone, in which direction, and their cost before and after.

    `moves` are those pieces by their two zones, the most pieces first.
    """

    pieces: int
    changed: int
    farther: int
    nearer: int
    before: Money
    after: Money
    moves: tuple[ZoneMove, ...] = ()


def price_effect(verdicts: Iterable[Verdict], terms: Terms, charts: Charts, on: date) -> PriceEffect:
    """Return the effect of other price lists on the pieces weighed so far, if mailed on that day."""
    priced = [verdict for verdict in verdicts if verdict.offer is not None]
    kinds = Counter(map(kind_of, priced))
    samples = {kind_of(verdict): verdict.case for verdict in reversed(priced)}
    before = replace(terms, on=on)
    after = replace(terms, rulebook=replace(terms.rulebook, charts=charts), on=on)
    rows = []
    for kind, count in kinds.most_common(MOST_KINDS):
        prices = (price_at(samples[kind], each) for each in (before, after))
        rows.append(KindOfPiece(*kind, count, *prices))
    months = _months([verdict.case for verdict in priced])
    both = [row for row in rows if row.before is not None and row.after is not None]
    currency = terms.shop.policy.currency
    return PriceEffect(
        kinds=tuple(rows),
        pieces=sum(row.count for row in both),
        of_pieces=len(priced),
        months=months,
        before=_monthly(sum(row.before.minor * row.count for row in both if row.before), months, currency),
        after=_monthly(sum(row.after.minor * row.count for row in both if row.after), months, currency),
    )


def zone_effect(verdicts: Sequence[Verdict], terms: Terms, zones: Zones) -> ZoneEffect:
    """Return the effect of another zone chart on the last pieces priced by zone."""
    by_zone = [verdict for verdict in verdicts if _zone(verdict)][-MOST_PIECES:]
    after = replace(terms, rulebook=replace(terms.rulebook, zones=zones))
    moved: dict[tuple[str, str], list[tuple[Money, Money]]] = defaultdict(list)
    before = []
    for verdict in by_zone:
        assert verdict.offer is not None
        old, price = _zone(verdict), verdict.offer.price
        new = zones.find(terms.shop.sender.postal_code, verdict.case.order.address.postal_code).zone or old
        before.append(price)
        if new != old:
            moved[old, new].append((price, price_at(verdict.case, after) or price))
    nothing = zero(terms.shop.policy.currency)
    moves = [_move(old, new, prices, nothing) for (old, new), prices in moved.items()]
    spent, more = sum(before, nothing), sum((move.after - move.before for move in moves), nothing)
    return ZoneEffect(
        pieces=len(by_zone),
        changed=sum(move.pieces for move in moves),
        farther=sum(move.pieces for move in moves if int(move.new) > int(move.old)),
        nearer=sum(move.pieces for move in moves if int(move.new) < int(move.old)),
        before=spent,
        after=spent + more,
        moves=tuple(sorted(moves, key=lambda move: (-move.pieces, move.old, move.new))),
    )


def _move(old: str, new: str, prices: Sequence[tuple[Money, Money]], nothing: Money) -> ZoneMove:
    before, after = zip(*prices, strict=True)
    return ZoneMove(old, new, len(prices), sum(before, nothing), sum(after, nothing))


def kind_of(verdict: Verdict) -> tuple[str, str, str, str]:
    """Return what makes pieces cost the same: mailer, billed weight, service, and zone or price group."""
    offer = verdict.offer
    assert offer is not None
    billed = f"{offer.billable.figure} {offer.billable.unit}"
    return verdict.case.mailer_name, billed, offer.service, offer.key


def _zone(verdict: Verdict) -> str:
    offer = verdict.offer
    return offer.key if offer is not None and offer.chart.keyed_by == "zone" else ""


def price_at(case: Case, terms: Terms) -> Money | None:
    """Return the postage of a piece under these terms; None where no service carries it."""
    offer = judge(case, terms).offer
    return offer.price if offer is not None else None


def _months(cases: Iterable[Case]) -> Decimal:
    """Return the months that the orders were placed in, at least one."""
    days = [case.order.placed for case in cases if case.order.placed is not None]
    span = (max(days) - min(days)).days + 1 if days else 1
    return max(Decimal(span) / DAYS_IN_MONTH, Decimal(1))


def _monthly(minor: int, months: Decimal, currency: str) -> Money:
    return Money(int((minor / months).to_integral_value()), currency)
