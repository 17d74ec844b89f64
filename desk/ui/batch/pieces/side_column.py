"""The side column: findings about the selected piece, and its history."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.session.history import PieceStep
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import moment_in_words
from desk.session.words.sentences import sentence, shown_source, way_out
from desk.ui.kit import type as typeface
from desk.ui.kit.mark import paint_mark
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.plain import PlainLabel


class Remark(QWidget):
    """A mark and an issue, with what to do and the source below in soft ink."""

    def __init__(self, mark: Severity | None, words: str, below: Sequence[str]) -> None:
        super().__init__()
        self._mark = mark
        column = QVBoxLayout(self)
        indent = round(22 * typeface.scale())
        column.setContentsMargins(indent if mark is not None else 0, 4, 0, 6)
        column.setSpacing(2)
        column.addWidget(_label(words, typeface.BODY))
        for text in filter(None, below):
            label = _label(text, typeface.SMALL)
            label.setForegroundRole(label.foregroundRole().PlaceholderText)
            column.addWidget(label)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._mark is not None:
            side = 13 * typeface.scale()
            paint_mark(QPainter(self), self._mark, QRectF(1, 8, side, side), sheet_in_force())


class SideColumn(QScrollArea):
    """The column. It is for reading; nothing in it takes the focus."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Selected piece")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self.setFixedWidth(round(290 * typeface.scale()))

    def show_piece(self, verdict: Verdict | None, past: Sequence[PieceStep]) -> None:
        """Show a piece, or clear the column."""
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(2)
        if verdict is not None:
            column.addWidget(_label(verdict.case.number, typeface.HEAD, bold=True))
            self._add_findings(column, verdict)
            self._add_past(column, past)
        column.addStretch(1)
        self.setWidget(body)

    def _add_findings(self, column: QVBoxLayout, verdict: Verdict) -> None:
        issues = [issue for issue in verdict.findings if issue.severity is not Severity.FINE]
        column.addWidget(_heading("Issues"))
        for issue in issues:
            seen = issue.severity is Severity.LOOK and issue.code in verdict.case.answered
            mark = Severity.FINE if seen else issue.severity
            below = ("Checked, it's right.",) if seen else (way_out(issue), shown_source(issue))
            column.addWidget(Remark(mark, sentence(issue), below))
        if not issues:
            column.addWidget(Remark(Severity.FINE, "Nothing to check.", ()))

    def _add_past(self, column: QVBoxLayout, past: Sequence[PieceStep]) -> None:
        column.addWidget(_heading("History"))
        patterns = {"undo": "Undone: {step}", "redo": "Redone: {step}"}
        for step in past:
            words = patterns.get(step.kind, "{step}").format(step=step.name)
            column.addWidget(Remark(None, words, (moment_in_words(step.at),)))


def _label(words: str, size: int, *, bold: bool = False) -> QLabel:
    label = PlainLabel(words)
    label.setWordWrap(True)
    label.setFont(typeface.font(size, bold=bold))
    return label


def _heading(words: str) -> QLabel:
    label = _label(words, typeface.SMALL)
    label.setFont(typeface.heading_font())
    label.setForegroundRole(label.foregroundRole().PlaceholderText)
    label.setContentsMargins(0, 12, 0, 2)
    return label
