"""Progress and cancellation of long reading.

A reading makes several passes over its table (bytes to text, text to rows, rows to orders). Each pass gets its own part
of the whole, so that progress only rises, and ends at the end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

Item = TypeVar("Item")

EVERY = 1000  # rows between checks for cancellation
WHOLE = 1000  # progress counts in thousandths


class Stopped(Exception):
    """The reading was canceled, and nothing was kept."""


def _no_report(_done: int, _of: int) -> None:
    """Report progress to no one."""


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Watch:
    """One part of a reading. The reading thread calls `tell` with (done, of) and checks `canceled`.

    `first` and `last` bound the part, in thousandths of the whole.
    """

    tell: Callable[[int, int], None] = _no_report
    canceled: Callable[[], bool] = _never
    first: int = 0
    last: int = WHOLE

    def part(self, first: int, last: int) -> Watch:
        """Return a part within this one, in thousandths of it."""
        width = self.last - self.first
        return replace(self, first=self.first + width * first // WHOLE, last=self.first + width * last // WHOLE)

    def at(self, done: int, of: int) -> None:
        """Report that `done` of `of` is finished. Raises Stopped when canceled."""
        if self.canceled():
            raise Stopped
        share = min(done, of) / of if of else 1.0
        self.tell(self.first + int((self.last - self.first) * share), WHOLE)

    def over(self, items: Sequence[Item], every: int = EVERY) -> Iterator[Item]:
        """Yield the items, reporting progress regularly and at the end. Raises Stopped when canceled."""
        for some in self.thousands(items, every):
            yield from some

    def thousands(self, items: Sequence[Item], every: int = EVERY) -> Iterator[Sequence[Item]]:
        """Yield the items in batches, reporting progress before each and at the end. Raises Stopped when canceled."""
        for done in range(0, len(items), every):
            self.at(done, len(items))
            yield items[done : done + every]
        self.at(len(items), len(items))


UNWATCHED = Watch()
