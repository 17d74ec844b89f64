"""The Papers page: which paper is printed on what, what is loaded in each printer, sizes of your own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtWidgets import QVBoxLayout

from desk.domain.severity import Severity
from desk.session.papers import printing
from desk.session.papers.kinds import TITLES, Paper
from desk.session.papers.paper_settings import (
    PaperSettings,
    SmallLabels,
    choose_paper,
    fits,
    paper_settings,
    save_general,
)
from desk.session.setup.change_shop import FieldFault
from desk.ui.bridge import Desk
from desk.ui.jobs import Job
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import Field, FieldValue
from desk.ui.kit.fields.text_fields import LineField, WordsField
from desk.ui.kit.form import Form, Scrolled, keep
from desk.ui.setup.page import Page
from desk.ui.setup.papers.own_size import OwnSizeCard
from desk.ui.setup.papers.printer_card import PrinterCard

TITLE = "Papers"
NO_PRINTER = ("", "no printer: PDF only")
FROM_PRINTER = ("", "same as in the printer")
SMALL = (
    (SmallLabels.ONE.value, "one per label, on its side where it fits"),
    (SmallLabels.SEVERAL.value, "as many as fit, with cut lines"),
)


class PapersPage(Page):
    """Fields are saved when you leave them. Printers are listed in the background when the page is opened."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self._asking: Job | None = None
        self.queues: tuple[str, ...] = ()
        self.stock_fields = {paper: ChoiceField(f"{paper.value}.stock", "Paper or label", ()) for paper in Paper}
        self.queue_fields = {paper: ChoiceField(f"{paper.value}.queue", "Printer", ()) for paper in Paper}
        self.form = Form(self._choices())
        self.general = Form(_general())
        self.printer, self.own = PrinterCard(desk), OwnSizeCard(desk)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.form, self.general, self.printer, self.own))
        self.form.left.connect(self._choose)
        self.general.left.connect(lambda name: keep(self.general, name, self._save_general))
        self._seen = False
        desk.closing.connect(self._end_job)

    def _choices(self) -> list[Field | str]:
        parts: list[Field | str] = []
        for paper in Paper:
            parts += [TITLES[paper], self.stock_fields[paper], self.queue_fields[paper]]
        return parts

    def settings(self) -> PaperSettings:
        """Return the current settings."""
        return paper_settings(self.desk.sitting)

    def refresh(self) -> None:
        """Show the settings as they are now."""
        settings = self.settings()
        self._offer(settings)
        values: dict[str, str] = {}
        for paper in Paper:
            choice = settings.choice(paper)
            values |= {f"{paper.value}.stock": choice.stock, f"{paper.value}.queue": choice.queue}
        self.form.show_values(values, fresh=not self._seen)
        general = {
            "small_labels": settings.small_labels.value,
            "thanks": settings.thanks,
            "gift_words": settings.gift_words,
        }
        self.general.show_values(general, fresh=not self._seen)
        self.printer.show_settings(settings, self.queues)
        self._seen = True

    def _offer(self, settings: PaperSettings) -> None:
        """Offer the stocks that a paper fits on, and the printers found or chosen before."""
        known = {settings.choice(paper).queue for paper in Paper} - {"", *self.queues}
        for paper in Paper:
            stocks = [(stock.id, stock.words) for stock in settings.stocks() if fits(stock, paper)]
            self.stock_fields[paper].offer((FROM_PRINTER, *stocks))
            self.queue_fields[paper].offer((NO_PRINTER, *((name, name) for name in (*self.queues, *sorted(known)))))

    def arrive(self) -> None:
        """Put the focus on the first paper, and list the printers."""
        self.stock_fields[Paper.LABELS].setFocus()
        if self._asking is None:
            self._asking = Job(lambda _progress, _canceled: printing.queue_names(), self)
            self._asking.done.connect(self.show_queues)
            self._asking.failed.connect(self._fail)
            self._asking.start()

    def show_queues(self, names: tuple[str, ...]) -> None:
        """Offer these printers."""
        self._asking, self.queues = None, names
        self.refresh()

    def _choose(self, field: str) -> None:
        name, _, part = field.rpartition(".")
        paper, value = Paper(name), str(self.form.fields[field].value())
        faults = self.desk.do(choose_paper, paper, {part: value})
        if faults is not None:
            self.form.show_faults((f"{name}.{fault.field}", Severity.STOP, fault.sentence) for fault in faults)

    def _save_general(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(save_general, values)

    def _fail(self, fault: Exception) -> None:
        self._asking = None
        raise fault

    def _end_job(self) -> None:
        if self._asking is not None:
            self._asking.cancel()
            self._asking.wait()
        self.printer.end_job()


def _general() -> list[Field | str]:
    thanks = LineField("thanks", "Thanks on packing slips")
    gift = WordsField("gift_words", "Words in a note that mean a gift (comma-separated)")
    return ["On labels and slips", ChoiceField("small_labels", "Small address labels", SMALL), thanks, gift]
