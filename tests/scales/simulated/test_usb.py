"""The virtual scale on USB: its reports are read by its own descriptor, and recorded like those of any scale."""

from decimal import Decimal

import pytest

from desk.domain.weight import Weight
from desk.scales.drivers.descriptor import common_layout, layout_of
from desk.scales.drivers.hid_report import decode
from desk.scales.find import FoundScale, HidPort, find_scales
from desk.scales.port import Link, LinkState, PortLostError, Trouble
from desk.scales.simulated.speech import USUAL_DESCRIPTOR, DisplayedValue, say_report
from desk.scales.simulated.usb import PATH, UsbScript, VirtualUsb, scripted_device
from tests.scales.usb_stage import UsbStage

SELECTORS = "0970 A102 1501 2508 7508 9501 1971 2978 8100 C0 0950 A102 1501 250C 1951 295C 8100 C0"
NUMBERS = "0941 1581 257F 7508 9501 8102 0940 1500 27FFFF0000 7510 9501 8102"
# Variants of the usual descriptor, HID 1.11 section 6.2.2 (from memory).
DESCRIPTORS = {
    "usual": USUAL_DESCRIPTOR,
    "usage 1, report 4": bytes.fromhex(f"058D 0901 A101 8504 {SELECTORS} {NUMBERS} C0"),
    "no report numbers": bytes.fromhex(f"058D 0920 A101 {SELECTORS} {NUMBERS} C0"),
    "page in two bytes": bytes.fromhex(f"068D00 0920 A101 8503 {SELECTORS} {NUMBERS} C0"),
    "count before the rest, in 32 bits": bytes.fromhex(
        f"058D 0920 A101 8503 0940 7520 9501 8102 0941 7508 8102 {SELECTORS} C0"
    ),
}
every = pytest.mark.parametrize("descriptor", DESCRIPTORS.values(), ids=DESCRIPTORS)


def test_the_usual_descriptor_has_the_common_layout():
    assert layout_of(USUAL_DESCRIPTOR) == common_layout(3)


# The bytes are rows H01, H03, H28, H32, H34 and H37 of tests/recordings/hid-reports.csv.
@pytest.mark.parametrize(
    ("word", "report"),
    [
        (DisplayedValue(Decimal("1.2"), "oz"), "03 04 0B FF 0C 00"),
        (DisplayedValue(Decimal("1.25"), "oz"), "03 04 0B FE 7D 00"),
        (DisplayedValue(Decimal("0.0"), "oz"), "03 02 0B FF 00 00"),
        (DisplayedValue(Decimal("0.0"), "oz", at_rest=False), "03 03 0B FF 00 00"),
        (DisplayedValue(Decimal("-0.5"), "oz"), "03 05 0B FF 05 00"),
        (DisplayedValue(Decimal("0.0"), "oz", over=True), "03 06 0B FF 00 00"),
        (DisplayedValue(Decimal(28), "g"), "03 04 02 00 1C 00"),
    ],
)
def test_the_bytes_match_the_standard(word, report):
    assert say_report(word, common_layout()) == bytes.fromhex(report)


@every
@pytest.mark.parametrize("value", ["0.0", "4.2", "15.9", "35.55", "-1.5", "1120"])
@pytest.mark.parametrize("at_rest", [True, False])
def test_every_report_is_read(descriptor, value, at_rest):
    layout = layout_of(descriptor)
    got = decode(say_report(DisplayedValue(Decimal(value), "oz", at_rest), layout), layout)
    state = "under_zero" if value[0] == "-" else "moving" if not at_rest else "zero" if value == "0.0" else "stable"
    assert (got.value, got.unit, str(got.state)) == (Decimal(value), "oz", state)


def test_a_descriptor_without_a_weight_is_not_a_scale():
    with pytest.raises(ValueError, match="no weight"):
        UsbScript(bytes.fromhex("0501 0906 A101 C0"))


def test_the_virtual_usb_scale_is_found_like_a_real_one():
    bus = UsbScript()
    assert find_scales(bus.enumerate, lambda _: True) == (FoundScale(PATH, "VIRTUAL", True),)
    bus.pull()
    assert find_scales(bus.enumerate, lambda _: True) == ()
    with pytest.raises(PortLostError) as lost:
        scripted_device(bus).open()
    assert lost.value.trouble is Trouble.ABSENT


def test_waiting_input_is_discarded_and_a_read_has_a_time_limit():
    bus = UsbScript()
    bus.send(b"\x03old")
    port = scripted_device(bus).open()
    assert (port.layout, port.read(0.001)) == (common_layout(), b"")
    bus.send(b"\x03new")
    assert port.read(0.001) == b"\x03new"
    port.close()


