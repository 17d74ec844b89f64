"""The card of one printer: its stock, resolution, offset and scale, its test page and the measurements."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from desk.domain.severity import Severity
from desk.domain.whole_file import write_whole
from desk.session.papers.paper_settings import PaperSettings, calibrate, paper_settings, save_printer
from desk.session.papers.printer_check import FILE_NAME, make_test_page, print_test_page
from desk.session.papers.printing import PrintResult
from desk.session.papers.saving import cannot_write
from desk.session.setup.change_shop import FieldFault
from desk.session.words.figures import measure
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Job
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import Field, FieldValue, texts_in
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.files import file_to_save
from desk.ui.kit.form import Form, keep

ANY = ("", "no printer: PDF only")
MEASURED = ("left", "bottom", "length")
HOW = (
    "Print the test page, then measure in millimeters. Measure to the cross from the left edge and from the bottom "
    "edge, and measure the 50 mm ruler. The offset and scale follow."
)


class PrinterCard(Card):
    """Fields of the printer chosen at the top; each is saved when you leave it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Printers", "Printers")
        self._desk = desk
        self._job: Job | None = None
        self.which = ChoiceField("queue", "Printer", (ANY,))
        self.stock = ChoiceField("stock", "Loaded with", ())
        self.form = Form([self.stock, *_details()])
        self.measured = Form([LineField("left", "Left edge to cross (mm)"), LineField("bottom", "Bottom edge to cross (mm)"),
                              LineField("length", "Ruler of 50 mm measures (mm)")])  # fmt: skip
        how = Inked(HOW, "soft_ink")
        how.setWordWrap(True)
        self.print, self.save = QPushButton("Print test page"), QPushButton("Save test page…")
        self.apply = QPushButton("Apply what I measured")
        for button, slot in (
            (self.print, self.print_test),
            (self.save, self.ask_where),
            (self.apply, self.apply_measured),
        ):
            button.setAccessibleName(button.text())
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
        self.column.setSpacing(10)
        for part in (self.which, self.form, how):
            self.column.addWidget(part)
        for button in (self.print, self.save):
            self.column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.column.addWidget(self.measured)
        self.column.addWidget(self.apply, 0, Qt.AlignmentFlag.AlignLeft)
        self.which.left.connect(lambda _name: self._switch())
        self.form.left.connect(lambda name: keep(self.form, name, self._save))

    @property
    def queue(self) -> str:
        """The printer whose settings are shown; empty for none."""
        return self.which.value()

    def show_settings(self, settings: PaperSettings, queues: Sequence[str], *, fresh: bool = False) -> None:
        """Show the settings of the chosen printer, and offer these printers and those set up before."""
        names = dict.fromkeys((*queues, *(one.queue for one in settings.printers if one.queue)))
        self.which.offer((ANY, *((name, name) for name in names)))
        self.which.kept = self.which.value()
        self.stock.offer([(stock.id, stock.words) for stock in settings.stocks()])
        printer = settings.printer(self.queue)
        values = {
            "stock": printer.stock,
            "dpi": str(printer.dpi),
            "right_mm": measure(str(printer.right_mm)),
            "up_mm": measure(str(printer.up_mm)),
            "scale_percent": measure(str(printer.scale_percent)),
        }
        self.form.show_values(values, fresh=fresh)
        self.print.setEnabled(bool(self.queue))

    def print_test(self) -> None:
        """Print the test page in the background."""
        if self._job is not None or not self.queue:
            return
        settings, queue, resources = self._settings(), self.queue, self._desk.resources
        self._job = Job(lambda _progress, _canceled: print_test_page(settings, queue, resources), self)
        self._job.done.connect(self._tell)
        self._job.failed.connect(self._fail)
        self._job.start()

    def ask_where(self) -> None:
        """Ask for a file, and save the test page in it."""
        if (file := file_to_save(self, "Save test page", FILE_NAME, "PDF documents (*.pdf)")) is None:
            return
        try:
            write_whole(file, make_test_page(self._settings(), self.queue, self._desk.resources))
        except OSError as fault:
            self._desk.happened.emit(Event(cannot_write(file, fault), Severity.STOP))
        else:
            self._desk.happened.emit(Event(f"Saved the test page: {file}"))

    def apply_measured(self) -> None:
        """Compute offset and scale from the measurements."""
        faults = self._desk.do(calibrate, self.queue, self.measured.texts())
        if faults is None:
            return
        self.measured.show_faults((fault.field, Severity.STOP, fault.sentence) for fault in faults)
        if not faults:
            for name in MEASURED:
                self.measured.fields[name].put("")

    def end_job(self) -> None:
        """Wait for a test page that is being printed, because the store is closing."""
        if self._job is not None:
            self._job.cancel()
            self._job.wait()

    def _settings(self) -> PaperSettings:
        return paper_settings(self._desk.sitting)

    def _switch(self) -> None:
        self.show_settings(
            self._settings(), [self.which.box.itemData(at) for at in range(1, self.which.box.count())], fresh=True
        )

    def _save(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self._desk.do(save_printer, self.queue, texts_in(values))

    def _tell(self, result: PrintResult) -> None:
        self._job = None
        self._desk.happened.emit(Event(result.words, result.mark))

    def _fail(self, fault: Exception) -> None:
        self._job = None
        raise fault


def _details() -> list[Field]:
    return [
        ChoiceField("dpi", "Dots per inch", (("203", "203"), ("300", "300"))),
        LineField("right_mm", "Move right (mm; minus: left)"),
        LineField("up_mm", "Move up (mm; minus: down)"),
        LineField("scale_percent", "Scale (percent)"),
    ]
