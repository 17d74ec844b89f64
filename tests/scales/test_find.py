"""Finding USB scales on a simulated bus, and the rule that grants access to one."""

import os
import sys
from types import SimpleNamespace

import pytest

from desk.scales import find
from desk.scales.drivers.descriptor import common_layout
from desk.scales.find import FoundScale, HidPort, find_scales, hid_library, serial_names
from desk.scales.port import PortLostError, Trouble

BUS = [
    {"path": b"/dev/hidraw0", "usage_page": 0x8D, "usage": 0x20, "serial_number": "A1"},
    {"path": b"/dev/hidraw1", "usage_page": 0x01, "usage": 0x06, "serial_number": ""},
    {"path": b"/dev/hidraw2", "usage_page": 0x8D, "usage": 0x01, "serial_number": None},
]


def test_scales_are_recognized_by_their_usage_page():
    got = find_scales(lambda: BUS, lambda path: path.endswith(b"0"))
    assert got == (FoundScale(b"/dev/hidraw0", "A1", True), FoundScale(b"/dev/hidraw2", "", False))


def test_the_real_library_lists_scales_without_permission_to_open_them():
    assert isinstance(find_scales(), tuple)


def test_on_linux_only_the_hidraw_backend_is_used(monkeypatch):
    monkeypatch.setitem(sys.modules, "hidraw", None)
    with pytest.raises(PortLostError) as lost:
        hid_library("linux")
    assert lost.value.trouble is Trouble.NOT_SUPPORTED


def test_on_other_systems_there_is_one_backend(monkeypatch):
    library = SimpleNamespace()
    monkeypatch.setitem(sys.modules, "hid", library)
    assert hid_library("win32") is library


# HID usage page 0x8D, in both spellings of the page item (USB HID 1.11, 6.2.2.2: item 0x04 with one or two bytes).
def test_the_rule_names_the_usage_page_and_no_maker():
    assert find.RULE.count('TAG+="uaccess"') == 2
    assert r"\x05\x8d*" in find.RULE
    assert r"\x06\x8d*" in find.RULE
    assert "idVendor" not in find.RULE
    assert int(find.RULE_FILE.rsplit("/", 1)[1][:2]) < 73


def test_permission_follows_that_of_the_device_file(tmp_path, monkeypatch):
    node = tmp_path / "hidraw9"
    node.touch()
    path = os.fsencode(node)
    assert find._may_open(path)
    monkeypatch.setattr(find.os, "access", lambda *_: False)
    assert not find._may_open(path)
    monkeypatch.setattr(find.sys, "platform", "win32")
    assert find._may_open(b"anything")


class Device:
    """A fake for the library's device."""

    def __init__(self, reports=(), descriptor=(), fails=""):
        self.old, self.reports, self.descriptor, self.fails = [[3, 4], []], list(reports), descriptor, fails
        self.waits, self.closed = [], False

    def open_path(self, path):
        if self.fails == "open":
            raise OSError("open failed")

    def get_report_descriptor(self):
        if self.fails == "descriptor":
            raise OSError
        return self.descriptor

    def set_nonblocking(self, _):
        if self.fails == "drain":
            raise OSError("read error")

    def read(self, longest, timeout_ms=None):
        if timeout_ms is None:
            return self.old.pop(0)
        self.waits.append(timeout_ms)
        if not self.reports:
            raise OSError("read error")
        return self.reports.pop(0)

    def close(self):
        self.closed = True


def opened(device, path=b"/dev/hidraw0"):
    return HidPort(path, SimpleNamespace(device=lambda: device))


def test_a_usb_port_drains_reads_with_a_limit_and_closes():
    device = Device([[3, 4, 11, 255, 12, 0], []])
    port = opened(device)
    assert device.old == []  # waiting input was old
    assert (port.read(0.1), port.read(0.0001)) == (bytes.fromhex("03040bff0c00"), b"")
    assert device.waits == [100, 1]
    port.write(b"nothing is sent")
    with pytest.raises(PortLostError) as lost:
        port.read(0.1)
    assert lost.value.trouble is Trouble.UNPLUGGED
    port.close()
    assert device.closed


def test_the_layout_comes_from_the_descriptor_or_is_the_common_one():
    weight = bytes.fromhex("058D0920A10185040940751095018102C0")
    assert opened(Device(descriptor=weight)).layout.number == 4
    assert opened(Device()).layout == common_layout()
    assert opened(Device(fails="descriptor")).layout == common_layout()


def test_a_device_lost_while_draining_is_reported():
    with pytest.raises(PortLostError) as lost:
        opened(Device(fails="drain"))
    assert lost.value.trouble is Trouble.UNPLUGGED


@pytest.mark.parametrize(
    ("there", "rights", "platform", "trouble"),
    [
        (False, True, "linux", Trouble.ABSENT),
        (True, False, "linux", Trouble.NO_RIGHTS),
        (True, True, "linux", Trouble.BUSY),
        (True, True, "darwin", Trouble.BUSY),
    ],
)
def test_a_port_that_cannot_be_opened_has_its_reason(tmp_path, monkeypatch, there, rights, platform, trouble):
    node = tmp_path / "node"
    if there:
        node.touch()
    monkeypatch.setattr(find.os, "access", lambda *_: rights)
    monkeypatch.setattr(find.sys, "platform", platform)
    with pytest.raises(PortLostError) as lost:
        opened(Device(fails="open"), os.fsencode(node))
    assert lost.value.trouble is trouble


def test_serial_ports_are_listed_by_name(monkeypatch):
    ports = [SimpleNamespace(device=name) for name in ("COM7", "COM3")]
    monkeypatch.setattr("serial.tools.list_ports.comports", lambda: ports)
    assert serial_names() == ("COM3", "COM7")
