"""A weight field: number, unit, and a button that takes the weight from the scale."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QPushButton

from desk.domain.weight import Shown
from desk.session.words.figures import measure
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.text_fields import LineField

LOOK_EVERY_MS = 200
UNITS = (("oz", "oz"), ("g", "g"), ("lb", "lb"), ("kg", "kg"))


def settled_weight(desk: Desk) -> Shown | None:
    """Return the settled weight on the scale; None when there is no scale, or it is moving."""
    scale = getattr(desk, "scale", None)
    live = scale.live if scale is not None else None
    return live.shown if live is not None and live.is_settled else None


class WeighButton(QPushButton):
    """Uses the settled weight, else waits for one; pressing again or leaving stops the waiting."""

    taken = Signal(object)  # Shown

    def __init__(self, weight: Callable[[], Shown | None], of: str) -> None:
        super().__init__()
        self._weight = weight
        self._timer = QTimer(self, interval=LOOK_EVERY_MS)
        self._timer.timeout.connect(self._look)
        self._of = of
        self._say(waiting=False)
        self.clicked.connect(lambda _checked=False: self.stop() if self.is_waiting else self._begin())

    @property
    def is_waiting(self) -> bool:
        """True while it waits for a weight."""
        return self._timer.isActive()

    def stop(self) -> None:
        """Stop waiting."""
        self._timer.stop()
        self._say(waiting=False)

    def hideEvent(self, event: QHideEvent) -> None:
        self.stop()
        super().hideEvent(event)

    def _begin(self) -> None:
        self._timer.start()
        self._say(waiting=True)
        self._look()

    def _look(self) -> None:
        shown = self._weight()
        if shown is not None:
            self.stop()
            self.taken.emit(shown)

    def _say(self, *, waiting: bool) -> None:
        self.setText("Stop waiting" if waiting else "Use the scale")
        name = "Stop waiting for the scale: {what}" if waiting else "Use the scale: {what}"
        self.setAccessibleName(name.format(what=self._of))


def weight_fields(desk: Desk, name: str, unit_name: str, words: str) -> tuple[LineField, ChoiceField]:
    """Return the two fields of a weight; the button beside the number fills both."""
    number = LineField(name, words)
    unit = ChoiceField(unit_name, f"Unit of {words.lower().removeprefix('unit ')}", UNITS)
    button = WeighButton(lambda: settled_weight(desk), words)
    number.line.addWidget(button)

    def take(shown: Shown) -> None:
        unit.put(shown.unit.counted_in.value)
        number.put(measure(f"{shown.value:f}"))
        number.commit()
        unit.commit()

    button.taken.connect(take)
    return number, unit
