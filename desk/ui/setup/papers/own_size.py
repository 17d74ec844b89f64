"""A paper or label size of your own."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from desk.domain.severity import Severity
from desk.session.papers.paper_settings import save_own_stock
from desk.ui.bridge import Desk
from desk.ui.kit.card import Card
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form

KINDS = (("roll", "one label per page"), ("plain paper", "plain paper to cut"))


class OwnSizeCard(Card):
    """Fields for a new size, and a button that adds it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("A size of your own", "A size of your own")
        self._desk = desk
        self.form = Form(
            [
                LineField("words", "Name of this size"),
                ChoiceField("kind", "Type", KINDS),
                LineField("width", "Width of the page"),
                LineField("height", "Height of the page"),
                ChoiceField("unit", "Unit of this size", (("in", "in"), ("mm", "mm"))),
            ]
        )
        self.add = QPushButton("Add this size")
        self.add.setAccessibleName("Add this size")
        self.add.clicked.connect(lambda _checked=False: self.save())
        self.column.setSpacing(10)
        self.column.addWidget(self.form)
        self.column.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)

    def save(self) -> None:
        """Add the size, or show what is wrong with it."""
        faults = self._desk.do(save_own_stock, self.form.texts())
        if faults is None:
            return
        self.form.show_faults((fault.field, Severity.STOP, fault.sentence) for fault in faults)
        if not faults:
            for name in ("words", "width", "height"):
                self.form.fields[name].put("")
