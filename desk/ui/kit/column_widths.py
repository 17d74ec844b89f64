"""Share a table's width between its columns: long texts get the room that short ones leave. No widgets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

LEAST = 0.4  # of its usual width: no column with long texts becomes narrower
EASE = 0.9  # of its width: texts become this narrow before another column is left out
WRAPPED, LONG = 0.6, 1.5  # two lines of that part usually hold a text; it is wrapped if longer, in usual widths
MOST_TO_FIT = 1.6  # of its usual width: a figure is never as long, and a typed reason may be cut
MOST_FOR_TEXT = 2.4  # of its usual width, for two lines: a picture makes way for texts up to this


@dataclass(frozen=True, slots=True)
class ColumnRule:
    """Usual widths in pixels, the columns dropped first where there is no room, and those with long texts."""

    widths: Sequence[int] = ()
    dropped_first: Sequence[int] = ()
    grows: Sequence[int] = ()
    fits: Sequence[int] = ()  # those exactly as wide as their texts and remarks: figures are never cut
    yields: Sequence[int] = ()  # pictures: left out where they would cut texts
    needs: Mapping[int, int] = field(default_factory=dict)  # what a column's texts take, where known

    def start(self, column: int) -> int:
        """Return a column's width before spare room is shared: less than usual where its texts are short."""
        usual = self.widths[column]
        needed = self.needs.get(column, usual)
        return min(needed, round(usual * (MOST_TO_FIT if column in self.fits else 1)))

    def _least(self, column: int) -> int:
        """Return the width below which another column is left out rather than this one narrowed."""
        return round(self.start(column) * EASE) if column in self.grows else self.start(column)

    def dropped(self, room: int) -> frozenset[int]:
        """Return the columns left out of that room. One whose turn it is stays when the rest already fits."""
        wanted = sum(map(self._least, range(len(self.widths))))
        left_out = set()
        for column in self.dropped_first:
            if wanted > room:
                wanted -= self._least(column)
                left_out.add(column)
        for column in reversed(self.dropped_first):  # one dropped for a wider one that went too comes back
            if column in left_out and wanted + self._least(column) <= room:
                wanted += self._least(column)
                left_out.remove(column)
        for column in self.yields:
            visible = set(range(len(self.widths))) - left_out
            spare = room - sum(map(self.start, visible))
            if column in visible and spare < sum(map(self._lack, visible & set(self.grows))):
                left_out.add(column)
        return frozenset(left_out)

    def _lack(self, column: int) -> int:
        """Return what a column's texts lack; beyond a limit they are cut before a picture is left out."""
        limit = round(self.widths[column] * MOST_FOR_TEXT)
        return max(0, min(self.needs.get(column, 0), limit) - self.start(column))

    def shares(self, room: int, *, two_lines: bool = False) -> dict[int, int]:
        """Return the widths of the growing columns that stay: first what their texts take, then equal parts.

        With rows of two lines a column first gets what its texts take when they are wrapped.
        """
        left_out = self.dropped(room)
        visible = [column for column in range(len(self.widths)) if column not in left_out]
        starts = {column: self.start(column) for column in visible}
        growing = [column for column in self.grows if column in starts]
        spare = room - sum(starts.values())
        if not growing:
            return {}
        if spare < 0:
            return _narrowed({column: starts[column] for column in growing}, -spare)
        widths = {column: starts[column] for column in growing}
        for wanted in (self._wrapped, self._whole) if two_lines else (self._whole,):
            lacks = {column: max(0, wanted(column) - widths[column]) for column in growing}
            for column, more in _given(lacks, spare).items():
                widths[column] += more
                spare -= more
        return {column: width + spare // len(growing) for column, width in widths.items()}

    def _whole(self, column: int) -> int:
        return self.needs.get(column, 0)

    def _wrapped(self, column: int) -> int:
        """Return what a column's texts take in two lines, which only long ones need."""
        needed = self._whole(column)
        return round(needed * WRAPPED) if needed > LONG * self.widths[column] else needed


def _given(lacks: Mapping[int, int], spare: int) -> dict[int, int]:
    """Return what each column gets of the spare room: what it lacks, at most an equal part of what is left.

    Those that lack least get theirs first, so that one very long text doesn't cut all the others.
    """
    widths = dict.fromkeys(lacks, 0)
    waiting = sorted(lacks, key=lambda column: lacks[column])
    for at, column in enumerate(waiting):
        widths[column] = min(lacks[column], spare // (len(waiting) - at))
        spare -= widths[column]
    return widths


def _narrowed(starts: Mapping[int, int], excess: int) -> dict[int, int]:
    """Return the widths less their part of what is too much."""
    whole = sum(starts.values())
    share = max(LEAST, (whole - excess) / whole) if whole else 1.0
    return {column: int(width * share) for column, width in starts.items()}
