"""Enter in the fields of a declaration: it goes on from every kind of field, even a closed list of choices."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent

from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import Field
from desk.ui.kit.fields.text_fields import LineField

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class EnterGoesOn(QObject):
    """Calls `entered` with the field's name when Enter is pressed in it."""

    def __init__(self, field: Field, entered: Callable[[str], None]) -> None:
        super().__init__(field)
        self._field, self._entered = field, entered
        if isinstance(field, LineField):
            field.edit.returnPressed.connect(lambda: entered(field.name))
        else:
            field.editor().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.KeyPress or event.key() not in ENTER:
            return super().eventFilter(watched, event)
        if isinstance(self._field, ChoiceField) and self._field.box.view().isVisible():
            return super().eventFilter(watched, event)
        self._entered(self._field.name)
        return True
