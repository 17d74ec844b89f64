"""What to sort out before weighing: addresses, shared addresses, requests for stamps, unknown products.

Each thing is a finding or a reason with its pieces, so that sentences stay in one place. Only unweighed pieces are
considered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from desk.customs.addresses import LONGEST_UNWRAPPED, check_address
from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.domain.status import PieceStatus
from desk.intake.columns.resemblance import resembling
from desk.session.pile.forecast import Contents, Forecast, Foresight, forecast, foreseen, usual_mailers
from desk.session.pile.together import as_one, door, unlike
from desk.session.verdict.case import Case, unsorted_of
from desk.session.verdict.stamp_request import asks_for_stamp
from desk.session.verdict.verdict import Terms, Verdict

DOOR, STAMP = Code.SAME_DOOR, Code.STAMP_ASKED


@dataclass(frozen=True, slots=True)
class ThingToSortOut:
    """One thing to sort out. `keys` are its pieces: for a shared address, those `pack_together` would take.

    `resembles` are products an unknown one may be; `saved` is the postage saved by sending together, None when a weight
    is unknown.
    """

    found: Finding
    keys: tuple[PieceKey, ...]
    resembles: tuple[Product, ...] = ()
    saved: Money | None = None


@dataclass(frozen=True, slots=True)
class BeforeWeighing:
    """Everything to sort out, addresses first, and a forecast of the batch."""

    things: tuple[ThingToSortOut, ...]
    forecast: Forecast


def look_ahead(
    verdicts: Iterable[Verdict], terms: Terms, foresight: Foresight | None = None, before: Iterable[Case] = ()
) -> BeforeWeighing:
    """Return what to sort out for existing verdicts.

    `foresight` has what past weighings taught; `before` are pieces weighed earlier and not here any more.
    """
    known, before = tuple(verdicts), tuple(before)
    waiting = [verdict.case for verdict in known if verdict.status is PieceStatus.TO_WEIGH]
    usual = usual_mailers(chain(before, (verdict.case for verdict in known)))
    things = (
        *_unsorted(waiting, terms.shop),
        *_addresses(waiting),
        *_doors(waiting, terms, usual),
        *_stamps(waiting, terms.shop),
        *_products(waiting, terms.shop),
    )
    return BeforeWeighing(things, forecast(known, terms, foresight, before))


def _unsorted(waiting: Sequence[Case], shop: Shop) -> Iterator[ThingToSortOut]:
    """Return each undecided status and shipping choice once, with all its pieces."""
    keys: dict[tuple[object, ...], list[PieceKey]] = {}
    first: dict[tuple[object, ...], Finding] = {}
    for case in waiting:
        for issue in unsorted_of(case.order, shop):
            first.setdefault(_issue_key(issue), issue)
            keys.setdefault(_issue_key(issue), []).append(case.key)
    yield from (ThingToSortOut(issue, tuple(keys[cause])) for cause, issue in first.items())


def _addresses(waiting: Sequence[Case]) -> Iterator[ThingToSortOut]:
    """Return the address findings, once per order, including those corrected on import."""
    for case in waiting:
        if case.key.piece == 1:
            issues = (*check_address(case.order.address, LONGEST_UNWRAPPED), *case.order.findings)
            yield from (ThingToSortOut(one, (case.key,)) for one in {_issue_key(one): one for one in issues}.values())


def _issue_key(issue: Finding) -> tuple[object, ...]:
    return (issue.code, *sorted(issue.facts.items()))


def _doors(waiting: Sequence[Case], terms: Terms, usual: Mapping[Contents, str]) -> Iterator[ThingToSortOut]:
    by_door: dict[tuple[str, ...], list[Case]] = {}
    for case in waiting:
        if case.pieces_in_order == 1 and (place := door(case.order.address)):
            by_door.setdefault(place, []).append(case)
    for cases in by_door.values():
        if len(cases) > 1 and not unlike([case.order for case in cases]):
            saved = postage_saved(cases, terms, usual)
            numbers = tuple(case.key.order for case in cases)
            gained = saved is not None and saved.minor > 0
            money = {"saved": saved.text(), "currency": saved.currency} if saved and gained else {"saved": ""}
            issue = reason(DOOR, orders=numbers, **money)
            yield ThingToSortOut(issue, tuple(case.key for case in cases), saved=saved)


def postage_saved(cases: Sequence[Case], terms: Terms, usual: Mapping[Contents, str]) -> Money | None:
    """Return the postage saved by sending these together, as far as weights are known; None when unknown."""
    both = Case(key=cases[0].key, order=as_one(cases[0].order, [case.order for case in cases[1:]]))
    prices = [_price(case, terms, usual) for case in (*cases, both)]
    known = [price for price in prices if price is not None]
    return sum(known[1:-1], known[0]) - known[-1] if len(known) == len(prices) else None


def _price(case: Case, terms: Terms, usual: Mapping[Contents, str]) -> Money | None:
    verdict = foreseen(case, terms, usual)
    return verdict.offer.price if verdict and verdict.offer else None


def _stamps(waiting: Sequence[Case], shop: Shop) -> Iterator[ThingToSortOut]:
    for case in waiting:
        if case.key.piece == 1 and asks_for_stamp(case.order.buyer_note, shop.policy.stamp_request_phrases):
            yield ThingToSortOut(reason(STAMP, order=case.key.order, note=case.order.buyer_note), (case.key,))


def _products(waiting: Sequence[Case], shop: Shop) -> Iterator[ThingToSortOut]:
    """Return each unknown product once, with its pieces and the products it resembles by SKU or name."""
    unknown: dict[tuple[str, str], list[PieceKey]] = {}
    for case in waiting:
        for line in case.order.lines:
            if (line.item or line.sku) and shop.product_for(line) is None:
                unknown.setdefault((line.item, line.sku), []).append(case.key)
    for (item, sku), keys in unknown.items():
        issue = finding(Code.PRODUCT_UNKNOWN, items=(item or sku,))
        yield ThingToSortOut(issue, tuple(dict.fromkeys(keys)), resembles=alike(item, sku, shop))


def alike(item: str, sku: str, shop: Shop) -> tuple[Product, ...]:
    """Return the products an order line may mean, most similar first: by SKU, then by name."""
    by_sku = {product.sku: product for product in shop.products if product.sku}
    by_name = {product.name: product for product in shop.products if product.name}
    near = [by_sku[name] for name in (resembling(sku, by_sku) if sku else ())]
    near += [by_name[name] for name in (resembling(item, by_name) if item else ())]
    return tuple({id(product): product for product in near}.values())
