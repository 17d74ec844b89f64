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


_RANKS = {severity: rank for rank, severity in enumerate(Severity)}
