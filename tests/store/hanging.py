"""Make the tests' own PostgreSQL server hang, as a stopped process does, and go on again."""

from __future__ import annotations

import os
import signal
from contextlib import suppress
from pathlib import Path


def processes(where: str) -> list[int]:
    """Return the ids of the test's own server: its first process, and those it started."""
    home = where.split("host=")[1].split("&", maxsplit=1)[0]
    known: dict[int, tuple[int, str]] = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                parent = int((entry / "stat").read_text().rpartition(")")[2].split()[1])
                known[int(entry.name)] = parent, (entry / "cmdline").read_bytes().decode(errors="replace")
            except OSError:
                continue
    first = [number for number, (_, command) in known.items() if f"{home}/db" in command and "postgres" in command[:60]]
    return [*first, *(number for number, (parent, _) in known.items() if parent in first)]


class Hanging:
    """Stops the server's processes and lets them go on."""

    def __init__(self, where: str) -> None:
        self.where = where

    def hang(self) -> None:
        self._signal(signal.SIGSTOP)

    def go_on(self) -> None:
        self._signal(signal.SIGCONT)

    def _signal(self, which: signal.Signals) -> None:
        for number in processes(self.where):
            with suppress(ProcessLookupError):  # it ended meanwhile
                os.kill(number, which)
