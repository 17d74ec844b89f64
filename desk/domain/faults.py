"""Faults: the one family of errors whose text may be shown to the person. Everything else is a bug.

Fault
 ├─ Unreadable     a file someone brought cannot be read; carries every fault found, with its place
 └─ Refused        an act cannot be done now, and the sentence says why and what to do instead
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class Fault(Exception):
    """An error with a sentence for the person."""

    @property
    def sentence(self) -> str:
        """What happened and the way out."""
        return str(self)


class Refused(Fault):
    """An act that cannot be done as things stand."""


@dataclass(frozen=True, slots=True)
class FileFault:
    """One fault in a file: where it is, what stands there, what was expected. Line 0: the file as a whole."""

    file: str
    line: int
    column: str
    found: str
    expected: str

    def __str__(self) -> str:
        place = ", ".join(part for part in (f"line {self.line}" if self.line else "", self.column) if part)
        shown = f"{self.found!r} found, " if self.found else ""
        return f"{self.file}{': ' + place if place else ''}: {shown}expected {self.expected}"


class Unreadable(Fault):
    """One or more files cannot be read; `faults` holds every place, in file order."""

    def __init__(self, faults: Sequence[FileFault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)
