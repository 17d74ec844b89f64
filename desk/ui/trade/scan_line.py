"""Scan to match: a field for the scans, a word and a mark for the last comparison, and the state of the whole pile."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.session.labels.scan import match_state
from desk.session.labels.scan_turn import ScanAnswer, ScanTurn
from desk.session.words.figures import pieces_in_words
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.mark import ROLE_OF
from desk.ui.kit.message import MarkDot
from desk.ui.kit.plain import PlainLabel


class ScanLine(QWidget):
    """The field keeps the focus between scans. `slip_read`: the piece of a slip, `answered`: a mark, `left`: Escape."""

    slip_read = Signal(int)
    answered = Signal(object)  # the mark: a Severity
    left = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.turn = ScanTurn()
        self.edit = QLineEdit()
        self.edit.setAccessibleName("Scan to match: slip, then label")
        self.edit.setPlaceholderText("slip, then label")
        self.edit.installEventFilter(self)
        self.mark, self.result = MarkDot(Severity.NOTE), Inked(size=typeface.HEAD, bold=True)
        self.state = PlainLabel()
        self.state.setWordWrap(True)
        self.result.setWordWrap(True)
        label = PlainLabel("Scan to match")
        label.setBuddy(self.edit)
        line = QHBoxLayout()
        line.addWidget(label)
        line.addWidget(self.edit, 1)
        line.addWidget(self.state, 1)
        answer = QHBoxLayout()
        answer.addWidget(self.mark)
        answer.addWidget(self.result, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(line)
        column.addLayout(answer)
        self.mark.hide()

    def open(self, turn: ScanTurn | None = None) -> None:
        """Show the field and put the focus there. Without a scan to continue it starts with a slip."""
        if turn is None:
            self.turn = ScanTurn()
            self.result.setText("")
            self.mark.hide()
        self.refresh()
        self.show()
        self.edit.clear()
        self.edit.setFocus()

    def refresh(self) -> None:
        """Show the match state of the whole pile."""
        state = match_state(self._desk.sitting, self._desk.pile)
        self.state.setText(
            f"{pieces_in_words(len(state.matched))} matched, {len(state.mismatched)} mismatched, "
            f"{len(state.unscanned)} not scanned"
        )

    def scanned(self, code: str) -> None:
        """Use one scan: first the slip's code, then the label's."""
        if code:
            self._say(self._desk.do_quietly(self.turn.take, self._desk.pile, code))

    def compare(self, slip: str, label: str) -> None:
        """Compare a label with the slip of that reference, which was scanned or typed before."""
        self.turn.slip = slip
        self._say(self._desk.do_quietly(self.turn.compare, self._desk.pile, label))

    def _say(self, answer: ScanAnswer | None) -> None:
        if answer is None:
            return
        self.mark.kind = answer.mark
        self.mark.show()
        self.mark.update()
        self.result.role = ROLE_OF[answer.mark]
        self.result.setText(answer.words)
        self.refresh()
        if answer.piece is not None:
            self.slip_read.emit(answer.piece)
        else:
            self.answered.emit(answer.mark)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.edit and isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                code = self.edit.text().strip()
                self.edit.clear()
                self.scanned(code)
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.left.emit()
                return True
        return super().eventFilter(watched, event)
