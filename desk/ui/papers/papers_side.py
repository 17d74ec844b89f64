"""The side of the preview: which paper for which packages, save and print, and what was left out."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import (
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from desk.session.papers.kinds import TITLES, Paper
from desk.session.papers.paper_settings import PageOrder, PaperChoice
from desk.session.papers.printed import Printing
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading, Inked
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.framed import Choices, FramedLine
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.files import documents, file_to_save
from desk.ui.kit.plain import PlainLabel
from desk.ui.papers.model import PaperScope, as_typed

ORDERS = (
    (PageOrder.PILE.value, "in the order weighed"),
    (PageOrder.REVERSE.value, "last one first"),
    (PageOrder.MAILER.value, "by mailer"),
    (PageOrder.DESTINATION.value, "by destination"),
)


class PapersSide(QWidget):
    """The side column. `wanted_changed`: another paper or other pieces; `choice_changed`: another printer or order."""

    wanted_changed = Signal()
    choice_changed = Signal(str, str)  # field of the paper's choice, its new value
    save_asked = Signal()
    print_asked = Signal()
    void_asked = Signal()
    cancel_asked = Signal()
    history_asked = Signal()

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
        papers = tuple((paper.value, TITLES[paper]) for paper in Paper)
        which = (
            (PaperScope.READY.value, "ready packages"),
            (PaperScope.ALL.value, "all packages"),
            (PaperScope.CHOSEN.value, "these packages:"),
        )
        self.paper = ChoiceField("paper", "Paper", papers)
        self.which = ChoiceField("which", "Print for", which)
        self.numbers = LineField("numbers", "Numbers, such as 1047, 1050-1056")
        self.order = ChoiceField("order", "Page order", ORDERS)
        for field in (self.paper, self.which, self.numbers):
            field.left.connect(self._hear)
            self.column.addWidget(field)
        self.order.left.connect(self._choose_order)
        self.column.addWidget(self.order)
        self.numbers.hide()

    def _build_counts(self) -> None:
        self.counts = Inked("", size=typeface.STRONG, bold=True)
        self.stock = Inked("", "soft_ink", typeface.SMALL)
        self.printed = Inked("", "soft_ink", typeface.SMALL)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress")
        self.cancel = self._button("Stop", self.cancel_asked)
        for part in (self.counts, self.stock, self.printed):
            part.setWordWrap(True)
            self.column.addWidget(part)
        line = QHBoxLayout()
        line.addWidget(self.bar, 1)
        line.addWidget(self.cancel)
        self.column.addLayout(line)
        self.show_progress(0, -1)

    def _build_saving(self) -> None:
        self.column.addWidget(Heading("Save"))
        self.file = FramedLine()
        self.choose = QPushButton("Choose…")
        self.save = self._button("Save as PDF", self.save_asked)
        self.choose.setAccessibleName("Choose the file…")
        self.choose.clicked.connect(lambda _checked=False: self.ask_for_file())
        label = PlainLabel("File")
        label.setBuddy(self.file)
        self.file.setAccessibleName("File")
        self.column.addWidget(self.file)
        self._side_by_side(self.save, self.choose)
        self.show_file(Paper.LABELS)

    def _build_printing(self) -> None:
        self.column.addWidget(Heading("Print"))
        self.queue = Choices()
        self.queue.setAccessibleName("Printer")
        self.queue.activated.connect(lambda _index: self.choice_changed.emit("queue", self.queue.currentText()))
        self.from_page = LineField("from_page", "Start at page (after a jam)", hint="1")
        self.queue.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.no_queue = Inked("No printers on this computer. Save the PDF instead.", "soft_ink", typeface.SMALL)
        self.no_queue.setWordWrap(True)
        self.print = self._button("Print", self.print_asked)
        self.void = self._button("Cancel labels", self.void_asked)
        self.void.setAccessibleName("Cancel what was printed for these packages")
        for part in (self.queue, self.from_page, self.no_queue):
            self.column.addWidget(part)
        self._side_by_side(self.print, self.void)
        self.column.addWidget(self._button("What was printed", self.history_asked))
        self.show_queues(())

    def _build_left_out(self) -> None:
        self.left_head = Heading("Left out")
        self.left = Inked("", "ink", typeface.SMALL)
        self.left.setWordWrap(True)
        self.column.addWidget(self.left_head)
        self.column.addWidget(self.left)
        self.show_left_out([])

    def show_printing(self, printing: Printing) -> None:
        """Choose the paper of a printing, for its packages."""
        self.paper.put(printing.paper.value)
        self.which.put(PaperScope.CHOSEN.value)
        self.numbers.put(as_typed(printing.references))
        self._hear("paper")

    def show_file(self, paper: Paper) -> None:
        """Suggest a file name for this paper in the last used folder, unless you chose another."""
        folder = Path(self.file.text()).parent if self.file.text() else documents()
        offered = {one.file_name for one in Paper}
        if not self.file.text() or Path(self.file.text()).name in offered:
            self.file.setText(str(folder / paper.file_name))

    def show_queues(self, names: tuple[str, ...]) -> None:
        """List these printers, or say that there are none."""
        queue = self.queue.currentText()
        self.queue.clear()
        self.queue.addItems(names)
        self.queue.setCurrentIndex(max(0, self.queue.findText(queue)) if names else -1)
        for part in (self.queue, self.from_page):
            part.setVisible(bool(names))
        self.no_queue.setVisible(not names)
        self.print.setEnabled(bool(names))

    def show_choice(self, choice: PaperChoice, stock_words: str) -> None:
        """Show this paper's printer, page order, and stock."""
        self.order.show_kept(choice.order.value)
        self.stock.setText(f"On {stock_words}")
        place = self.queue.findText(choice.queue) if choice.queue else -1
        if place >= 0:
            self.queue.setCurrentIndex(place)

    def first_page(self) -> int:
        """Return the page to print from; 0 when the typed text is no page number."""
        typed = self.from_page.value()
        return int(typed) if typed.isdecimal() else (0 if typed else 1)

    def show_progress(self, done: int, of: int) -> None:
        """Show progress; `of` -1: nothing is being made, 0: the total is unknown."""
        self.bar.setVisible(of >= 0)
        self.cancel.setVisible(of >= 0)
        self.bar.setRange(0, max(of, 0))
        self.bar.setValue(done)

    def show_left_out(self, reasons: list[tuple[str, str]]) -> None:
        """Show the reasons pieces are left out, with the pieces."""
        self.left_head.setVisible(bool(reasons))
        self.left.setVisible(bool(reasons))
        self.left.setText("\n\n".join(f"{why}\n{which}" for why, which in reasons))
        self.left.setAccessibleName(" ".join(f"{which}: {why}" for why, which in reasons))

    def ask_for_file(self) -> None:
        """Ask where to save the PDF."""
        if (file := file_to_save(self, "Save as PDF", self.file.text(), "PDF documents (*.pdf)")) is not None:
            self.file.setText(str(file))

    def _choose_order(self, _name: str) -> None:
        self.choice_changed.emit("order", self.order.value())

    def _hear(self, _name: str) -> None:
        for field in (self.paper, self.which, self.numbers):
            field.kept = field.value()
        chosen = self.which.value() == PaperScope.CHOSEN.value
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
