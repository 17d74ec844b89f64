"""A status is sorted once: its orders ship, or are set aside and skipped from now on; one undo takes it back."""

from __future__ import annotations

from desk.domain.status import PieceStatus
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.pile import Pile
from desk.session.pile.sort_status import sort_status
from desk.session.sitting import Sitting
from desk.session.undo import undo
from tests.session import made
from tests.session.made import before_weighing


def unpaid(sitting: Sitting) -> Sitting:
    import_shop(sitting, made.shop())
    orders = [made.order("1", status="unpaid"), made.order("2", status="Unpaid!"), made.order("3", status="paid")]
    import_orders(sitting, orders)
    return sitting


def asked(sitting: Sitting) -> list[tuple[str, ...]]:
    things = before_weighing(sitting).things
    return [tuple(key.order for key in one.keys) for one in things if one.found.code == "status-unsorted"]


def test_each_unknown_status_is_asked_about_once_with_all_its_orders(sitting: Sitting) -> None:
    import_shop(sitting, made.shop())
    orders = [made.order(number, status=status) for number, status in (("1", "unpaid"), ("2", "hold"), ("3", "unpaid"))]
    import_orders(sitting, orders)
    assert asked(sitting) == [("1", "3"), ("2",)]


def test_orders_with_a_status_that_ships_are_not_asked_about_again(sitting: Sitting) -> None:
    sort_status(unpaid(sitting), "unpaid", ships=True)
    assert asked(sitting) == []
    assert {verdict.status for verdict in Pile(sitting).verdicts.values()} == {PieceStatus.TO_WEIGH}


def test_orders_with_a_status_that_does_not_ship_are_set_aside_in_any_spelling(sitting: Sitting) -> None:
    sort_status(unpaid(sitting), "unpaid", ships=False)
    pile = Pile(sitting)
    assert [verdict.status for verdict in pile.verdicts.values()] == [
        PieceStatus.SET_ASIDE,
        PieceStatus.SET_ASIDE,
        PieceStatus.TO_WEIGH,
    ]
    assert "unpaid" in pile.terms.shop.policy.skip_status


def test_the_last_decision_counts_and_one_undo_takes_it_back(sitting: Sitting) -> None:
    sort_status(unpaid(sitting), "unpaid", ships=False)
    sort_status(sitting, "UNPAID", ships=True)
    policy = Pile(sitting).terms.shop.policy
    assert "UNPAID" in policy.ship_status
    assert "unpaid" not in policy.skip_status
    undo(sitting)
    assert "unpaid" in Pile(sitting).terms.shop.policy.skip_status
