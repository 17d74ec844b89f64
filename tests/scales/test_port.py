"""The boundary to a device: system errors become one of a few faults, and a lost port raises nothing else."""

import errno
import os
import pty
from contextlib import contextmanager

import pytest

from desk.scales import port
from desk.scales.port import LinkState, PortLostError, SerialSettings, Trouble, open_serial, trouble_of


@pytest.mark.parametrize(
    ("number", "trouble"),
    [
        (errno.ENOENT, Trouble.ABSENT),
        (errno.ENODEV, Trouble.ABSENT),
        (errno.EACCES, Trouble.NO_RIGHTS),
        (errno.EPERM, Trouble.NO_RIGHTS),
        (errno.EBUSY, Trouble.BUSY),
        (errno.EAGAIN, Trouble.BUSY),
        (errno.EIO, Trouble.UNPLUGGED),
        (errno.ENXIO, Trouble.UNPLUGGED),
        (None, Trouble.UNPLUGGED),
    ],
)
def test_system_errors_are_sorted_into_a_few_faults(number, trouble):
    assert trouble_of(OSError(number, "odd") if number else OSError("odd")) is trouble


def test_a_port_removed_meanwhile_is_reported_as_unplugged():
    assert trouble_of(TypeError("'NoneType' object")) is Trouble.UNPLUGGED


@contextmanager
def terminal():
    """Return a pseudo-terminal: the far end as a file, and the name of the near end."""
    far, near = pty.openpty()
    try:
        yield far, os.ttyname(near)
    finally:
        os.close(near)
        os.close(far)


def test_bytes_are_written_and_read():
    with terminal() as (far, name):
        opened = open_serial(SerialSettings(name))
        os.write(far, b"1.2 oz\r\n")
        got = b""
        while not got.endswith(b"\n"):
            got += opened.read(0.5)
        assert got == b"1.2 oz\r\n"
        opened.write(b"W\r")
        assert os.read(far, 10) == b"W\r"
        opened.close()


def test_an_empty_read_returns_no_bytes():
    with terminal() as (_, name):
        opened = open_serial(SerialSettings(name))
        assert opened.read(0.01) == b""
        opened.close()


def test_input_from_before_opening_is_discarded():
    with terminal() as (far, name):
        os.write(far, b"9.9 oz\r\n")
        opened = open_serial(SerialSettings(name))
        assert opened.read(0.05) == b""
        opened.close()


def test_only_one_program_can_open_a_port():
    with terminal() as (_, name):
        opened = open_serial(SerialSettings(name))
        with pytest.raises(PortLostError) as lost:
            open_serial(SerialSettings(name))
        assert lost.value.trouble is Trouble.BUSY
        opened.close()
        open_serial(SerialSettings(name)).close()


def test_a_missing_port_is_reported_as_absent(tmp_path):
    with pytest.raises(PortLostError) as lost:
        open_serial(SerialSettings(str(tmp_path / "none")))
    assert lost.value.trouble is Trouble.ABSENT


def test_a_file_that_is_not_a_port_is_reported_as_lost(tmp_path):
    (tmp_path / "file").write_text("no port")
    with pytest.raises(PortLostError):
        open_serial(SerialSettings(str(tmp_path / "file")))


def test_closing_a_closed_port_does_nothing_and_it_reads_no_more():
    with terminal() as (_, name):
        opened = open_serial(SerialSettings(name))
        opened.close()
        opened.close()
        with pytest.raises(PortLostError):
            opened.read(0.01)


def test_pauses_before_opening_again_grow():
    assert sorted(set(port.REOPEN_PAUSES_S)) == list(port.REOPEN_PAUSES_S)


def test_a_connection_without_faults_says_so():
    assert LinkState(port.Link.LIVE).trouble is Trouble.NONE
    assert not Trouble.NONE.value
    assert all(trouble.value for trouble in Trouble if trouble is not Trouble.NONE)
