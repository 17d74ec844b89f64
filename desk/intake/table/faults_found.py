"""The faults of one file, gathered while it is read, so that the person can correct them all at once."""

from __future__ import annotations

from desk.domain.faults import FileFault, Unreadable

SHOWN = 80  # signs of a cell shown in a fault: enough to find it, short enough for one line


class FaultsFound:
    """Every fault of one file, in the order found."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[FileFault] = []

    def add(self, line: int, column: str, found: str, expected: str) -> None:
        """Note one fault; line 0 is the file as a whole, `expected` a noun phrase."""
        shown = found if len(found) <= SHOWN else found[: SHOWN - 1] + "…"
        self.faults.append(FileFault(self.file, line, column, shown, expected))

    def in_order(self) -> list[FileFault]:
        """The faults in file order, each once."""
        return sorted(dict.fromkeys(self.faults), key=lambda fault: fault.line)

    def raise_any(self) -> None:
        """Raise Unreadable with the faults in file order, if there are any."""
        if self.faults:
            raise Unreadable(self.in_order())


def unreadable(file: str, expected: str, line: int = 0, found: str = "") -> Unreadable:
    """One fault that ends the reading of a file at once."""
    return Unreadable([FileFault(file, line, "", found, expected)])
