from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.scales.step import step_seen


@pytest.mark.parametrize(
    ("step", "unit_step"), [("0.1", "0.1"), ("0.2", "0.2"), ("0.05", "0.05"), ("5", "5"), ("10", "10")]
)
def test_a_dozen_different_readings_show_the_step(step, unit_step):
    assert step_seen([Decimal(step) * count for count in range(20)]) == Decimal(unit_step)


def test_fewer_say_nothing():
    assert step_seen([Decimal("0.2") * count for count in range(12)] * 5) is None
    assert step_seen([]) is None


@given(st.sampled_from(["0.1", "0.2", "0.05", "1", "2"]), st.sets(st.integers(1, 400), min_size=12, max_size=40))
def test_every_reading_is_a_whole_count_of_it(step, counts):
    values = [Decimal(step) * count * (-1) ** count for count in counts]
    got = step_seen(values)
    assert all(value % got == 0 for value in values)
    assert got % Decimal(step) == 0
