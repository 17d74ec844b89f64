"""What hands do at the scale: a recorded piece is lifted, and the next one put on the virtual scale, where it is one."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject

from desk.ui.actions import Act
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.layout import BenchFace
from desk.ui.bridge import Event


class PanActs(QObject):
    """Lifting and, where there is a virtual pan, putting on."""

    def __init__(self, view: BenchFace, opening: OpeningActs) -> None:
        super().__init__(view)
        self._view, self._opening = view, opening
        self._puts_after_lift = False

    def keys(self) -> Sequence[Act]:
        """The keys of the virtual pan; none without one."""
        return () if self._view.scale.pan is None else self.all_keys()

    def all_keys(self) -> Sequence[Act]:
        """Return those keys with or without a virtual scale: it may be chosen at any time; until then they do nothing."""
        group = "Virtual scale"
        return (
            Act("P", "Put the next piece on", self.put_next, group),
            Act("L", "Lift it off", self.lift, group),
            Act("J", "Autoplay", self.play, group),
        )

    def lifted(self, _piece: int) -> None:
        """A recorded piece left the pan."""
        view = self._view
        if self._puts_after_lift or view.strip.plays:
            self._puts_after_lift = False
            self.put_next()
        elif view.goes_on and view.isVisible():
            self._opening.next_piece()

    def put_next(self) -> None:
        """Put the open piece on the virtual scale, or when it is weighed the next one."""
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
            view.desk.happened.emit(Event("The virtual scale has no weight for this one. Press T to type it.", "look"))
            view.strip.nothing_left()

    def play(self) -> None:
        """Start or stop autoplay."""
        if self._view.scale.pan is not None:
            self._view.strip.toggle()

    def lift(self) -> None:
        """Lift what lies on the virtual scale."""
        if self._view.scale.pan is not None:
            self._view.scale.pan.lift()

    def _is_weighed(self) -> bool:
        """On the scale itself: a copied weight is weighed once more when it is opened to be checked."""
        verdict = self._view.verdict
        weighing = verdict.case.weighing if verdict else None
        return weighing is not None and not weighing.copied_from
