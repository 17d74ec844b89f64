"""Shared by the customs tests: the shipped tables, and a plain parcel to vary."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from desk.customs.destinations import Destinations
from desk.customs.goods import Goods
from desk.customs.hs_codes import HsCodes
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Weight

RESOURCES = Path(__file__).parents[2] / "resources"
TODAY = date(2026, 11, 25)
XDR = ExchangeRate("XDR", "USD", Decimal("1.37276"), date(2026, 11, 20))
EUR = ExchangeRate("EUR", "USD", Decimal("1.10"), date(2026, 11, 20))


@pytest.fixture(scope="session")
def destinations() -> Destinations:
    return Destinations.read(RESOURCES / "destinations")


@pytest.fixture(scope="session")
def codes() -> HsCodes:
    return HsCodes.read(RESOURCES / "goods")


def usd(amount: str) -> Money:
    return Money.of(amount)


def grams(number: str) -> Weight:
    return Weight.of(number, "g")


def goods(**changes: object) -> Goods:
    """Return a faultless line of notebooks, with changes."""
    plain: dict[str, object] = {
        "item": "Pocket notebook",
        "words": "Bound paper notebook, lined, 120 pages",
        "quantity": 1,
        "value": usd("18.00"),
        "unit_net": grams("150"),
        "hs": "482010",
        "hs_edition": "HS 2022",
        "origin": "US",
    }
    return Goods(**{**plain, **changes})  # type: ignore[arg-type]


def address(country: str, **changes: str) -> Address:
    """Return an invented buyer abroad."""
    plain = {"recipient": "Wilma Tern", "address1": "Kapitalbandweg 3", "city": "Altstadt", "postal_code": "10115"}
    return Address(country=country, **{**plain, **changes})
