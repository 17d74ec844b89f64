"""Split the open order into packages."""

from __future__ import annotations

from desk.domain.piece import PieceKey
from desk.session.bench.another_piece import add_piece
from desk.ui.bench.layout import BenchFace
from desk.ui.bridge import Event


class SplittingActs:
    """Packages of the open order."""

    def __init__(self, view: BenchFace) -> None:
        self._view = view

    def split(self) -> None:
        """Add a package to the order and say how to open each of them."""
        view, verdict = self._view, self._view.verdict
        if verdict is None:
            view.desk.happened.emit(Event("Open a piece first: type its number, or press N.", "look"))
            return
        key = verdict.case.key
        count = max(
            each.case.key.piece for each in view.desk.pile.verdicts.values() if each.case.key.order == key.order
        )
        if view.desk.do_quietly(add_piece, PieceKey(key.order, count + 1)) is not None:
            words = f"{key.order} ships in {count + 1} packages. Type {key.order}-{count + 1} to open the new one."
            view.desk.happened.emit(Event(words, undo=True))
