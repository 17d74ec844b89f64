"""The settling machine on hand-made traces, at ten readings per second unless stated otherwise."""

import pytest

from desk.domain.weight import Shown, WeightUnit
from desk.scales.pan import CaptureKind, Pan, PanWasEmpty, SettledWeight, UnitChanged, UnsettledOffer
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.settling import Settling, StepRule
from tests.scales.settling_bench import TENTH, Bench, D, ready, words


def test_a_steady_weight_is_captured():
    bench = Bench()
    assert bench.machine.pan is Pan.NO_SIGNAL
    assert bench.hold(0, 0.5) == [PanWasEmpty(0.3)]
    assert (bench.machine.pan, bench.machine.armed) == (Pan.EMPTY, True)
    bench.show(20, 40, 45, state=State.MOVING)
    assert bench.machine.pan is Pan.LOAD_CHANGING
    got = bench.hold(42, 1.0)
    assert words(got) == [("first", D("4.2"))]
    assert got[0].at == pytest.approx(0.8 + 0.4)  # 0.4 s after the first stable reading
    assert got[0].shown() == Shown(D("4.2"), WeightUnit.OUNCE, D("0.1"))
    assert (bench.machine.pan, bench.machine.armed) == (Pan.CAPTURED, False)
    assert bench.hold(0, 0.5) == [PanWasEmpty(pytest.approx(bench.now - 0.5))]  # one light reading is enough


def test_a_scale_without_a_stable_flag_needs_a_second():
    bench = ready()
    begun = bench.now
    got = bench.hold(42, 2.0, State.NOT_TOLD)
    assert [event.at - begun for event in got] == [pytest.approx(1.0)]


def test_an_untrusted_flag_is_ignored():
    bench = ready(rule=StepRule(D("0.1"), "oz", trusts_flag=False))
    begun = bench.now
    got = bench.hold(42, 0.5, State.MOVING) + bench.hold(42, 1.5)
    assert [event.at - begun for event in got] == [pytest.approx(1.0)]


@pytest.mark.parametrize(("rate", "after"), [(5, 0.4), (4, 0.5), (2, 1.0)])
def test_at_least_three_readings_are_needed(rate, after):
    bench = Bench(rate=rate)
    bench.hold(0, 1.0)
    begun = bench.now
    got = bench.hold(42, 3.0)
    assert [event.at - begun for event in got] == [pytest.approx(after)]


def test_the_first_stable_flag_alone_gives_no_weight():
    bench = ready()
    assert words(bench.show(42, 42, 42, 42)) == []


def test_flicker_takes_the_most_frequent_value_or_the_heavier_on_a_tie():
    most, tie = ready(), ready()
    (most_event,) = most.show(42, 43, 42, 42, 42, 42, 42)
    assert (most_event.value, most_event.flickers, most_event.low, most_event.high) == (
        D("4.2"),
        True,
        D("4.2"),
        D("4.3"),
    )
    (tie_event,) = tie.show(*[42, 43] * 6, state=State.NOT_TOLD)
    assert tie_event.flickers
    even = ready(rate=5)
    (event,) = even.show(42, 43, 42, 43, 42, 43, state=State.NOT_TOLD)
    assert event.value == D("4.3")  # three of each in the window


def test_a_weight_moving_by_three_steps_never_settles_and_offers_the_heavier():
    bench = ready()
    got = bench.show(*[40, 43] * 35, state=State.NOT_TOLD)
    assert [type(event) for event in got] == [UnsettledOffer]
    assert (got[0].settled.value, got[0].settled.how) == (D("4.3"), CaptureKind.OFFERED)
    assert words(got) == []
    assert bench.machine.accept(bench.now).value == D("4.3")
    assert bench.machine.pan is Pan.CAPTURED
    assert bench.machine.accept(bench.now) is None


def test_an_offer_ends_when_the_pan_is_emptied():
    bench = ready()
    bench.show(*[40, 43] * 35, state=State.NOT_TOLD)
    assert [type(event) for event in bench.hold(0, 0.5)] == [PanWasEmpty]
    assert bench.machine.asked is None


