"""Correct an order on its piece's page: a field is saved when you leave it, and Undo restores it.

A printed label is canceled first, by the button above the fields.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from desk.domain.faults import Refused
from desk.domain.orders.order import Order
from desk.domain.severity import Severity
from desk.session.bench.correct_order import (
    FIELDS,
    ITEM,
    QUANTITY,
    correct_order,
    corrected,
    labels_held,
    order_texts,
    own_order,
)
from desk.session.papers.kinds import Paper
from desk.session.papers.printed import void_papers
from desk.ui.bridge import Desk
from desk.ui.kit.fields.field import Field
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.kit.named_button import named_button
from desk.ui.kit.plain import PlainLabel

SAVED = "A field is saved when you leave it. Undo restores it."
LABEL_PRINTED = "A label was printed. Cancel it to correct the order."
ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class OrderForm(QWidget):
    """The fields of one order. `left`: closed by Escape."""

    left = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setAccessibleName("Correct the order")
        self._desk = desk
        self._piece: int | None = None
        self.form: Form | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.note = PlainLabel()
        self.note.setWordWrap(True)
        self.cancel = named_button("Cancel the &label", self._cancel_label)
        line = QHBoxLayout()
        line.addWidget(self.note, 1)
        line.addWidget(self.cancel)
        self._column.addLayout(line)
        self.hide()

    def open(self, piece: int) -> None:
        """Show the fields of a piece's order and put the focus in the first one."""
        self._piece = piece
        self._make(own_order(self._desk.sitting, self._desk.pile, piece))
        self._show_note()
        self.show()
        if self.form is not None:
            next(iter(self.form.fields.values())).setFocus()

    def refresh(self) -> None:
        """Show the current order; changed lines make new fields."""
        if self._piece is None or self.form is None or self._piece not in self._desk.pile.verdicts:
            return
        texts = order_texts(own_order(self._desk.sitting, self._desk.pile, self._piece))
        if texts.keys() != self.form.fields.keys():
            self._make(own_order(self._desk.sitting, self._desk.pile, self._piece))
        else:
            self.form.show_values(texts)
        self._show_note()

    def close_form(self) -> None:
        """Hide the fields."""
        self._piece = None
        self.hide()

    def _show_note(self) -> None:
        """Say how a field is saved, or that a printed label has to be canceled first."""
        held = self._piece is not None and bool(labels_held(self._desk.sitting, self._piece))
        self.cancel.setVisible(held)
        self.note.setText(LABEL_PRINTED if held else SAVED)

    def _cancel_label(self) -> None:
        """Cancel the order's printed labels, and save what was typed meanwhile."""
        if self._piece is None or self.form is None:
            return
        held = labels_held(self._desk.sitting, self._piece)
        if self._desk.do(void_papers, held, Paper.LABELS):
            for field in list(self.form.fields.values()):
                field.commit()

    def _make(self, order: Order) -> None:
        if self.form is not None:
            self._column.removeWidget(self.form)
            self.form.hide()
            self.form.deleteLater()
        parts: list[Field | str] = [LineField(name, words) for name, words in FIELDS.items()]
        for place in range(len(order.lines)):
            parts += [LineField(f"{QUANTITY}{place}", "Quantity"), LineField(f"{ITEM}{place}", "Item, variant")]
        self.form = Form(parts)
        self.form.show_values(order_texts(order), fresh=True)
        self.form.left.connect(self._keep)
        for field in self.form.fields.values():
            field.editor().installEventFilter(self)
        self._column.addWidget(self.form)

    def _keep(self, name: str) -> None:
        """Save one corrected field; text that can't be saved stays in the field, with the reason."""
        if self._piece is None or self.form is None:
            return
        field, sitting = self.form.fields[name], self._desk.sitting
        field.say()
        try:  # a text that can't be read is reported at its field, any other refusal in the message line
            corrected(own_order(sitting, self._desk.pile, self._piece), name, field.text(), sitting.rulebook.countries)
        except Refused as refused:
            field.say(Severity.STOP, refused.sentence)
            return
        if self._desk.do(correct_order, self._piece, name, field.text()) is None:
            field.say(Severity.STOP, "Not saved.")
        self.refresh()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress and event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return True
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress and event.key() in ENTER:
            self._leave(watched)
            return True
        return super().eventFilter(watched, event)

    def _leave(self, editor: QObject) -> None:
        """Save the field and go on to the next; Enter in the last one stays there."""
        if self.form is None:
            return
        fields = list(self.form.fields.values())
        place = next(place for place, field in enumerate(fields) if field.editor() is editor)
        if place + 1 < len(fields):
            fields[place + 1].setFocus()
        else:
            self._keep(fields[place].name)
