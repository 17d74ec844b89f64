"""From the form to the shop: units and currencies added, defaults for missing fields, too many decimals reported."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.shop.product import Restriction
from desk.domain.shop.shop import ExchangeRate, Policy, Shop, Untracked
from desk.domain.weight import Weight
from desk.intake.shop.shop_build import build_shop
from desk.intake.shop.shop_form_file import ShopTable

SENDER = {"name": "Ada", "address1": "1 Row", "city": "Bend", "region": "OR", "postal_code": "97701", "country": "US"}
Notes = list[tuple[tuple[str | int, ...], str, str]]


def built(**tables: Any) -> tuple[Shop, Notes]:
    notes: Notes = []
    shop = build_shop(
        ShopTable.model_validate({"sender": SENDER, **tables}), lambda *note: notes.append(note)  # type: ignore[arg-type]
    )  # fmt: skip
    return shop, notes


def test_a_sender_alone_makes_a_shop_with_defaults() -> None:
    shop, notes = built()
    assert (shop.sender.recipient, shop.sender.city, shop.policy, notes) == ("Ada", "Bend", Policy(), [])


def test_the_shops_currency_is_that_of_its_policy_and_stamps_are_in_the_post_s() -> None:
    shop, _ = built(
        policy={"currency": "EUR", "insert_cost": "0.05", "untracked": "45"},
        mailers=[{"name": "Box", "kind": "box", "pack_price": "20"}],
        stamps=[{"kind": "face", "value": "0.05", "count": 3}, {"kind": "forever", "count": 2}],
    )
    assert (shop.policy.insert_cost, shop.policy.label_cost) == (Money(5, "EUR"), Money(0, "EUR"))
    assert (shop.policy.untracked, shop.policy.untracked_up_to) == (Untracked.UP_TO, Money(4500, "EUR"))
    assert shop.mailers[0].pack_price == Money(2000, "EUR")
    assert [stamp.value for stamp in shop.stamps] == [Money(5, "USD"), None]


def test_services_not_listed_are_the_defaults_and_an_empty_list_stays_empty() -> None:
    assert built()[0].policy.parcel_services == Policy().parcel_services
    assert built(policy={"parcel_services": [], "intl_services": []})[0].policy.parcel_services == ()


@pytest.mark.parametrize(
    ("tables", "place", "found"),
    [
        ({"policy": {"insert_cost": "0.055"}}, ("policy", "insert_cost"), "0.055"),
        ({"policy": {"label_cost": "0.001"}}, ("policy", "label_cost"), "0.001"),
        ({"policy": {"untracked": "1.234"}}, ("policy", "untracked"), "1.234"),
        ({"mailers": [{"name": "A", "kind": "box", "pack_price": "1.999"}]}, ("mailers", 0, "pack_price"), "1.999"),
        ({"stamps": [{"kind": "face", "value": "0.055", "count": 1}]}, ("stamps", 0, "value"), "0.055"),
    ],
)
def test_an_amount_with_too_many_decimals_is_reported_at_its_position(
    tables: dict[str, Any], place: tuple[str | int, ...], found: str
) -> None:
    assert built(**tables)[1] == [(place, found, "an amount of USD with at most 2 decimals")]


def test_sizes_and_weights_have_the_given_unit() -> None:
    shop, _ = built(
        mailers=[
            {"name": "A", "kind": "box", "length": 230, "width": 160, "thickness": 8, "size_unit": "mm",
             "tare": "0.5", "tare_unit": "oz"},
            {"name": "B", "kind": "box"},
        ],
        products=[{"sku": "C", "unit_weight": 17, "weight_unit": "g", "thickness": "0.5", "size_unit": "in"}],
    )  # fmt: skip
    assert (shop.mailers[0].size, shop.mailers[0].tare) == (Size.of("230", "160", "8", "mm"), Weight.of("0.5", "oz"))
    assert (shop.mailers[1].size, shop.mailers[1].tare) == (None, None)
    assert (shop.products[0].unit_weight, shop.products[0].thickness) == (Weight(Decimal(17)), Length.of("0.5", "in"))


def test_choices_tax_numbers_and_exchange_rates_are_kept() -> None:
    shop, _ = built(
        choices={"tracked": ["ground-retail"]},
        tax_ids={"ioss": "IM0400000000", "voec": ""},
        rates={"XDR_USD": {"rate": "1.37276", "date": "2026-04-21"}},
    )
    assert dict(shop.choices) == {"tracked": ("ground-retail",)}
    assert dict(shop.tax_ids) == {"ioss": "IM0400000000"}
    (rate,) = shop.rates
    assert rate == ExchangeRate("XDR", "USD", Decimal("1.37276"), rate.on)


@pytest.mark.parametrize(
    ("given", "stiff", "paper", "overruled"),
    [
        ({"kind": "rigid"}, True, True, False),
        ({"kind": "rigid", "stiff": False}, False, True, True),
        ({"kind": "apparel"}, False, False, False),
        ({"kind": "apparel", "paper": True}, False, True, True),
        ({"kind": "padded"}, False, True, False),
        ({"kind": "padded", "stiff": True, "paper": False}, True, False, False),
    ],
)
def test_missing_fields_of_a_mailer_follow_from_its_kind(
    given: dict[str, Any], stiff: bool, paper: bool, overruled: bool
) -> None:
    """DMM 101.2.3 (rigid pieces pay as parcels) and 101.1.2 (an outside other than paper is nonmachinable)."""
    (mailer,) = built(mailers=[{"name": "One", **given}])[0].mailers
    assert (mailer.stiff, mailer.paper, mailer.overrules_kind) == (stiff, paper, overruled)


@pytest.mark.parametrize("given", ["flammable, magnet", ["magnet", "flammable"], "magnet+flammable"])
def test_a_product_may_hold_several_restricted_things(given: str | list[str]) -> None:
    (product,) = built(products=[{"name": "Kit", "restricted": given}])[0].products
    assert product.restricted == (Restriction.MAGNET, Restriction.FLAMMABLE)


def test_a_product_has_dimensions_in_one_unit_and_a_usual_mailer() -> None:
    given = {"name": "Kit", "length": "100", "width": "50", "size_unit": "mm", "usual_mailer": "Box"}
    (product,) = built(products=[given])[0].products
    assert (product.length, product.width, product.thickness) == (Length.of("100", "mm"), Length.of("50", "mm"), None)
    assert product.usual_mailer == "Box"
