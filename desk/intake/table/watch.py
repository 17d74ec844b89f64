"""Long reading, watched: how far it is, and whether it is still wanted.

A reading goes over its table several times (bytes to text, text to rows, rows to orders). Whoever reads hands each of
these passes its own stretch of the whole, so that what is told only rises, and ends at the end.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

Item = TypeVar("Item")

EVERY = 1000  # rows between two looks at whether the reading is still wanted
WHOLE = 1000  # progress is told in thousandths


class Stopped(Exception):
    """The reading was cancelled; nothing was kept of it."""


def _nobody(_done: int, _of: int) -> None:
    """Tell nobody."""


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Watch:
    """One stretch of a reading. `tell` is called with (done, of), `cancelled` is asked; both by the reading thread.

    `first` and `last` are where the stretch begins and ends, in thousandths of the whole.
    """

    tell: Callable[[int, int], None] = _nobody
    cancelled: Callable[[], bool] = _never
    first: int = 0
    last: int = WHOLE

    def part(self, first: int, last: int) -> Watch:
        """A stretch within this one, in thousandths of it."""
        width = self.last - self.first
        return replace(self, first=self.first + width * first // WHOLE, last=self.first + width * last // WHOLE)

    def at(self, done: int, of: int) -> None:
        """So many of so many are done. Raises Stopped when the reading is not wanted any more."""
        if self.cancelled():
            raise Stopped
        share = min(done, of) / of if of else 1.0
        self.tell(self.first + int((self.last - self.first) * share), WHOLE)

    def over(self, items: Sequence[Item], every: int = EVERY) -> Iterator[Item]:
        """The items one by one, with a look up before every so many and one at the end. Raises Stopped."""
        for some in self.thousands(items, every):
            yield from some

    def thousands(self, items: Sequence[Item], every: int = EVERY) -> Iterator[Sequence[Item]]:
        """The items so many at a time, with a look up before each lot and one at the end. Raises Stopped."""
        for done in range(0, len(items), every):
            self.at(done, len(items))
            yield items[done : done + every]
        self.at(len(items), len(items))


UNWATCHED = Watch()
