"""The split into packages: how many, then one row per item with a field per package except the last.

One package again takes back a split. A single item ships in parts: then there is nothing to divide.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QSpinBox, QWidget

from desk.session.bench.splitting import SplitView
from desk.ui.actions import Act
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked


class SplitCard(Card):
    """Filled in with Tab or Enter; Enter in the last field saves. `saved` carries the counts, item by item."""

    saved = Signal(object)

    def __init__(self, view: SplitView, view_for: Callable[[int], SplitView] | None = None) -> None:
        """`view_for` returns the split into that many packages; without it their number stays."""
        super().__init__("Split into packages", "Split into packages")
        self.view, self._view_for = view, view_for
        self.packages = QSpinBox()
        self.packages.setRange(view.least, view.most)
        self.packages.setValue(len(view.references))
        self.packages.setAccessibleName("How many packages")
        self.packages.valueChanged.connect(self._change_count)
        self.hint = Inked("", "soft_ink", typeface.SMALL)
        self.hint.setWordWrap(True)
        self._grid = QWidget()
        self.fields: list[list[QSpinBox]] = []
        self.rests: list[Inked] = []
        self.save = QPushButton("Save packages")
        self.save.setAccessibleName("Save packages")
        self.save.clicked.connect(self._save)
        self._build()
        self._show_view()

    def _build(self) -> None:
        line = QHBoxLayout()
        label = Inked("Packages")
        label.setBuddy(self.packages)
        line.addWidget(label)
        line.addWidget(self.packages)
        line.addWidget(self.hint, 1)
        label.setVisible(self._view_for is not None)
        self.packages.setVisible(self._view_for is not None)
        self.column.addLayout(line)
        self.column.addWidget(self._grid)
        self.column.addWidget(self.save, alignment=Qt.AlignmentFlag.AlignLeft)

    def begin(self) -> None:
        """Put the focus in the first field, if there is one."""
        for first in self._every()[:1]:
            first.setFocus()
            first.selectAll()

    def add_package(self) -> None:
        """Propose one more package, as long as each can have an item."""
        self.packages.stepUp()

    def _change_count(self, count: int) -> None:
        if self._view_for is not None:
            self.view = self._view_for(count)
            self._show_view()

    def _show_view(self) -> None:
        self.hint.setText(_hint(self.view))
        has_choice = self._view_for is not None or not self.view.is_one_item
        self.save.setVisible(has_choice)
        grid, self._grid = self._grid, QWidget()
        self.column.replaceWidget(grid, self._grid)
        grid.hide()
        grid.deleteLater()
        self.fields, self.rests = [], []
        self._fill(QGridLayout(self._grid))
        for one, following in pairwise([*self._every(), self.save]):
            QWidget.setTabOrder(one, following)
        self._show_rests()

    def _every(self) -> list[QSpinBox]:
        """Return the fields in their order."""
        counts = [self.packages] if self._view_for is not None else []
        return [*counts, *(field for row in self.fields for field in row)]

    @property
    def _has_fields(self) -> bool:
        """True while there is something to divide: several packages and more than one item."""
        return len(self.view.references) > 1 and not self.view.is_one_item

    def counts(self) -> list[list[int]]:
        """Return how many of each item are in each package, the last package with the rest."""
        rows = []
        for line, row in zip(self.view.lines, self.fields, strict=self._has_fields):
            typed = [field.value() for field in row]
            rows.append([*typed, line.ordered - sum(typed)])
        return rows

    def acts(self) -> Sequence[Act]:
        """Return the keys of the card, for the list of keys."""
        return (
            Act("0 – 9", "How many packages, or how many of the item are in one"),
            Act("↑ ↓", "One more, or one fewer"),
            Act("Tab", "Next field"),
            Act("Enter", "Next field; in the last one, save the packages"),
            Act("Escape", "Close without saving"),
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)
            return
        every = self._every()
        at = next((number for number, field in enumerate(every) if field.hasFocus()), len(every) - 1)
        if at + 1 < len(every):
            every[at + 1].setFocus()
            every[at + 1].selectAll()
        else:
            self._save()

    def _fill(self, grid: QGridLayout) -> None:
        grid.setContentsMargins(0, 4, 0, 4)
        for at, reference in enumerate(self.view.references):
            grid.addWidget(Inked(reference, bold=True), 0, at + 1)
        for row, line in enumerate(self.view.lines, 1):
            name = Inked(f"{line.ordered} \u00d7 {line.item}")
            name.setWordWrap(True)
            grid.addWidget(name, row, 0)
            if not self._has_fields:
                continue
            fields = []
            for at, count in enumerate(line.counts[:-1]):
                field = QSpinBox()
                field.setRange(0, line.ordered)
                field.setValue(count)
                field.setAccessibleName(f"{line.item} in {self.view.references[at]}")
                field.valueChanged.connect(self._show_rests)
                grid.addWidget(field, row, at + 1)
                fields.append(field)
            rest = Inked("")
            grid.addWidget(rest, row, len(line.counts))
            self.fields.append(fields)
            self.rests.append(rest)
        grid.setHorizontalSpacing(16)
        grid.setColumnStretch(len(self.view.references) + 1, 1)

    def _show_rests(self) -> None:
        for rest, row in zip(self.rests, self.counts(), strict=True):
            rest.setText(str(row[-1]) if row[-1] >= 0 else f"{-row[-1]} too many")

    def _save(self) -> None:
        self.saved.emit(self.counts())


def _hint(view: SplitView) -> str:
    """Return what to type, or what saving will do."""
    if len(view.references) == 1:
        return "Everything goes in one package again."
    if view.is_one_item:
        if view.may_need_form:
            return "Customs needs a whole item in each package, and there is only one. Use one package."
        return "There is only one item, so each package holds a part of it."
    words = "How many of each item are in each package? The last package gets the rest."
    if not view.is_saved and any(count for line in view.lines for count in line.counts[1:]):
        words += " Filled in as last time."
    return words
