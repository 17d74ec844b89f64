"""The two kinds of device: how they are opened, which requests they get, and what reads them."""

from types import SimpleNamespace

import pytest

from desk.scales.devices import serial_device, usb_device
from desk.scales.drivers.decoders import LineDecoder, ReportDecoder
from desk.scales.drivers.descriptor import common_layout
from desk.scales.drivers.presets import PRESETS
from desk.scales.port import PortLostError, SerialSettings, Trouble


@pytest.mark.parametrize("name", PRESETS)
def test_a_serial_scale_gets_the_request_of_its_protocol(name):
    device = serial_device(SerialSettings("/dev/none"), PRESETS[name])
    assert (device.request, device.asks_every_s) == (PRESETS[name].request, PRESETS[name].asks_every_s)
    assert isinstance(device.decoder(None), LineDecoder)


def test_a_serial_scale_is_opened_only_when_needed(tmp_path):
    device = serial_device(SerialSettings(str(tmp_path / "none")), PRESETS["stable-letter"])
    with pytest.raises(PortLostError):
        device.open()


def found(*scales):
    return lambda: tuple(SimpleNamespace(serial=serial, path=path) for serial, path in scales)


@pytest.mark.parametrize(
    ("wanted", "scales", "path"),
    [
        ("", [("A", b"1"), ("B", b"2")], b"1"),
        ("B", [("A", b"1"), ("B", b"2")], b"2"),
        ("C", [("A", b"1"), ("B", b"2")], b"1"),  # another scale in its place
        ("", [("", b"1")], b"1"),
    ],
)
def test_the_usb_scale_with_the_chosen_serial_number_or_the_first_is_used(wanted, scales, path):
    opened = []
    usb_device(wanted, found(*scales), opened.append).open()
    assert opened == [path]


def test_a_missing_usb_scale_is_reported_as_absent():
    with pytest.raises(PortLostError) as lost:
        usb_device("A", found()).open()
    assert lost.value.trouble is Trouble.ABSENT


def test_usb_scales_are_searched_for_at_each_opening():
    there = [("A", b"1")]
    opened = []
    device = usb_device(
        "", lambda: tuple(SimpleNamespace(serial=text, path=path) for text, path in there), opened.append
    )
    device.open()
    there[:] = [("A", b"9")]
    device.open()
    assert opened == [b"1", b"9"]


def test_reports_have_the_layout_of_the_port_or_the_common_one():
    device = usb_device("", found())
    own = common_layout(7)
    assert device.decoder(SimpleNamespace(layout=own)).layout == own
    plain = device.decoder(SimpleNamespace())
    assert isinstance(plain, ReportDecoder)
    assert plain.layout == common_layout()
