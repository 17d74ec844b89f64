"""Relearn in the background when an older weighing was corrected, and save the result for the next start."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Slot

from desk.session.learned.memory import Memory
from desk.session.learned.memory_file import learned_from, save_memory
from desk.session.pile.earlier import past_weighings
from desk.ui.bridge import Desk
from desk.ui.jobs import Canceled, Job, Progress


class Relearn(QObject):
    """Follows one desk: rebuilds its stale memory of past weighings, and saves it when the desk closes."""

    def __init__(self, desk: Desk, folder: Path) -> None:
        super().__init__(desk)
        self._desk, self._folder = desk, folder
        self._job: Job | None = None
        desk.changed.connect(self._follow)
        desk.closing.connect(self._end)
        self._follow()

    @Slot(object)
    def _follow(self, _changes: object = None) -> None:
        pile = self._desk.pile
        if not pile.memory.stale or not pile.terms.shop.policy.learn_weights or self._is_busy():
            return
        shop, key = pile.terms.shop, learned_from(pile.sitting, pile.terms.shop)

        def learn(progress: Progress, canceled: Canceled) -> Memory:
            """Read and learn every weighing again, in the background."""
            return Memory.rebuild(shop, past_weighings(pile.sitting, shop), progress, canceled)

        self._job = Job(learn, self)
        self._job.done.connect(lambda memory: self._adopt(memory, key))
        self._job.start()

    def _adopt(self, memory: Memory, key: list[object]) -> None:
        """Use the new memory, unless weighings changed meanwhile: then learn again."""
        self._job = None
        pile = self._desk.pile
        if learned_from(pile.sitting, pile.terms.shop) != key:
            self._follow()
            return
        pile.memory = memory
        self._desk.read_all()
        self._keep()

    def _is_busy(self) -> bool:
        return self._job is not None and self._job.is_running()

    def _keep(self) -> None:
        pile = self._desk.pile
        if pile.terms.shop.policy.learn_weights:
            save_memory(pile.sitting, pile.terms.shop, pile.memory, self._folder)

    def _end(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job.wait()
        self._keep()
