"""A column of short facts: mark, bold heading, a sentence, what to do, and the source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.message import MarkDot


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact; empty parts take no room."""

    mark: Severity
    head: str
    sentence: str
    way_out: str = ""
    source: str = ""


class WhyColumn(QWidget):
    """The facts, in the order given."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(round(10 * typeface.scale()))
        self.facts: tuple[Fact, ...] = ()

    def show_facts(self, facts: Sequence[Fact]) -> None:
        """Show these facts; showing the same ones again is free."""
        if tuple(facts) == self.facts:
            return
        self.facts = tuple(facts)
        while (item := self._column.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for fact in facts:
            self._column.addWidget(_FactLines(fact))


class _FactLines(QWidget):
    def __init__(self, fact: Fact) -> None:
        super().__init__()
        self.setAccessibleName(f"{fact.mark}: {fact.head.rstrip('.')}. {fact.sentence} {fact.way_out}".strip())
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(10)
        grid.setVerticalSpacing(1)
        grid.setColumnStretch(1, 1)
        grid.addWidget(MarkDot(fact.mark), 0, 0, Qt.AlignmentFlag.AlignVCenter)
        lines = (
            Inked(fact.head, size=typeface.STRONG, bold=True),
            Inked(fact.sentence, "soft_ink", typeface.BODY),
            Inked(fact.way_out, "ink", typeface.BODY),
            Inked(fact.source, "teal", typeface.SMALL),
        )
        for row, line in enumerate(lines):
            if line.text():
                line.setWordWrap(True)
                grid.addWidget(line, row, 1)