def test_unplugging_ends_an_open_handle_but_not_the_next_one():
    bus = UsbScript()
    port = scripted_device(bus).open()
    bus.pull()
    with pytest.raises(PortLostError) as lost:
        port.read(0.001)
    assert lost.value.trouble is Trouble.UNPLUGGED
    with pytest.raises(PortLostError):
        HidPort(PATH, bus)
    bus.send(b"\x03unheard")
    bus.plug()
    with pytest.raises(PortLostError):
        port.read(0.001)
    again = scripted_device(bus).open()
    bus.send(b"\x03heard")
    assert again.read(0.001) == b"\x03heard"


def test_unread_data_loses_its_newest_part():
    bus = UsbScript()
    port = scripted_device(bus).open()
    for number in range(68):
        bus.send(bytes([3, number]))
    assert [port.read(0.001)[1] for _ in range(63)] == list(
        range(63)
    )  # hidraw of Linux keeps a ring of 64, one free (from memory)
    assert port.read(0.001) == b""


def values(stage):
    return [(piece, shown.value) for piece, shown in stage.records]


@every
def test_from_bytes_to_a_recorded_weight(descriptor):
    stage = UsbStage(descriptor).play("wait 1").open_piece(7).play("place 4.26\nwait 2")
    ((piece, shown),) = stage.records
    assert (piece, shown.value, shown.division) == (7, Decimal("4.3"), Decimal("0.1"))
    assert shown.weight == Weight.of("4.3", "oz")
    stage.play("lift\nwait 1")
    assert stage.finished == [7]


def test_a_bouncing_item_gives_no_weight_before_it_is_still():
    stage = UsbStage().play("wait 1").open_piece(7)
    stage.play("place 4.2\nwait 0.4")
    assert stage.records == []
    assert stage.bench.live.state in ("moving", "settling")
    stage.play("wait 1")
    assert values(stage) == [(7, Decimal("4.2"))]


def test_a_trembling_hand_gives_no_weight_and_letting_go_gives_the_right_one():
    stage = UsbStage().play("wait 1").open_piece(7).play("place 4.2\nhand 3 1.5\nwait 2")
    assert values(stage)[-1] == (7, Decimal("4.2"))
    assert all(value == Decimal("4.2") for _, value in values(stage))


def test_an_unnoticed_swap_asks():
    stage = UsbStage().play("wait 1").open_piece(7).play("place 4.2\nwait 3").open_piece(8).play("swap 6.1\nwait 3")
    assert values(stage) == [(7, Decimal("4.2"))]
    assert stage.bench.live.asks
    assert stage.bench.take(stage.now)
    assert values(stage)[-1] == (8, Decimal("6.1"))


def test_unplugging_while_a_weight_settles_loses_and_duplicates_nothing():
    stage = UsbStage().play("wait 1").open_piece(7).play("place 4.2\nwait 0.3\npull 3")
    assert LinkState(Link.LOST, Trouble.UNPLUGGED) in stage.links
    assert stage.bench.live.words == ""
    stage.play("wait 2")
    assert values(stage) == [(7, Decimal("4.2"))]
    stage.play("pull 2\nwait 2")
    assert values(stage) == [(7, Decimal("4.2"))]


def test_overload_below_zero_and_another_unit_are_shown_but_not_recorded():
    stage = UsbStage().play("wait 1").open_piece(7).play("over 2")
    assert stage.bench.live.fault.startswith("This is more than the scale can weigh.")
    stage.play("place -2\nwait 3")
    assert stage.bench.live.fault.startswith("The scale was zeroed with something on it")
    stage.play("lift\nwait 1\nplace 4.2\nwait 0.2\nunit g\nwait 3")
    assert stage.records == []
    stage.play("lift\nwait 1\nplace 119\nwait 2")
    assert values(stage) == [(7, Decimal(119))]


def test_junk_and_partial_reports_give_no_weight():
    stage = UsbStage().play("wait 1").open_piece(7).play("split 3\nplace 4.2\nwait 3")
    assert stage.records == []
    assert UsbStage().play("junk 5\nwait 1").bench.live.words == "0.0 oz"


def test_under_manual_control_the_scale_plays_in_a_thread_and_ends():
    virtual = VirtualUsb(speed=20)
    port = virtual.device().open()
    virtual.send("what is this\nplace 4.2\nwait 1\n")
    layout, seen = virtual.script.layout, set()
    for _ in range(60):
        reading = decode(port.read(0.5), layout)
        seen.add(reading and reading.value)
        if Decimal("4.2") in seen:
            break
    assert {Decimal("0.0"), Decimal("4.2")} <= seen
    virtual.close()
    assert not virtual._thread.is_alive()
    assert virtual.script.enumerate() == []
