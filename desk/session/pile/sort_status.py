"""Decide once whether all orders with a status are shipped, or set aside and skipped from now on."""

from __future__ import annotations

from dataclasses import replace

from desk.domain.orders.order_status import status_key
from desk.domain.shop.shop import Policy
from desk.domain.status import PieceStatus
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.sitting import Sitting
from desk.store.tables import pieces, shop


def sort_status(sitting: Sitting, status: str, *, ships: bool) -> None:
    """Save the decision in the shop's rules, as one step.

    If they are not shipped, the unpaid pieces of these orders are set aside too.
    """
    known = read_terms(sitting).shop
    key = status_key(status)
    alike = [
        stored.id
        for stored in read_stored(sitting)
        if status_key(stored.case.order.status) == key and not stored.case.postage_on and not stored.case.handed_over
    ]
    words = "shipped" if ships else "skipped"
    with sitting.store.act(f"Orders marked “{status}” are {words}") as tx:
        shop.save(tx, replace(known, policy=_sorted(known.policy, status, ships=ships)))
        if not ships:
            pieces.set_beside(tx, alike, PieceStatus.SET_ASIDE)
    sitting.announce(sitting.store.last_changes)


def _sorted(policy: Policy, status: str, *, ships: bool) -> Policy:
    """Return the policy with the status in one of its two lists only."""
    key = status_key(status)
    ship = tuple(one for one in policy.ship_status if status_key(one) != key)
    skip = tuple(one for one in policy.skip_status if status_key(one) != key)
    if ships:
        return replace(policy, ship_status=(*ship, status), skip_status=skip)
    return replace(policy, ship_status=ship, skip_status=(*skip, status))
