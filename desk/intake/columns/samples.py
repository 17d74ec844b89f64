"""Sample cells of each column, to recognize its contents."""

from __future__ import annotations

from collections.abc import Sequence

ROWS = 400  # enough to recognize a column, few enough to cost no time
EXAMPLES = 3  # shown to a person


class Samples:
    """The first cells of a table by column, as read; empty cells are kept so that rows can be compared."""

    def __init__(self, rows: Sequence[Sequence[str]], width: int) -> None:
        first = [tuple(cells[:width]) + ("",) * (width - len(cells)) for cells in rows[:ROWS]]
        self.cells: list[tuple[str, ...]] = list(zip(*first, strict=True)) if first else [()] * width
        self._values = [tuple(dict.fromkeys(filter(None, column))) for column in self.cells]

    def values(self, place: int) -> tuple[str, ...]:
        """Return the distinct filled cells of a column, in order."""
        return self._values[place]

    def examples(self, place: int) -> tuple[str, ...]:
        """Return the first few distinct cells of a column."""
        return self._values[place][:EXAMPLES]

    def same_cells(self, one: int, other: int) -> bool:
        """Return whether two columns are the same in every row."""
        return self.cells[one] == self.cells[other]
