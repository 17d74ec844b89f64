"""Which readings are too close to a limit: the worked table, and the class III tolerances.

Sources: NIST Handbook 44, section 2.20 Table 6 (row to 500 divisions from memory, acceptance figures at 1000, 3000 and
5000 agree with an engineering handbook of 1999); the table of readings is worked out from them by hand.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from desk.domain.weight import Weight
from desk.rates.doubt import doubt, tolerance_divisions
from desk.rates.posting import shown


@pytest.mark.parametrize(
    ("divisions", "maintenance"),
    [(10, 1), (500, 1), (501, 2), (2000, 2), (2001, 3), (3000, 3), (4000, 3), (4001, 5), (5000, 5)],
)
def test_class_three_maintenance_tolerance(divisions, maintenance):
    """NIST Handbook 44 section 2.20 Table 6; acceptance is half of it."""
    assert tolerance_divisions(shown(str(divisions), "g", "1")) == maintenance


# unit, step, share of the maintenance tolerance, readings too close to 1 oz, readings too close to 3.5 oz
TABLE = [
    ("oz", "0.1", "0", "1.0", "3.5"),
    ("oz", "0.1", "0.5", "1.0", "3.5"),
    ("oz", "0.1", "1", "0.9 1.0 1.1", "3.4 3.5 3.6"),
    ("oz", "0.05", "0", "1.00", "3.50"),
    ("oz", "0.05", "0.5", "1.00", "3.50"),
    ("oz", "0.05", "1", "0.95 1.00 1.05", "3.45 3.50 3.55"),
    ("oz", "0.2", "0", "1.0", ""),
    ("oz", "0.2", "0.5", "1.0", "3.4 3.6"),
    ("oz", "0.2", "1", "0.8 1.0 1.2", "3.4 3.6"),
    ("g", "1", "0", "28", "99"),
    ("g", "1", "0.5", "28 29", "99 100"),
    ("g", "1", "1", "27 28 29", "98 99 100"),
    ("lb", "0.01", "0", "0.06", "0.22"),
    ("lb", "0.01", "0.5", "0.06 0.07", "0.21 0.22"),
    ("lb", "0.01", "1", "0.05 0.06 0.07", "0.21 0.22 0.23"),
    ("g", "5", "0", "30", "100"),
    ("g", "5", "0.5", "25 30", "95 100"),
    ("g", "5", "1", "25 30 35", "95 100 105"),
    ("g", "0.1", "0", "28.3", "99.2"),
    ("g", "0.1", "0.5", "28.3 28.4", "99.1 99.2 99.3"),
    ("g", "0.1", "1", "28.2 28.3 28.4", "99.0 99.1 99.2 99.3 99.4"),
]


@pytest.mark.parametrize(("unit", "step", "share", "at_one", "at_three_and_a_half"), TABLE)
def test_readings_too_close_to_call(unit, step, share, at_one, at_three_and_a_half):
    for limit, expected in (("1", at_one), ("3.5", at_three_and_a_half)):
        assert _open_readings(unit, step, share, Weight.of(limit, "oz")) == [Decimal(each) for each in expected.split()]


def _open_readings(unit: str, step: str, share: str, limit: Weight) -> list[Decimal]:
    """Every reading of that scale around the limit which leaves it open."""
    middle = int(limit.in_unit(shown("1", unit, step).unit) / Decimal(step))
    readings = [Decimal(step) * count for count in range(max(middle - 12, 0), middle + 13)]
    return [reading for reading in readings if _is_open(reading, unit, step, share, limit)]


def _is_open(reading: Decimal, unit: str, step: str, share: str, limit: Weight) -> bool:
    seen = shown(str(reading), unit, step)
    found = doubt(seen, limit, tolerance_divisions(seen) * Decimal(share))
    return found.open_by_rounding or found.open_by_tolerance