def test_a_load_at_the_start_is_asked_about():
    bench = Bench()
    got = bench.hold(42, 3.0)
    assert words(got) == [("swapped", D("4.2"))]
    assert bench.machine.pan is Pan.SWAPPED_UNSEEN
    assert bench.machine.taken is None


def test_noise_does_not_repeat_the_question():
    bench = Bench()
    bench.hold(42, 1.0)
    assert words(bench.show(45, 42, 42, 42, 42, 42, 42, 42)) == []


@pytest.mark.parametrize(("tenths", "taken"), [(1, False), (2, False), (3, True)])
def test_the_smallest_load_is_three_steps(tenths, taken):
    assert bool(ready().hold(tenths, 2.0)) == taken


def test_an_empty_pan_off_zero_is_reported_and_recorded():
    bench = Bench()
    bench.hold(1, 0.5)
    assert (bench.machine.pan, bench.machine.armed) == (Pan.OFF_ZERO, True)
    assert bench.hold(42, 1.0)[0].offset == D("0.1")  # never subtracted: the value is as shown
    assert bench.settled[0].value == D("4.2")
    bench.empty()
    assert bench.hold(42, 1.0)[0].offset == 0


def test_zeroing_with_a_load_on_the_pan_stops_recording():
    """After removing an item the scale reads below zero, so the next item would read too light."""
    bench = ready()
    bench.hold(-35, 0.5)
    assert bench.machine.pan is Pan.EMPTY
    bench.hold(-35, 1.0)
    assert (bench.machine.pan, bench.machine.armed) == (Pan.BELOW_ZERO, False)
    assert words(bench.hold(20, 2.0)) == [("swapped", D("2.0"))]


def test_below_zero_is_recognized_without_a_number():
    bench = ready()
    bench.say(State.UNDER, 12)
    assert bench.machine.pan is Pan.BELOW_ZERO


def test_going_below_zero_briefly_does_not_stop_recording():
    bench = ready()
    bench.hold(42, 1.0)
    bench.show(-5, -3, 0, 0, 0, 0)
    assert (bench.machine.pan, bench.machine.armed) == (Pan.EMPTY, True)


def test_lifting_and_returning_is_marked_as_the_same():
    bench = ready()
    bench.hold(42, 1.0)
    bench.hold(0, 1.0)
    (again,) = bench.hold(43, 1.0)
    assert (again.how, again.same) == (CaptureKind.FIRST, True)
    bench.hold(0, 1.0)
    (other,) = bench.hold(45, 1.0)
    assert not other.same


def test_heavy_items_are_compared_by_percentage():
    bench = ready()
    bench.hold(6000, 1.0)
    bench.hold(0, 1.0)
    assert bench.hold(6017, 1.0)[0].same
    bench.hold(0, 1.0)
    assert not bench.hold(6040, 1.0)[0].same


def test_a_tenth_of_the_weight_counts_as_an_empty_pan():
    bench = ready()
    bench.hold(500, 1.0)
    assert bench.show(50) == [PanWasEmpty(bench.now - 0.1)]
    assert words(bench.hold(420, 1.0)) == [("first", D("42.0"))]
    not_lifted = ready()
    not_lifted.hold(500, 3.0)
    assert not_lifted.show(51) == []
    assert words(not_lifted.hold(420, 1.0)) == [("swapped", D("42.0"))]


def test_a_unit_key_stops_recording_until_the_pan_is_empty():
    bench = ready()
    bench.hold(42, 1.0)
    got = bench.hold(1190, 2.0, unit="g")
    assert got[0] == UnitChanged("g", pytest.approx(bench.now - 2.0))
    assert words(got) == [("swapped", D("119.0"))]
    assert PanWasEmpty in {type(event) for event in bench.hold(0, 0.5, unit="g")}
    assert words(bench.hold(1190, 1.0, unit="g")) == [("first", D("119.0"))]


def test_a_unit_key_forgets_how_far_off_zero_the_empty_pan_was():
    bench = Bench()
    bench.hold(1, 0.5)
    got = bench.hold(1190, 2.0, unit="g")
    assert [event.offset for event in got if isinstance(event, SettledWeight)] == [0]


