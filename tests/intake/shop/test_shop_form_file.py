"""The form of a shop file: what each kind of field accepts, and the message for what it refuses."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from pydantic import ValidationError

from desk.domain.shop.mailer import MailerKind
from desk.domain.weight import Weight
from desk.intake.columns.amounts import NotRead
from desk.intake.shop.shop_form_file import MailerTable, PolicyTable, ProductTable, ShopTable, Table

SENDER = {"name": "Ada", "address1": "1 Row", "city": "Bend", "region": "OR", "postal_code": "97701", "country": "us"}


def refused(table: type[Table], values: dict[str, Any]) -> str:
    with pytest.raises((ValidationError, NotRead)) as raised:
        table.model_validate(values)
    return str(raised.value)


def test_a_sender_alone_is_a_complete_file() -> None:
    form = ShopTable.model_validate({"sender": SENDER})
    assert (form.sender.country, form.policy.currency) == ("US", "USD")
    assert (form.mailers, form.products, form.stamps) == ((), (), ())


@pytest.mark.parametrize(
    ("value", "read"),
    [("always", "always"), ("asked", "asked"), ("45.00", Decimal("45.00")), (45, Decimal(45)), (0, Decimal(0))],
)
def test_untracked_is_a_word_or_an_amount(value: object, read: object) -> None:
    assert PolicyTable.model_validate({"untracked": value}).untracked == read


@pytest.mark.parametrize("value", ["sometimes", -1, True, None, [], Decimal("NaN")])
def test_untracked_accepts_nothing_else(value: object) -> None:
    assert '"always", "asked", or an order value such as "45.00"' in refused(PolicyTable, {"untracked": value})


@pytest.mark.parametrize("value", ["3 g", "3g", " 3 G ", "0.003 kg"])
def test_a_weight_may_contain_its_unit(value: str) -> None:
    assert PolicyTable.model_validate({"label_weight": value}).label_weight == Weight(Decimal(3))


@pytest.mark.parametrize("value", ["3", 3, "g", "3 stone", "-3 g", "1 lb 2 oz", True])
def test_a_weight_without_a_unit_is_refused(value: object) -> None:
    assert 'a weight with its unit, such as "3 g"' in refused(PolicyTable, {"label_weight": value})


@pytest.mark.parametrize(("value", "read"), [("4.20", "4.20"), (4, "4"), (Decimal("4.2"), "4.2")])
def test_numbers_may_be_quoted_and_stay_exact(value: object, read: str) -> None:
    box = MailerTable.model_validate({"name": "Box", "kind": "box", "pack_price": value})
    assert (str(box.pack_price), box.kind) == (read, MailerKind.BOX)


@pytest.mark.parametrize("value", [True, "x", [], Decimal("Infinity"), -1])
def test_a_text_that_is_not_an_amount_is_refused(value: object) -> None:
    assert "a number" in refused(MailerTable, {"name": "Box", "kind": "box", "pack_price": value})


@pytest.mark.parametrize(
    ("table", "values", "raised"),
    [
        (MailerTable, {"name": "", "kind": "box"}, "name"),
        (MailerTable, {"name": "Box", "kind": "sack"}, "one of envelope, flat, padded, rigid"),
        (MailerTable, {"name": "Box", "kind": "box", "stiff": "yes"}, "stiff"),
        (MailerTable, {"name": "Box", "kind": "box", "colour": "red"}, "colour"),
        (ProductTable, {"sku": "A", "origin": "USA"}, 'a country code of two letters, such as "US"'),
        (ProductTable, {"sku": "A", "restricted": "fire"}, "one of magnet, battery, flammable, aerosol"),
        (PolicyTable, {"currency": 7}, 'a currency code in quotes, such as "USD"'),
        (PolicyTable, {"letter_postage": "free"}, "one of stamped, metered"),
        (PolicyTable, {"parcel_services": "ground-retail"}, "parcel_services"),
        (ShopTable, {"sender": SENDER, "shop": {}}, "shop"),
        (ShopTable, {}, "sender"),
    ],
)
def test_a_wrong_field_is_named_with_what_is_expected(table: type[Table], values: dict[str, Any], raised: str) -> None:
    assert raised in refused(table, values)


def test_the_date_of_a_rate_may_be_quoted_or_not() -> None:
    for on in (date(2026, 4, 21), "2026-04-21"):
        form = ShopTable.model_validate({"sender": SENDER, "rates": {"XDR_USD": {"rate": "1.37276", "date": on}}})
        assert (form.rates["XDR_USD"].rate, form.rates["XDR_USD"].date) == (Decimal("1.37276"), date(2026, 4, 21))


def test_a_parsed_shop_file_cannot_be_changed() -> None:
    form = ShopTable.model_validate({"sender": SENDER})
    with pytest.raises(ValidationError):
        form.sender.name = "Eve"  # type: ignore[misc]
