"""Bought labels: import a PDF, match what is open while looking at the label, accept, and scan to match."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from desk.domain.severity import Severity
from desk.session.labels.accept import LaidOut, accept, lay_out_labels, picture_of, read_files
from desk.session.labels.matching import LabelMatch, Sureness
from desk.session.labels.print_labels import note_labels_printed, print_labels
from desk.session.labels.scan import require_match
from desk.session.labels.settled import label_refusal, waiting_labels
from desk.session.papers.bought_labels import bought_labels
from desk.session.papers.paper_settings import paper_settings
from desk.session.papers.printing import PrintResult
from desk.session.unfinished import WorkKind, begin, end
from desk.session.words.figures import counted, sum_in_words
from desk.ui import common_keys as keys
from desk.ui.actions import Act
from desk.ui.bridge import Desk, Event
from desk.ui.handover.label_work import LabelWork
from desk.ui.kit import type as typeface
from desk.ui.kit.fields.choice_fields import YesNoField
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.files import file_to_save, files_to_open
from desk.ui.kit.named_button import named_button
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.rows import TextRows
from desk.ui.kit.sound import sound
from desk.ui.kit.table import PlainTable
from desk.ui.trade.scan_line import ScanLine

HEADS = ("Page", "Package", "Match", "Why", "Tracking number", "Paid")
WIDTHS = (60, 120, 110, 250, 270, 80)
PICTURE = (260, 390)  # pixels at 100%
SURE = {
    Sureness.MATCHED: "matched",
    Sureness.SEVERAL: "several fit",
    Sureness.WEAK: "not sure",
    Sureness.NONE: "no match",
    Sureness.HELD: "customs first",
    Sureness.ASIDE: "set aside",
}


class LabelsPage(QWidget):
    """The page of bought labels. `done`: go back to the hand-over list."""

    done = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.matches: tuple[LabelMatch, ...] = ()
        self.typed: dict[int, int] = {}  # the piece you matched, by label index
        self.work = LabelWork(self)  # reading, saving and printing labels run one at a time
        self.model = TextRows(HEADS)
        self.table = PlainTable("Labels in the file")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(5, 2, 3), grows=(1, 3, 4))
        self.table.setMinimumHeight(round(200 * typeface.scale()))
        self.picture = PlainLabel()
        self.picture.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.number = LineField("number", "Package number for the selected label")
        self.came_out = LineField("came_out", "Number on the last label that came out (0 if none did)")
        self.scan = ScanLine(desk)
        self.rule = YesNoField("must_match", "Hand over only packages that matched")
        self.counts = PlainLabel()
        self._build()
        self._connect()

    def _build(self) -> None:
        self.open = named_button("Import labels…", self.ask_files)
        self.accept = named_button("Accept and save PDF…", self.ask_where)
        self.print = named_button("Print labels", self.ask_printing)
        self.back = named_button("Back to the list", self.done.emit)
        self.picture.setFixedSize(*(round(side * min(typeface.scale(), 1.2)) for side in PICTURE))
        self.picture.setAccessibleName("The selected label")
        right = QVBoxLayout()
        right.addWidget(self.picture)
        right.addStretch(1)
        middle = QHBoxLayout()
        middle.addWidget(self.table, 1)
        middle.addLayout(right)
        top = QHBoxLayout()
        for button in (self.open, self.accept, self.print, self.back):
            top.addWidget(button)
        top.addWidget(self.counts, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(top)
        column.addWidget(self.scan)
        column.addWidget(self.rule)
        column.addLayout(middle, 1)
        column.addWidget(self.number)
        column.addWidget(self.came_out)
        self.came_out.hide()

    def acts(self) -> Sequence[Act]:
        """Return the keys of this page."""
        return (
            Act("Enter", "Type the number of the selected label; in its field, match it"),
            Act(keys.MATCH, "Scan to match: slip, then label", self.scan.edit.setFocus),
            Act(keys.SAVE, "Save the matched labels as PDF", self.ask_where),
            Act(keys.PRINT, "Print the labels", self.ask_printing),
            Act("Escape", "Back to the list", self.done.emit),
        )

    def _connect(self) -> None:
        self.work.changed.connect(self._show_buttons)
        self.work.refused.connect(self._tell_refused)
        self.number.edit.returnPressed.connect(self.settle)
        self.came_out.edit.returnPressed.connect(self.print_rest)
        self.scan.answered.connect(lambda mark: sound() if mark == Severity.STOP else None)
        self.scan.left.connect(self.done)
        self.rule.left.connect(lambda _name: self._set_rule())
        self.table.entered_row.connect(lambda _row: self.number.edit.setFocus())
        self.table.selectionModel().selectionChanged.connect(lambda *_: self._show_label())

    def refresh(self) -> None:
        """Show the current labels and scans."""
        rows = [self._row(index, one) for index, one in enumerate(self.matches)]
        selected = self.table.chosen_rows()
        self.model.show_rows(rows)
        if selected and selected[0] < len(rows):
            self.table.selectRow(selected[0])
        elif not rows:
            self.picture.setPixmap(QPixmap())
        settled = sum(bool(row[1]) for row in rows)
        aside = sum(one.sureness is Sureness.ASIDE and at not in self.typed for at, one in enumerate(self.matches))
        words = f"{settled} of {len(rows) - aside} matched" if rows else ""
        self.counts.setText(f"{words}, {aside} set aside" if aside else words)
        self._show_buttons()
        self.scan.refresh()
        self.rule.show_kept(bought_labels(self.desk.sitting).must_match)

    def _show_buttons(self) -> None:
        is_free = self.work.is_free
        is_settled = bool(self.typed) or any(one.piece_id is not None for one in self.matches)
        self.open.setEnabled(is_free)
        self.accept.setEnabled(is_free and is_settled)
        self.print.setEnabled(is_free and bool(bought_labels(self.desk.sitting).saved))

    def _row(self, index: int, one: LabelMatch) -> tuple[str, ...]:
        piece = self.typed.get(index, one.piece_id)
        verdict = self.desk.pile.verdicts.get(piece) if piece is not None else None
        number = verdict.case.number if verdict else ""
        sure = "typed" if index in self.typed else SURE[one.sureness]
        paid = sum_in_words(one.paid, "USD") if one.paid is not None else ""
        return f"{one.label.page + 1}", number, sure, one.why, one.tracking, paid

    def ask_files(self) -> None:
        """Ask for PDFs of bought labels, and read them in the background."""
        if files := files_to_open(self, "Import labels", "PDF documents (*.pdf)"):
            self.load(files)

    def load(self, files: list[Path]) -> None:
        """Read and match the labels of files in the background."""
        sitting, pile = self.desk.sitting, self.desk.pile
        self.work.start_alone(lambda _progress, _canceled: read_files(sitting, pile, files), self._show)

    def _show(self, matches: tuple[LabelMatch, ...]) -> None:
        self.matches, self.typed = matches, {}
        self.refresh()
        if not matches:
            self.desk.happened.emit(Event("There are no labels in this file.", Severity.LOOK))
            return
        self.table.selectRow(next(iter(waiting_labels(self.matches, self.typed)), 0))
        self.number.setFocus()

    def settle(self) -> None:
        """Match the selected label to the typed number, and go to the next open one."""
        rows, typed = self.table.chosen_rows(), self.number.value()
        if not rows or not typed:
            return
        piece = self.desk.pile.find(typed)
        why = label_refusal(self.desk.pile.verdicts[piece]) if piece else f"No package has the number {typed}."
        if piece is None or why:
            self.number.say(Severity.LOOK, why)
            return
        self.number.say()
        self.number.put("")
        self.typed[rows[0]] = piece
        self.refresh()
        if unsettled := waiting_labels(self.matches, self.typed):
            self.table.selectRow(unsettled[0])

    def ask_where(self) -> None:
        """Ask where the PDF goes, and accept the labels."""
        if not self.accept.isEnabled():
            self.desk.happened.emit(
                Event("No label is matched yet. Import labels, and match them first.", Severity.LOOK)
            )
            return
        if (file := file_to_save(self, "Save labels as PDF", "bought-labels.pdf", "PDF documents (*.pdf)")) is not None:
            self.accept_to(file)

    def accept_to(self, out: Path) -> None:
        """Lay out the labels in batch order in the background, then save which belongs to which piece."""
        pile, matches, typed = self.desk.pile, self.matches, dict(self.typed)
        settings, fonts = paper_settings(self.desk.sitting), Path(str(self.desk.resources)) / "fonts"
        self.work.start_alone(
            lambda _progress, _canceled: lay_out_labels(pile, matches, typed, settings, out, fonts),
            lambda laid: self._accept(typed, laid, out),
        )

    def _accept(self, typed: dict[int, int], laid: LaidOut, out: Path) -> None:
        """Save the labels that were laid out. Those that still wait for a number stay in the list."""
        if self.desk.do(accept, self.desk.pile, self.matches, typed, laid, out) is None:
            return
        waiting = waiting_labels(self.matches, typed)
        numbers = self.desk.pile.numbers()
        apart = [numbers[reference] for reference, placed in laid if placed.is_left_out]
        slips = sum(placed.has_slip for _, placed in laid)
        words = f"Saved {len(laid) - len(apart)} labels in the order weighed: {out}."
        words += f" {slips} with the number on the next page." if slips else ""
        words += (
            f" Too large for your label size, so print these from the original file: {', '.join(apart)}."
            if apart
            else ""
        )
        words += f" Still waiting for a number: {counted(len(waiting), 'label', 'labels')}." if waiting else ""
        late = {place: self.typed[index] for place, index in enumerate(waiting) if index in self.typed}
        self.matches, self.typed = tuple(self.matches[index] for index in waiting), late
        self.desk.happened.emit(Event(words, Severity.LOOK if apart or waiting else Severity.FINE))
        self.refresh()
        if waiting:
            self.table.selectRow(next(iter(waiting_labels(self.matches, self.typed)), 0))
        (self.number if waiting else self.scan.edit).setFocus()

    def ask_printing(self) -> None:
        """Print the accepted labels; if they were printed before, ask first which label came out last."""
        if bought_labels(self.desk.sitting).was_printed:
            self.came_out.show()
            self.came_out.setFocus()
            words = "These labels were printed before. Type the number on the last one that came out, or 0 if none did."
            self.desk.happened.emit(Event(words, Severity.LOOK))
            return
        self._print("0")

    def print_rest(self) -> None:
        """Print the labels after the typed one."""
        if self.came_out.value():
            self._print(self.came_out.value())

    def _print(self, last_good: str) -> None:
        sitting = self.desk.sitting
        printing = lambda _progress, _canceled: print_labels(sitting, last_good)  # noqa: E731 - the work of a job
        if self.work.is_free:
            begin(sitting, WorkKind.PRINTING, "bought labels")
        self.work.start_alone(printing, self._tell_printed, must_report=True)

    def _tell_refused(self, sentence: str) -> None:
        end(self.desk.sitting, WorkKind.PRINTING)
        self.desk.happened.emit(Event(sentence, Severity.STOP))

    def _tell_printed(self, result: PrintResult) -> None:
        if result.taken:
            self.desk.do_quietly(note_labels_printed)
            self.came_out.put("")
            self.came_out.hide()
        end(self.desk.sitting, WorkKind.PRINTING)
        words = f"{result.words} {len(result.handed)} labels." if result.taken else result.words
        self.desk.happened.emit(Event(words, result.mark))
        self.refresh()

    def _set_rule(self) -> None:
        required = self.rule.value()
        self.desk.do(lambda sitting: require_match(sitting, required=required))
        self.refresh()

    def _show_label(self) -> None:
        """Draw the selected label in the background; meanwhile no other label's picture is shown for it."""
        self.picture.setPixmap(QPixmap())
        one = self._selected()
        if one is not None:
            self.work.start(lambda _progress, _canceled: picture_of(one.label), lambda drawn: self._paint(one, drawn))

    def _selected(self) -> LabelMatch | None:
        rows = self.table.chosen_rows()
        return self.matches[rows[0]] if rows and rows[0] < len(self.matches) else None

    def _paint(self, one: LabelMatch, drawn: tuple[int, int, bytes]) -> None:
        """Show a drawn label, unless another one was selected meanwhile."""
        if one is not self._selected():
            return
        width, height, gray = drawn
        image = QImage(gray, width, height, width, QImage.Format.Format_Grayscale8).copy()
        smooth = Qt.TransformationMode.SmoothTransformation
        pixmap = QPixmap.fromImage(image)
        self.picture.setPixmap(pixmap.scaled(self.picture.size(), Qt.AspectRatioMode.KeepAspectRatio, smooth))

    def end_jobs(self) -> None:
        """Wait for running work, because the store is closing."""
        self.work.end()
