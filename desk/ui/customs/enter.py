"""Enter in the fields of a declaration: it goes on from every kind of field, even a closed list of choices."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent

from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import Field

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class EnterGoesOn(QObject):
    """Saves a field when Enter is pressed in it, then calls `entered` with its name.

    In this order: `entered` may show another declaration, and the value belongs to the one in front. The key ends here:
    passed on to the declaration, it would skip the piece shown next.
    """

    def __init__(self, field: Field, entered: Callable[[str], None]) -> None:
        super().__init__(field)
        self._field, self._entered = field, entered
        field.editor().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.KeyPress or event.key() not in ENTER:
            return super().eventFilter(watched, event)
        if isinstance(self._field, ChoiceField) and self._field.box.view().isVisible():
            return super().eventFilter(watched, event)
        self._enter()
        return True

    def _enter(self) -> None:
        self._field.commit()
        self._entered(self._field.name)
