"""Undo at the bench: a step done elsewhere is named first, and undone by a second press.

A piece whose weight was undone is opened again, so that the parcel in your hand is not weighed as the next one.
"""

from __future__ import annotations

from collections.abc import Collection

from desk.domain.severity import Severity
from desk.domain.status import PieceStatus
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event


class UndoingActs:
    """Undo with one press for the bench's own steps and two for others."""

    def __init__(self, view: BenchLayout, opening: OpeningActs) -> None:
        self._view, self._desk, self._opening = view, view.desk, opening
        self._warned: tuple[str, int | None] = ("", None)  # the step just named, and the piece open then

    def take_back(self) -> None:
        """Undo the last step, or name it when it was done elsewhere."""
        step = self._desk.steps()[0]
        asked = (step, self._view.piece)
        if step and not self._desk.is_last_at_bench() and asked != self._warned:
            self._warned = asked
            self._desk.happened.emit(
                Event(f"Last step, not at the bench: {step}. Press Z again to undo it.", Severity.LOOK)
            )
            return
        self.forget_warning()
        was = self._desk.sitting.store.last_changes
        weighed = {piece for piece, verdict in self._desk.pile.verdicts.items() if verdict.case.weighing is not None}
        self._desk.undo()
        if self._desk.sitting.store.last_changes is not was:
            self._open_unweighed(weighed)

    def _open_unweighed(self, weighed: Collection[int]) -> None:
        """Open the one piece whose weight was undone, unless something may be on the scale.

        `weighed`: the pieces that had a weight before the undo. A piece that had none is not the parcel in your hand.
        """
        pieces = self._desk.sitting.store.last_changes.pieces
        if len(pieces) != 1 or self._view.scale.live.may_be_loaded or not self._view.isVisible():
            return
        (piece,) = pieces
        verdict = self._desk.pile.verdicts.get(piece)
        was_undone = piece in weighed and verdict is not None and verdict.status is PieceStatus.TO_WEIGH
        if was_undone and piece != self._view.piece:
            self._opening.open_piece(piece)

    def forget_warning(self) -> None:
        """Forget the first press: the next one names the step again."""
        self._warned = ("", None)
