"""Faults: the only errors whose text may be shown to the user. Everything else is a bug.

Fault
 ├─ Unreadable     an imported file cannot be read; has every fault found, with its place
 └─ Refused        an act cannot be done now; the sentence says why and what to do instead
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class Fault(Exception):
    """An error with a sentence for the user."""

    @property
    def sentence(self) -> str:
        """Return what happened and what to do."""
        return str(self)


class Refused(Fault):
    """An act that cannot be done now."""


@dataclass(frozen=True, slots=True)
class FileFault:
    """One fault in a file: its place, what was found, what was expected. Line 0 means the whole file."""

    file: str
    line: int
    column: str
    found: str
    expected: str

    def __str__(self) -> str:
        place = ", ".join(part for part in (f"line {self.line}" if self.line else "", self.column) if part)
        quoted = f"{self.found!r} found, " if self.found else ""
        return f"{self.file}{': ' + place if place else ''}: {quoted}expected {self.expected}"


MOST_LINES = 20
_ALIKE = 3  # more identical faults than this share one line
_NAMED = 3


def fault_lines(faults: Sequence[FileFault], most: int = MOST_LINES) -> list[str]:
    """Return faults in at most `most` lines; many similar ones become one line with a count and the first few places."""
    groups: dict[tuple[str, str, str], list[FileFault]] = {}
    for fault in faults:
        groups.setdefault((fault.file, fault.column, fault.expected), []).append(fault)
    lines = [line for group in groups.values() for line in _counted_together(group)]
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], f"and {len(lines) - most + 1} more like these; correct the first ones and try again"]


def _counted_together(alike: Sequence[FileFault]) -> list[str]:
    if len(alike) <= _ALIKE:
        return [str(fault) for fault in alike]
    places = ", ".join(str(fault.line) for fault in alike[1 : _NAMED + 1])
    return [f"{alike[0]} (and {len(alike) - 1} more, in lines {places}{', ...' if len(alike) > _NAMED + 1 else ''})"]


class Unreadable(Fault):
    """One or more files cannot be read; `faults` has every place, in file order."""

    def __init__(self, faults: Sequence[FileFault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)
