"""Clocks: the machine's own, and the one set by tests."""

from datetime import UTC, timedelta

from desk.domain.clock import Clock, SystemClock


def test_the_machines_clock_uses_utc_and_never_runs_backwards():
    clock: Clock = SystemClock()

    assert clock.now().tzinfo is UTC
    assert clock.now() <= clock.now()
    assert clock.monotonic() <= clock.monotonic()


def test_the_two_clocks_of_the_machine_differ():
    """The wall clock counts from 1970, the monotonic one from the start of the machine."""
    clock = SystemClock()

    assert clock.now().timestamp() - clock.monotonic() > timedelta(days=365).total_seconds()


def test_the_still_clock_moves_only_when_set(clock):
    began = clock.now()

    clock.forward(90)

    assert clock.now() - began == timedelta(seconds=90)
    assert clock.monotonic() == 90
