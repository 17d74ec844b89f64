"""Lifting a recorded piece, and putting pieces on the virtual scale."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject

from desk.domain.severity import Severity
from desk.ui.actions import Act
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event


class PanActs(QObject):
    """Lifting pieces and, with a virtual scale, putting them on."""

    def __init__(self, view: BenchLayout, opening: OpeningActs) -> None:
        super().__init__(view)
        self._view, self._opening = view, opening
        self._puts_after_lift = False

    def keys(self) -> Sequence[Act]:
        """Return the keys of the virtual scale; none without one."""
        return () if self._view.scale.pan is None else self.all_keys()

    def all_keys(self) -> Sequence[Act]:
        """Return those keys even without a virtual scale, since one may be chosen at any time."""
        group = "Virtual scale"
        return (
            Act("P", "Put the next piece on", self.put_next, group),
            Act("L", "Lift it off", self.lift, group),
            Act("J", "Autoplay", self.play, group),
        )

    def lifted(self, _piece: int) -> None:
        """Go on to the next piece when a recorded one is lifted."""
        view = self._view
        if self._puts_after_lift or view.strip.plays:
            self._puts_after_lift = False
            self.put_next()
        elif view.goes_on and view.isVisible():
            self._opening.next_piece()

    def put_next(self) -> None:
        """Put the open piece on the virtual scale, or the next one when it is weighed."""
        view, pan = self._view, self._view.scale.pan
        if pan is None:
            view.strip.nothing_left()
            return
        if pan.is_loaded and view.scale.holds_recorded:
            self._puts_after_lift = True
            pan.lift()
            return
        verdict = view.verdict
        if verdict is None or view.scale.piece is None or self._is_weighed():
            self._opening.next_piece(in_list=False)
            verdict = view.verdict
        if verdict is not None and not self._is_weighed() and not pan.put(verdict.case.key):
            view.desk.happened.emit(
                Event("The virtual scale has no weight for this one. Press T to type it.", Severity.LOOK)
            )
            view.strip.nothing_left()

    def play(self) -> None:
        """Start or stop autoplay."""
        if self._view.scale.pan is not None:
            self._view.strip.toggle()

    def lift(self) -> None:
        """Lift the piece off the virtual scale."""
        if self._view.scale.pan is not None:
            self._view.scale.pan.lift()

    def _is_weighed(self) -> bool:
        """Return whether the open piece was itself on the scale; a copied weight is weighed again when checked."""
        verdict = self._view.verdict
        weighing = verdict.case.weighing if verdict else None
        return weighing is not None and not weighing.copied_from
