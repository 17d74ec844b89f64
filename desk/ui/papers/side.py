"""At the left of the preview: which paper of which pieces, save and print, and what was left out."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QStandardPaths, Signal, SignalInstance
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from desk.session.papers.printing import Paper
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading, Inked
from desk.ui.kit.field import ChoiceField, Choices, Line, LineField
from desk.ui.kit.plain import PlainLabel
from desk.ui.papers.model import Which, say


class PapersSide(QWidget):
    """`wanted_changed`: another paper or other pieces are wanted."""

    wanted_changed = Signal()
    save_asked = Signal()
    print_asked = Signal()
    void_asked = Signal()
    cancel_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 12, 8)
        self.column.setSpacing(6)
        self._build_wanted()
        self._build_counts()
        self._build_saving()
        self._build_printing()
        self._build_left_out()
        self.column.addStretch(1)

    def _build_wanted(self) -> None:
        papers = tuple((paper.value, paper.value.capitalize()) for paper in Paper)
        which = (
            (Which.READY.value, say("pieces that are ready")),
            (Which.ALL.value, say("every piece")),
            (Which.CHOSEN.value, say("these pieces:")),
        )
        self.paper = ChoiceField("paper", say("Paper"), papers)
        self.which = ChoiceField("which", say("Of"), which)
        self.numbers = LineField("numbers", say("Numbers, such as 1047, 1050-1056"))
        for field in (self.paper, self.which, self.numbers):
            field.left.connect(self._hear)
            self.column.addWidget(field)
        self.numbers.hide()

    def _build_counts(self) -> None:
        self.counts = Inked("", size=typeface.STRONG, bold=True)
        self.printed = Inked("", "soft_ink", typeface.SMALL)
        self.bar = QProgressBar()
        self.bar.setAccessibleName(say("How much of it is made"))
        self.cancel = self._button(say("Stop"), self.cancel_asked)
        for part in (self.counts, self.printed):
            part.setWordWrap(True)
            self.column.addWidget(part)
        line = QHBoxLayout()
        line.addWidget(self.bar, 1)
        line.addWidget(self.cancel)
        self.column.addLayout(line)
        self.show_progress(0, -1)

    def _build_saving(self) -> None:
        self.column.addWidget(Heading(say("Save")))
        self.file = Line()
        self.choose = QPushButton(say("Choose …"))
        self.save = self._button(say("Save as PDF"), self.save_asked)
        self.choose.setAccessibleName(say("Choose the file"))
        self.choose.clicked.connect(lambda _checked=False: self.ask_for_file())
        label = PlainLabel(say("File"))
        label.setBuddy(self.file)
        self.file.setAccessibleName(say("File"))
        self.column.addWidget(self.file)
        self._side_by_side(self.save, self.choose)
        self.show_file(Paper.LABELS)

    def _build_printing(self) -> None:
        self.column.addWidget(Heading(say("Print")))
        self.queue = Choices()
        self.queue.setAccessibleName(say("Print queue"))
        self.queue.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.no_queue = Inked(say("No print queue on this machine: save the PDF."), "soft_ink", typeface.SMALL)
        self.no_queue.setWordWrap(True)
        self.print = self._button(say("Print"), self.print_asked)
        self.void = self._button(say("Void"), self.void_asked)
        self.void.setAccessibleName(say("Void what was printed of these pieces"))
        for part in (self.queue, self.no_queue):
            self.column.addWidget(part)
        self._side_by_side(self.print, self.void)
        self.show_queues(())

    def _build_left_out(self) -> None:
        self.left_head = Heading(say("Left out"))
        self.left = Inked("", "ink", typeface.SMALL)
        self.left.setWordWrap(True)
        self.column.addWidget(self.left_head)
        self.column.addWidget(self.left)
        self.show_left_out([])

    def show_file(self, paper: Paper) -> None:
        """Offer a name for this paper in the folder used last, unless a person chose another name."""
        folder = Path(self.file.text()).parent if self.file.text() else _documents()
        offered = {one.value.replace(" ", "-") + ".pdf" for one in Paper}
        if not self.file.text() or Path(self.file.text()).name in offered:
            self.file.setText(str(folder / f"{paper.value.replace(' ', '-')}.pdf"))

    def show_queues(self, names: tuple[str, ...]) -> None:
        """Offer these print queues; with none, say so."""
        kept = self.queue.currentText()
        self.queue.clear()
        self.queue.addItems(names)
        self.queue.setCurrentIndex(max(0, self.queue.findText(kept)) if names else -1)
        self.queue.setVisible(bool(names))
        self.no_queue.setVisible(not names)
        self.print.setEnabled(bool(names))

    def show_progress(self, done: int, of: int) -> None:
        """How much is done; of -1: nothing is being made, of 0: nobody knows how much it is."""
        self.bar.setVisible(of >= 0)
        self.cancel.setVisible(of >= 0)
        self.bar.setRange(0, max(of, 0))
        self.bar.setValue(done)

    def show_left_out(self, reasons: list[tuple[str, str]]) -> None:
        """Why something is not on the paper, and which pieces."""
        self.left_head.setVisible(bool(reasons))
        self.left.setVisible(bool(reasons))
        self.left.setText("\n\n".join(f"{why}\n{which}" for why, which in reasons))
        self.left.setAccessibleName(" ".join(f"{which}: {why}" for why, which in reasons))

    def ask_for_file(self) -> None:
        """Let the person choose where the PDF goes."""
        name, _ = QFileDialog.getSaveFileName(self, say("Save as PDF"), self.file.text(), "PDF (*.pdf)")
        if name:
            self.file.setText(name)

    def _hear(self, _name: str) -> None:
        for field in (self.paper, self.which, self.numbers):
            field.kept = field.value()
        chosen = self.which.value() == Which.CHOSEN.value
        self.numbers.setVisible(chosen)
        if chosen and not self.numbers.value():
            self.numbers.setFocus()
        self.show_file(Paper(self.paper.value()))
        self.wanted_changed.emit()

    def _button(self, words: str, signal: SignalInstance) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words)
        button.clicked.connect(lambda _checked=False: signal.emit())
        return button

    def _side_by_side(self, *buttons: QPushButton) -> None:
        line = QHBoxLayout()
        for button in buttons:
            line.addWidget(button)
        self.column.addLayout(line)


def _documents() -> Path:
    return Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation) or Path.home())
