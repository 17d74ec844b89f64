"""Every fault of a scale is a sentence with a way out, held back for a second, and gone with the fault."""

from decimal import Decimal

import pytest

from desk.scales.pan import Pan
from desk.scales.port import Link, LinkState, Trouble
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.tray import Tray
from desk.scales.units import DESK_UNITS, HID_UNITS
from desk.session.words.scale import NO_SCALE, TROUBLES, WORDS
from tests.session.scale.test_at_the_scale import LIVE, Bench

WAYS_OUT = ("press", "turn", "plug", "close", "type", "switch", "setup", "calibrated", "take it", "put the tray")
WELL = (Pan.EMPTY, Pan.LOAD_CHANGING, Pan.LOAD_SETTLING, Pan.CAPTURED, Pan.SWAPPED_UNSEEN)


def tell(bench, reading, seconds):
    """Let the scale say the same for so long."""
    for _ in range(round(seconds / 0.1)):
        bench.now += 0.1
        bench.at.hear((bench.now, reading), bench.now)
    return bench.at.live


def wordless(state, unit=None):
    return Reading(None, unit, state)


FAULTS = {
    "overload in a line": (wordless(State.OVER, "oz"), "more than the scale can weigh"),
    "overload over USB": (wordless(State.OVER_LIMIT), "more than the scale can weigh"),
    "below zero": (shown_reading(Decimal("-1.5"), "oz", State.STABLE, b""), "zeroed with something on it"),
    "under, without a number": (wordless(State.UNDER), "zeroed with something on it"),
    "needs zero": (wordless(State.NEEDS_ZERO), "press its zero key"),
    "zero error": (wordless(State.ZERO_ERROR), "press its zero key"),
    "needs calibration": (wordless(State.NEEDS_CALIBRATION), "needs calibration"),
    "fault": (wordless(State.FAULT), "Turn it off and on"),
    "carat": (shown_reading(Decimal(170), "carat", State.STABLE, b""), "shows carats"),
    "troy ounce": (shown_reading(Decimal("0.91"), "troy_oz", State.STABLE, b""), "shows troy ounces"),
    "tael": (shown_reading(Decimal("1.2"), "tael", State.STABLE, b""), "shows taels"),
    "net": (shown_reading(Decimal("3.0"), "oz", State.STABLE, b"", net=True), "net weight"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_of_the_scale_is_on_the_strip_after_two_seconds(name):
    reading, words = FAULTS[name]
    live = tell(Bench().show("0"), reading, 2.2)
    assert words in live.fault
    assert live.is_faulty is not live.asks
    assert any(way in live.fault.lower() for way in WAYS_OUT)


@pytest.mark.parametrize("name", FAULTS)
def test_readings_with_a_fault_are_never_recorded_automatically(name):
    bench = Bench().show("0").open(7)
    tell(bench, FAULTS[name][0], 3)
    assert bench.records == []


@pytest.mark.parametrize("trouble", [trouble for trouble in Trouble if trouble])
def test_a_connection_fault_is_on_the_strip_after_a_second(trouble):
    bench = Bench().show("0")
    bench.at.hear(LinkState(Link.LOST, trouble), bench.now)
    assert (bench.at.live.fault, bench.at.live.is_faulty) == ("", True)
    bench.at.tick(bench.now + 0.9)
    assert bench.at.live.fault == ""
    bench.at.tick(bench.now + 1.1)
    assert bench.at.live.fault == TROUBLES[trouble]
    assert any(way in TROUBLES[trouble].lower() for way in WAYS_OUT)


def test_a_short_fault_is_never_shown_and_a_long_one_disappears_at_once():
    bench = Bench().show("0")
    tell(bench, FAULTS["needs zero"][0], 0.8)
    assert [live.fault for _, live in bench.told if live.fault] == []
    tell(bench, FAULTS["needs zero"][0], 1.5)
    assert bench.at.live.fault
    bench.show("0", 0.4)
    assert bench.at.live.fault == ""


def test_another_fault_has_its_own_delay():
    bench = Bench().show("0")
    tell(bench, FAULTS["needs zero"][0], 2)
    assert tell(bench, FAULTS["overload over USB"][0], 0.5).fault == ""


def test_a_silent_scale_is_on_the_strip():
    bench = Bench().show("0")
    bench.at.tick(bench.now + 2.5)
    bench.at.tick(bench.now + 3.6)
    assert bench.at.live.fault.startswith("The scale is silent. Turn it on")


def test_without_a_scale_there_is_no_fault():
    bench = Bench()
    bench.at.hear(LinkState(Link.CLOSED), 0.0)
    bench.at.tick(5.0)
    assert (bench.at.live.says, bench.at.live.fault) == (NO_SCALE, "")


def test_an_empty_pan_off_zero_is_reported_after_three_seconds():
    bench = Bench().show("0.1", 2.5)
    assert (bench.at.live.state, bench.at.live.says) == ("not at zero", "")
    bench.show("0.1", 2.5)
    assert "zero key" in bench.at.live.fault


def test_after_a_lost_cable_it_continues_and_captures_the_weight_once():
    bench = Bench().show("0").open(7).show("4.2", 0.3)
    bench.at.hear(LinkState(Link.LOST, Trouble.UNPLUGGED), bench.now)
    assert bench.at.live.words == ""
    bench.now += 5
    bench.at.hear(LIVE, bench.now)
    bench.show("4.2", 2)
    assert bench.records == [(7, "4.2", True)]
    bench.at.hear(LinkState(Link.LOST, Trouble.UNPLUGGED), bench.now)
    bench.now += 5
    bench.at.hear(LIVE, bench.now)
    bench.show("4.2", 2)
    assert bench.records == [(7, "4.2", True)]


def test_every_fault_state_says_what_to_do():
    assert {pan for pan in WORDS if not WORDS[pan][2]} == set(WELL)
    for pan in set(WORDS) - set(WELL):
        assert any(way in WORDS[pan][2].lower() for way in (*WAYS_OUT, "typed")), pan


@pytest.mark.parametrize("unit", sorted(set(HID_UNITS) - DESK_UNITS))
def test_every_unsupported_unit_has_a_name(unit):
    live = tell(Bench().show("0"), shown_reading(Decimal(5), unit, State.STABLE, b""), 2.2)
    assert live.fault.startswith("The scale shows ")
    assert unit == "carat" or unit not in live.fault.split(".")[0].split(" ")[3:]


def test_a_net_weight_can_be_accepted_with_a_click():
    bench = Bench().show("0").open(7)
    net = FAULTS["net"][0]
    live = tell(bench, net, 2)
    assert (live.asks, live.is_faulty) == (True, False)
    assert "net weight" in live.says
    assert bench.at.take(bench.now)
    assert bench.records == [(7, "3.0", True)]


class TestTray:
    """A tray of 3.2 oz that always stays on."""

    def bench(self):
        bench = Bench()
        bench.at.settle_by(bench.at._following.settling.rule, Tray(Decimal("3.2"), "oz"))
        return bench

    def test_the_tray_is_subtracted_and_this_is_shown(self):
        bench = self.bench().show("3.2").open(7).show("7.4")
        assert bench.records == [(7, "4.2", True)]
        assert bench.at.live.step == "0.1 oz, less tray 3.2 oz"

    def test_the_tray_alone_is_an_empty_pan(self):
        bench = self.bench().show("3.2").open(7).show("7.4").show("3.2")
        assert (bench.at.live.state, bench.finished) == ("empty", [7])

    def test_a_missing_tray_is_reported(self):
        bench = self.bench().show("3.2").show("0", 2.5)
        assert "Put it back" in bench.at.live.fault

    def test_a_tray_in_another_unit_gives_no_weight(self):
        bench = self.bench().show("3.2").open(7).show("210", 2.5, unit="g")
        assert bench.records == []
        assert "weighed in another unit" in bench.at.live.fault