def test_a_gap_in_the_readings_restarts_the_window():
    bench = ready()
    bench.show(42, 42, 42)
    bench.now += 0.8
    begun = bench.now
    (event,) = bench.hold(42, 1.0)
    assert event.at - begun == pytest.approx(0.4)


def test_silence_and_garbage_mean_no_signal():
    bench = ready()
    bench.hold(42, 0.3)
    assert bench.machine.tick(bench.now + 1.8) == ()
    assert bench.machine.pan is Pan.LOAD_SETTLING
    bench.machine.tick(bench.now + 2.0)
    assert bench.machine.pan is Pan.NO_SIGNAL
    rubbish = ready()
    rubbish.say(State.REFUSED, 25)
    assert rubbish.machine.pan is Pan.NO_SIGNAL
    fresh = Settling()
    fresh.tick(100.0)
    assert fresh.since == 0.0


@pytest.mark.parametrize(
    ("state", "pan"),
    [
        (State.OVER, Pan.OVER_LIMIT),
        (State.OVER_LIMIT, Pan.OVER_LIMIT),
        (State.NEEDS_ZERO, Pan.NEEDS_ZERO),
        (State.NEEDS_CALIBRATION, Pan.NEEDS_ZERO),
        (State.ZERO_ERROR, Pan.NEEDS_ZERO),
        (State.FAULT, Pan.SCALE_FAULT),
        (State.ERROR, Pan.SCALE_FAULT),
    ],
)
def test_a_fault_is_reported_and_gives_no_weight(state, pan):
    bench = ready()
    bench.hold(42, 0.3)
    assert bench.say(state, 10) == []
    assert bench.machine.pan is pan
    begun = bench.now
    (event,) = bench.hold(42, 1.0)
    assert event.at - begun == pytest.approx(0.4)


def test_a_moving_status_without_a_number_restarts_the_window():
    bench = ready()
    bench.hold(42, 0.3)
    bench.say(State.MOVING)
    assert bench.machine.pan is Pan.LOAD_CHANGING
    assert bench.show(42, 42, 42, 42) == []


@pytest.mark.parametrize(
    "reading", [Reading(D("4.2"), None, State.STABLE), shown_reading(D("4.2"), "tael", State.STABLE, b"")]
)
def test_a_reading_without_unit_or_grams_gives_no_weight(reading):
    """A missing number is neither zero nor guessed: such readings are skipped."""
    bench = ready()
    for _ in range(20):
        assert bench.feed(reading) == ()


def test_a_zero_status_with_a_load_gives_no_weight():
    assert ready().hold(42, 2.0, State.ZERO) == []


def test_an_unusual_unit_is_asked_about():
    bench = Bench()
    bench.hold(0, 0.5, unit="troy_oz")
    (event,) = bench.hold(42, 1.0, unit="troy_oz")
    assert (event.asks, event.shown()) == (True, None)


def test_without_a_known_step_the_last_decimal_is_the_step():
    machine = Settling()
    assert machine.step_of(shown_reading(D("4.25"), "oz", State.STABLE, b"")) == D("0.01")
    assert Settling(TENTH).step_of(shown_reading(D("119"), "g", State.STABLE, b"")) == 1
    assert machine.step_of(Reading(None, None, State.OVER)) == 1


def test_small_jitter_after_a_capture_changes_nothing():
    bench = ready()
    bench.hold(42, 1.0)
    assert words(bench.show(*[42, 43] * 20)) == []
    assert bench.machine.pan is Pan.CAPTURED
    assert bench.hold(42, 1.0, State.MOVING) == []
    assert bench.machine.pan is Pan.CAPTURED


def test_a_damaged_digit_does_not_settle():
    """One reading in three is wrong in a digit that still fits the line: no wrong weight is ever taken."""
    bench = ready()
    got = bench.show(*[42, 42, 92, 42, 42, 42, 12, 42, 42, 42, 42, 42])
    assert words(got) == [("first", D("4.2"))]
