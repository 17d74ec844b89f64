"""Undo at the bench: a step done elsewhere is named first, and undone by a second press."""

from __future__ import annotations

from desk.domain.severity import Severity
from desk.session.undo import is_last_at_bench
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event


class UndoingActs:
    """Undo with one press for the bench's own steps and two for others."""

    def __init__(self, view: BenchLayout) -> None:
        self._view, self._desk = view, view.desk
        self._warned: tuple[str, int | None] = ("", None)  # the step just named, and the piece open then

    def take_back(self) -> None:
        """Undo the last step, or name it when it was done elsewhere."""
        step = self._desk.steps()[0]
        asked = (step, self._view.piece)
        if step and not is_last_at_bench(self._desk.sitting) and asked != self._warned:
            self._warned = asked
            self._desk.happened.emit(
                Event(f"Last step, not at the bench: {step}. Press Z again to undo it.", Severity.LOOK)
            )
            return
        self.forget_warning()
        self._desk.undo()

    def forget_warning(self) -> None:
        """Forget the first press: the next one names the step again."""
        self._warned = ("", None)
