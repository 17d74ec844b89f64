"""A form: fields side by side for one record. Wide fields take a whole line; large type uses one column."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Protocol

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QScrollArea, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.fields.field import Field, FieldValue


class RefusedField(Protocol):
    """An act's fault in one field: its name, a sentence, and whether the record was saved anyway."""

    @property
    def field(self) -> str:
        """The name of the field."""
        ...

    @property
    def sentence(self) -> str:
        """What is wrong with it."""
        ...

    @property
    def kept(self) -> bool:
        """True when the record was saved anyway."""
        ...


class Form(QWidget):
    """Fields with headings between them; a text among the parts is a heading."""

    left = Signal(str)  # the field left with a changed value

    def __init__(self, parts: Sequence[Field | str], columns: int = 2) -> None:
        super().__init__()
        self.fields = {part.name: part for part in parts if isinstance(part, Field)}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(20)
        self._grid.setVerticalSpacing(6)
        self._place(parts, columns if typeface.scale() < ONE_COLUMN_FROM else 1)
        for field in self.fields.values():
            field.left.connect(self.left)

    def _place(self, parts: Sequence[Field | str], columns: int) -> None:
        row = column = 0
        for part in parts:
            whole = isinstance(part, str) or part.wide
            if column and (whole or column == columns):
                row, column = row + 1, 0
            widget = Heading(part) if isinstance(part, str) else part
            self._grid.addWidget(widget, row, column, 1, columns if whole else 1)
            row, column = (row + 1, 0) if whole else (row, column + 1)
        for place in range(columns):
            self._grid.setColumnStretch(place, 1)

    def values(self) -> dict[str, FieldValue]:
        """Return the values in the fields, by name."""
        return {name: field.value() for name, field in self.fields.items()}

    def texts(self) -> dict[str, str]:
        """Return the values of the fields that hold text, by name."""
        return {name: field.text() for name, field in self.fields.items()}

    def show_values(self, values: Mapping[str, object], *, fresh: bool = False) -> None:
        """Show a saved record; fields with unsaved text stay."""
        for name, field in self.fields.items():
            field.show_kept(values.get(name), fresh=fresh)

    def kept(self) -> dict[str, FieldValue | None]:
        """Return the saved values of the record, by name."""
        return {name: field.kept for name, field in self.fields.items()}

    def show_faults(self, faults: Iterable[tuple[str, Severity, str]]) -> None:
        """Show each fault (field, mark, sentence) at its field; the others are cleared."""
        at_field = {name: (mark, sentence) for name, mark, sentence in faults}
        for name, field in self.fields.items():
            field.say(*at_field.get(name, (None, "")))


def keep(form: Form, left: str, save: Callable[[Mapping[str, FieldValue]], Sequence[RefusedField] | None]) -> bool:
    """Save the form because a field was left, and show each fault at its field; return True without faults.

    A fault in another field does not block this one: the faulty field keeps its saved value. `save` is an act; None
    means it was refused and the message line explains why.
    """
    values = form.values()
    faults = save(values)
    if faults is None:
        return False
    lacking = {fault.field for fault in faults if not fault.kept}
    if lacking and left not in lacking:
        saved = form.kept()
        save(values | {name: value for name in lacking if (value := saved.get(name)) is not None})
    form.show_faults((fault.field, Severity.LOOK if fault.kept else Severity.STOP, fault.sentence) for fault in faults)
    if not faults:
        for field in form.fields.values():
            field.settle()
    return not faults


class Scrolled(QScrollArea):
    """A page that scrolls vertically only; a focused widget is scrolled into view."""

    def __init__(self, name: str, *parts: QWidget) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setWidgetResizable(True)
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 12, 12)
        column.setSpacing(12)
        for part in parts:
            column.addWidget(part)
        column.addStretch(1)
        self.setWidget(body)
        self.viewport().setAutoFillBackground(False)
        body.setAutoFillBackground(False)
