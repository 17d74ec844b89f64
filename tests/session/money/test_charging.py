"""What to charge: own orders or the catalog, by kind of package, and shipping for free."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.costs.charge_advice import FEWEST_ORDERS
from desk.domain.ledger import REPLACED, Entry
from desk.domain.money import Money
from desk.session.importing.import_orders import import_shop
from desk.session.money import charging as charging_module
from desk.session.money.catalog_costs import catalog_costs
from desk.session.money.charging import (
    ShippingCost,
    advise,
    free_shipping,
    items_of_orders,
    kind_of_package,
    overcharged,
    postage_now,
    shipping_costs,
)
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from tests.session import made
from tests.session.money.test_books import row


@pytest.mark.parametrize(
    ("zone", "country", "kind"),
    [
        ("1", "US", "zones 1 to 4"),
        ("4", "US", "zones 1 to 4"),
        ("5", "US", "zones 5 and 6"),
        ("6", "US", "zones 5 and 6"),
        ("7", "US", "zones 7 to 9"),
        ("9", "US", "zones 7 to 9"),
        ("", "US", "ground (retail)"),
        ("3", "FR", "price group 3"),
    ],
)
def test_packages_are_grouped_by_service_zone_and_country(zone: str, country: str, kind: str) -> None:
    assert kind_of_package("ground-retail", zone, country) == kind


def cost(number: int, paid: int = 500, group: str = "United States") -> ShippingCost:
    return ShippingCost(str(number), group, Money(400), Money(paid), "zones 1 to 4")


def test_free_shipping_raises_prices_by_the_average_cost_rounded_up() -> None:
    costs = [cost(1, 500), cost(2, 300), cost(3, 501)]
    free = free_shipping(costs, "United States", {"1": 2, "2": 1}, "USD")
    # 5.00 + 3.00 + 5.01 = 13.01 on 3 orders is 4.34 each; 8.00 on the 3 items known is 2.67 each
    assert (free.per_order, free.per_item) == (Money(434), Money(267))
    assert free.per_order.minor * 3 >= 1301
    assert free_shipping(costs, "United States", {}, "USD").per_item is None
    assert free_shipping(costs, "Other countries", {"1": 2}, "USD") is None


def test_free_shipping_adds_no_money_of_another_currency() -> None:
    yen = replace(cost(2), paid=Money(1500, "JPY"))
    assert free_shipping([yen, cost(1, 500)], "United States", {}, "USD").per_order == Money(500)
    assert free_shipping([yen], "United States", {}, "USD") is None


def test_a_refund_to_the_buyer_reduces_what_was_paid() -> None:
    rows = [row(Entry.SHIPPING_PAID, 900), row(Entry.POSTAGE_ESTIMATED, -400)]
    assert [one.order for one in overcharged(shipping_costs(rows), Money(499))] == ["1001"]
    rows.append(row(Entry.BUYER_REFUND, -300))
    assert overcharged(shipping_costs(rows), Money(200)) == []
    assert [one.order for one in overcharged(shipping_costs(rows), Money(199))] == ["1001"]


pytestmark = pytest.mark.stocked([made.order("1001", lines=(made.line(quantity=3), made.line(made.FOLDER)))])


def test_items_are_counted_by_order(sitting, pile) -> None:
    assert items_of_orders(sitting, ["1001", "gone"]) == {"1001": 4}


@pytest.mark.parametrize(("orders", "products"), [(0, 4), (FEWEST_ORDERS - 1, 4), (FEWEST_ORDERS, None)])
def test_with_fewer_than_thirty_orders_the_catalog_is_used(pile, orders: int, products: int | None) -> None:
    home = advise(pile, [cost(n) for n in range(orders)])[0]
    assert (home.advice.group, home.orders) == ("United States", orders)
    assert (home.products is None) is (products is None)
    if products is None:
        assert set(home.advice.costs) == {400}


def test_the_catalog_is_priced_to_every_zone_the_shop_can_reach(pile) -> None:
    found = catalog_costs(pile, abroad=False)
    parcels = {one.zone for one in found if one.product == "NB"}
    assert {"1", "2", "3", "4", "5", "6", "7", "8"} >= parcels
    assert len(parcels) >= 5
    letters = {one.cost for one in found if one.product == "CD"}
    assert len(letters) == 1  # a letter costs the same everywhere
    # a card of 17 g and an envelope of 8 g: a letter of 1 oz, 0.82, mailer 0.12, insert 0.04, label 0.03
    assert letters == {Money(82 + 12 + 4 + 3)}


def test_a_catalog_without_weights_gives_no_advice(sitting, pile) -> None:
    goods = tuple(replace(one, unit_weight=None) for one in made.shop().products)
    import_shop(sitting, made.shop(products=goods))
    pile.read_all()
    assert catalog_costs(pile, abroad=False) == []
    assert advise(pile, []) == []
    (few,) = advise(pile, [cost(1)])
    assert (few.orders, few.products) == (1, None)


def test_past_orders_are_converted_to_the_prices_in_force() -> None:
    """4.00 estimated then is 4.50 now: an order that really cost 4.20 would cost 4.70, with its materials 4.86."""
    rows = [
        row(Entry.SHIPPING_PAID, 500),
        row(Entry.POSTAGE_ESTIMATED, -400),
        row(Entry.MATERIALS, -16),
        row(Entry.POSTAGE_ESTIMATED, 400, why=REPLACED),
        row(Entry.POSTAGE_PAID, -420),
        row(Entry.SHIPPING_PAID, 500, 2),
        row(Entry.POSTAGE_ESTIMATED, -300, 2),
    ]
    found = {one.order: (one.cost.minor, one.is_repriced) for one in shipping_costs(rows, {1: Money(450)})}
    assert found == {"1001": (486, True), "1002": (300, False)}
    assert {one.order: one.cost.minor for one in shipping_costs(rows)} == {"1001": 436, "1002": 300}


def test_an_order_whose_hand_over_was_undone_is_left_out() -> None:
    entered = [row(Entry.SHIPPING_PAID, 500), row(Entry.POSTAGE_ESTIMATED, -400)]
    undone = [replace(one, amount=-one.amount) for one in entered]
    assert shipping_costs([*entered, *undone], {1: Money(450)}) == []
    (again,) = shipping_costs([*entered, *undone, *entered], {1: Money(450)})
    assert again.cost == Money(450)


def test_an_undone_estimate_does_not_move_the_cost() -> None:
    """6.00 was undone and 4.50 estimated again; it is 4.50 now too."""
    rows = [row(Entry.POSTAGE_ESTIMATED, cents) for cents in (-600, 600, -450)]
    (found,) = shipping_costs(rows, {1: Money(450)})
    assert found.cost == Money(450)


def test_current_postage_is_calculated_from_the_newest_mailed_pieces(sitting, pile, monkeypatch) -> None:
    made.weigh_piece(sitting, 1, made.weighing("0.7"))
    assert postage_now(pile) == {}
    put_stamps_on(sitting, pile, [1])
    hand_pieces_over(sitting, pile, [1])
    assert postage_now(pile) == {1: pile.verdicts[1].offer.price}
    monkeypatch.setattr(charging_module, "LATEST", 0)
    assert postage_now(pile) == {}
