"""Units compared with published values: NIST conversion factors, the Mint's coins, ISO 4217 decimals.

Each row has its source and how it is known: read (in the source or a copy), computed (from read values by hand), memory
(from memory, to be checked in the source).
"""

from decimal import Decimal

import pytest
from babel.core import get_global

from desk.domain.length import Length, LengthUnit
from desk.domain.money import DECIMALS, decimals_of
from desk.domain.weight import GRAMS_IN, Weight, WeightUnit

HB44 = "NIST Handbook 44, Appendix C, General Tables of Units of Measurement"
MINT = "United States Mint, coin specifications (nominal masses of new coins)"

MASS_FACTORS = [
    (WeightUnit.OUNCE, "28.349523125", HB44, "memory"),
    (WeightUnit.POUND, "453.59237", HB44, "memory"),
    (WeightUnit.POUND_OUNCE, "28.349523125", HB44, "memory"),
    (WeightUnit.GRAM, "1", "SI", "memory"),
    (WeightUnit.KILOGRAM, "1000", "SI", "memory"),
]


@pytest.mark.parametrize(("unit", "grams", "source", "known_by"), MASS_FACTORS)
def test_units_have_the_published_grams(unit, grams, source, known_by):
    assert Weight.of(1, unit).grams == Decimal(grams), (source, known_by)


def test_every_unit_of_mass_is_checked():
    assert {unit for unit, *_ in MASS_FACTORS} == set(WeightUnit) == set(GRAMS_IN)


@pytest.mark.parametrize(
    ("value", "unit", "other", "other_unit", "source", "known_by"),
    [
        (1, "lb", 16, "oz", HB44, "memory"),
        (1, "lb", 7000 * Decimal("0.06479891"), "g", HB44 + ": pound of 7,000 grains, grain of 64.79891 mg", "memory"),
        (1, "oz", Decimal("437.5") * Decimal("0.06479891"), "g", HB44 + ": ounce of 437.5 grains", "memory"),
        (70, "lb", "31.7514659", "kg", HB44 + ": 70 times 0.45359237 kg", "computed"),
        (13, "oz", "368.543800625", "g", HB44 + ": 13 times 28.349523125 g", "computed"),
        ("3.5", "oz", "99.2233309375", "g", HB44 + ": 3.5 times 28.349523125 g", "computed"),
    ],
)
def test_pounds_and_ounces_equal_ounces(value, unit, other, other_unit, source, known_by):
    assert Weight.of(value, unit) == Weight.of(other, other_unit), (source, known_by)


@pytest.mark.parametrize(
    ("unit", "mm", "source", "known_by"),
    [(LengthUnit.INCH, "25.4", HB44, "memory"), (LengthUnit.MILLIMETER, "1", "SI", "memory")],
)
def test_units_have_the_published_millimeters(unit, mm, source, known_by):
    assert Length.of(1, unit).mm == Decimal(mm), (source, known_by)


CENT, NICKEL, DIME, QUARTER, HALF = "2.500", "5.000", "2.268", "5.670", "11.340"


@pytest.mark.parametrize(
    ("coins", "grams_each", "grams", "ounces", "source", "known_by"),
    [
        (10, QUARTER, "56.700", "2.0000", MINT, "read, ounces computed"),
        (40, QUARTER, "226.800", "8.0001", MINT, "read, ounces computed"),
        (80, QUARTER, "453.600", "16.0003", MINT, "read, ounces computed"),
        (5, HALF, "56.700", "2.0000", MINT, "read, ounces computed"),
        (25, DIME, "56.700", "2.0000", MINT, "read, ounces computed"),
        (20, NICKEL, "100.000", "3.5274", MINT, "read, ounces computed"),
        (1, NICKEL, "5.000", "0.1764", MINT, "read, ounces computed"),
        (1, CENT, "2.500", "0.0882", MINT + ", copper-plated zinc, 1982 or later", "read, ounces computed"),
    ],
)
def test_coins_weigh_what_the_mint_publishes(coins, grams_each, grams, ounces, source, known_by):
    """Coins check a scale: weights a worker can make without test weights."""
    pile = Weight.of(grams_each, "g") * coins

    assert pile == Weight.of(grams, "g"), (source, known_by)
    assert pile.ounces().quantize(Decimal("0.0001")) == Decimal(ounces), (source, known_by)


CLDR = "Unicode CLDR, currency fractions, as babel carries them"


@pytest.mark.parametrize("code", [*sorted(set(DECIMALS) - {"IQD"}), "USD", "EUR", "GBP", "CAD", "AUD", "CHF", "NOK"])
def test_currencies_have_the_decimals_of_iso_4217(code):
    """CLDR lists the currencies in use; for these, ISO 4217 decides."""
    fractions = get_global("currency_fractions")

    assert decimals_of(code) == fractions.get(code, fractions["DEFAULT"])[0], CLDR


def test_the_iraqi_dinar_has_the_decimals_of_iso_4217():
    """ISO 4217 lists three (from memory); the CLDR gives none, since no fils are in use."""
    assert decimals_of("IQD") == 3
