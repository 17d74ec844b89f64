"""How serious something is: the severity of a finding, and the mark of a message."""

from __future__ import annotations

from enum import StrEnum


class Severity(StrEnum):
    """How serious a finding is, most serious first. `fine` marks a reason for a decision."""

    STOP = "stop"
    LOOK = "look"
    NOTE = "note"
    FINE = "fine"

    @property
    def rank(self) -> int:
        """Return the sort order: 0 for a stop, higher for less serious ones."""
        return _RANKS[self]

    @property
    def is_issue(self) -> bool:
        """Return True for what a person has to check or fix."""
        return self in (Severity.STOP, Severity.LOOK)


_RANKS = {severity: rank for rank, severity in enumerate(Severity)}
