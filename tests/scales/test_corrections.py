"""What changes a recorded weight: a hand letting go, a display that settles nearby, a swap."""

import pytest

from desk.scales.pan import Pan
from desk.scales.settling import StepRule
from tests.scales.settling_bench import D, ready, words


def test_a_hand_letting_go_gives_one_weight_and_one_correction():
    bench = ready()
    got = bench.hold(50, 1.0) + bench.show(48, 45, 43) + bench.hold(42, 1.0)
    assert words(got) == [("first", D("5.0")), ("corrected", D("4.2"))]
    assert bench.machine.taken.value == D("4.2")


def test_adding_an_item_to_the_pan_is_a_correction():
    bench = ready()
    got = bench.hold(20, 0.8) + bench.show(45, 41) + bench.hold(40, 1.0)
    assert words(got) == [("first", D("2.0")), ("corrected", D("4.0"))]


@pytest.mark.parametrize("after", [43, 41])
def test_a_display_settling_near_the_recorded_weight_corrects_it(after):
    """A hand that lifts or presses by a step and lets go: the same item, with a better weight."""
    bench = ready()
    got = bench.hold(42, 0.6) + bench.hold(after, 0.8)
    assert words(got) == [("first", D("4.2")), ("corrected", D(after) / 10)]
    assert words(bench.hold(after, 1.0) + bench.hold(42, 1.0)) == []  # back again, too late for a hand


def test_a_display_still_showing_the_recorded_weight_does_not_correct_it():
    bench = ready()
    got = bench.hold(42, 0.6) + bench.show(*[43, 42] * 10)
    assert words(got) == [("first", D("4.2"))]


def test_a_change_after_two_seconds_is_drift_and_not_a_hand():
    bench = ready()
    got = bench.hold(42, 2.5) + bench.hold(43, 3.0)
    assert words(got) == [("first", D("4.2"))]
    assert bench.machine.taken.value == D("4.2")


def test_a_slowly_changing_weight_is_corrected_for_two_seconds_in_total():
    bench = ready()
    got = [event for tenths in range(42, 52) for event in bench.hold(tenths, 0.6)]
    assert words(got)[:4] == [
        ("first", D("4.2")),
        ("corrected", D("4.3")),
        ("corrected", D("4.4")),
        ("corrected", D("4.5")),
    ]
    assert [how for how, _ in words(got)[4:]] == ["swapped"] * len(words(got)[4:])


def test_without_a_stable_flag_the_longer_window_is_used():
    bench = ready(rule=StepRule(D("0.1"), "oz", trusts_flag=False))
    got = bench.hold(42, 1.2) + bench.hold(43, 0.9)
    assert words(got) == [("first", D("4.2"))]
    assert words(bench.hold(43, 0.3)) == [("corrected", D("4.3"))]


def test_a_swap_is_not_a_correction():
    """The readings between them were outside both ranges, so something was removed in between."""
    bench = ready()
    got = bench.hold(50, 0.8) + bench.show(30, 20) + bench.hold(42, 1.0)
    assert words(got) == [("first", D("5.0")), ("swapped", D("4.2"))]


def test_a_change_within_two_seconds_is_a_correction_and_a_later_one_is_asked_about():
    bench = ready()
    got = bench.hold(50, 3.0) + bench.hold(42, 1.0)
    assert words(got) == [("first", D("5.0")), ("swapped", D("4.2"))]


def test_an_unnoticed_swap_asks_and_may_be_accepted():
    bench = ready()
    bench.hold(50, 3.0)
    bench.hold(80, 1.0)
    assert bench.machine.pan is Pan.SWAPPED_UNSEEN
    assert bench.machine.accept(bench.now).value == D("8.0")
    assert (bench.machine.pan, bench.machine.taken.value) == (Pan.CAPTURED, D("8.0"))
    assert words(bench.hold(80, 2.0)) == []


def test_returning_to_the_recorded_weight_is_reported_as_the_same():
    bench = ready()
    bench.hold(50, 3.0)
    assert words(bench.hold(80, 1.0) + bench.hold(50, 1.0)) == [("swapped", D("8.0")), ("again", D("5.0"))]
    assert bench.machine.asked is None
