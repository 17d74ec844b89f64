"""What the bench acts on: a settled weight with what was shown, its flicker and its offset, or none."""

from decimal import Decimal

import pytest

from desk.domain.weight import Shown, WeightUnit
from desk.scales.pan import CaptureKind, Pan, SettledWeight
from desk.scales.units import DESK_UNITS, GRAMS

D = Decimal


def settled(value="1.2", unit="oz", **fields):
    return SettledWeight(D(value), unit, D("0.1"), CaptureKind.FIRST, 5.0, **fields)


@pytest.mark.parametrize("unit", sorted(DESK_UNITS))
def test_a_weight_in_a_supported_unit_is_recorded_as_shown(unit):
    assert settled("1.20", unit).shown() == Shown(D("1.20"), WeightUnit(unit), D("0.1"))
    assert str(settled("1.20", unit).shown().value) == "1.20"


@pytest.mark.parametrize("unit", [*sorted(set(GRAMS) - DESK_UNITS), "tael", ""])
def test_a_weight_in_another_unit_is_not_recorded(unit):
    assert settled("1.2", unit).shown() is None


@pytest.mark.parametrize(
    ("low", "high", "flickers"), [(None, None, False), (D("1.2"), D("1.2"), False), (D("1.2"), D("1.3"), True)]
)
def test_flicker_between_two_values_is_recorded_and_a_steady_value_is_not(low, high, flickers):
    one = settled("1.3", low=low, high=high)
    assert one.flickers == flickers
    assert (one.shown().low, one.shown().high) == ((low, high) if flickers else (None, None))


def test_the_empty_pan_reading_is_recorded():
    assert settled(offset=D("0.1")).shown().offset == D("0.1")
    assert settled().shown().offset == 0


def test_every_state_of_the_pan_has_its_own_words():
    assert len({str(state) for state in Pan}) == len(Pan)
    assert all(str(state) == str(state).lower() for state in (*Pan, *CaptureKind))
