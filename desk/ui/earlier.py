"""Add pieces that left on earlier days to the pile, a few at a time, so that keys and readings come first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from desk.domain.faults import Refused

if TYPE_CHECKING:  # the session is only imported after the first paint
    from desk.session.pile.pile import Pile
    from desk.session.sitting import Sitting

AT_ONCE = 40  # pieces between two turns of the event loop, about 20 ms
SHOWN_PART = 8  # screens are repainted whenever what is read grew by an eighth, so that repainting stays a part of it
TOLD_FROM = 400  # pieces; fewer are there before a strip could be read


class EarlierDays(QObject):
    """What is still to be read into one pile. What was asked for last is read first."""

    added = Signal(object)  # frozenset of piece ids, now in the pile
    failed = Signal(str)  # why nothing more can be read now
    progressed = Signal(int, int)  # how many are read, of how many; 0 of 0 at the end

    def __init__(self, pile: Pile, parent: QObject) -> None:
        super().__init__(parent)
        self._pile = pile
        self._wanted: list[int] = []  # those read first at the end
        self._fresh: set[int] = set()  # read and not shown yet
        self._all = 0
        self._timer = QTimer(self, interval=0)
        self._timer.timeout.connect(self._read_some)

    def read_all(self) -> None:
        """Read every piece that left."""
        from desk.session.pile.earlier import ids_that_left

        if self._pile.unread > len(self._wanted):  # otherwise they are being read
            self._find(ids_that_left)

    def read_matching(self, text: str) -> None:
        """Read the pieces that left whose number, address or items have this text."""
        from desk.session.pile.earlier import ids_matching

        if self._pile.unread:
            self._find(lambda sitting: ids_matching(sitting, text))

    def read(self, ids: Sequence[int]) -> None:
        """Read these pieces, in this order, before those still to be read; those already there are skipped."""
        first = dict.fromkeys(number for number in reversed(ids) if number not in self._pile.verdicts)
        self._wanted = [*(number for number in self._wanted if number not in first), *first]
        self._all = len(self._wanted)
        if self._wanted:
            self._timer.start()
        else:
            self.stop()

    def stop(self) -> None:
        """Read no more, and show what was read."""
        self._timer.stop()
        self._wanted.clear()
        self._show()
        self.progressed.emit(0, 0)

    def _find(self, find: Callable[[Sitting], Sequence[int]]) -> None:
        """Read what this finds."""
        try:
            ids = find(self._pile.sitting)
        except Refused as refused:
            self._fail(refused)
        else:
            self.read(ids)

    def _fail(self, refused: Refused) -> None:
        """Read no more, and say why: the server is away."""
        self.stop()
        self.failed.emit(refused.sentence)

    def _read_some(self) -> None:
        some = self._wanted[-AT_ONCE:]
        del self._wanted[-AT_ONCE:]
        try:
            self._fresh |= self._pile.bring(some)
        except Refused as refused:
            self._fail(refused)
            return
        if not self._wanted:
            self.stop()
            return
        is_due = len(self._fresh) >= max(AT_ONCE, len(self._pile.verdicts) // SHOWN_PART)
        if is_due:
            self._show()
        if is_due and self._all >= TOLD_FROM:
            self.progressed.emit(self._all - len(self._wanted), self._all)

    def _show(self) -> None:
        fresh, self._fresh = frozenset(self._fresh), set()
        if fresh:
            self.added.emit(fresh)
