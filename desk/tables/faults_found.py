"""Collect the faults of one file while it is read, so that they can all be corrected at once."""

from __future__ import annotations

from desk.domain.faults import FileFault, Unreadable

SHOWN = 80  # characters of a cell quoted in a fault: enough to find it, short enough for one line


class FaultsFound:
    """Every fault of one file, in the order found."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[FileFault] = []

    def add(self, line: int, column: str, found: str, expected: str) -> None:
        """Add one fault; line 0 means the whole file, and `expected` is a noun phrase."""
        shown = found if len(found) <= SHOWN else found[: SHOWN - 1] + "…"
        self.faults.append(FileFault(self.file, line, column, shown, expected))

    def in_order(self) -> list[FileFault]:
        """Return the faults in file order, without duplicates."""
        return sorted(dict.fromkeys(self.faults), key=lambda fault: fault.line)

    def raise_any(self) -> None:
        """Raise Unreadable with the faults in file order, if there are any."""
        if self.faults:
            raise Unreadable(self.in_order())


def unreadable(file: str, expected: str, line: int = 0, found: str = "") -> Unreadable:
    """Return one fault that ends the reading at once."""
    return Unreadable([FileFault(file, line, "", found, expected)])
