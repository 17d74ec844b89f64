"""Money over time: sums of the ledger by day, month, year, place or service, and the year for the accountant."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from PySide6.QtWidgets import QComboBox, QPushButton, QVBoxLayout, QWidget

from desk.domain.ledger import Entry
from desk.domain.severity import Severity
from desk.session.money.books import BookLine, GroupBy, add_up, read_books
from desk.session.money.stock import read_stock, stock_sheet
from desk.session.money.year_file import write_year
from desk.session.papers.saving import cannot_write
from desk.session.words.figures import amount_words, counted
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Canceled, Job, Progress
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.files import file_to_save
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout, labeled

HEADS = ("", "Packages", "Shipping paid", "Postage", "Materials", "Refunds", "Margin", "")
FIGURES = (1, 2, 3, 4, 5, 6)
WIDTHS = (160, 96, 116, 116, 108, 100, 108, 160)  # pixels at 100 %
WORDS = {
    GroupBy.DAY: "Day",
    GroupBy.MONTH: "Month",
    GroupBy.YEAR: "Year",
    GroupBy.COUNTRY: "Country",
    GroupBy.STATE: "State",
    GroupBy.SERVICE: "Service",
}


class OverTimePage(QWidget):
    """The sums of everything handed over."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._job: Job | None = None
        self.by, self.year = QComboBox(), QComboBox()
        for group, words in WORDS.items():
            self.by.addItem(words, group)
        self.by.setCurrentIndex(list(WORDS).index(GroupBy.MONTH))
        for box in (self.by, self.year):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.currentIndexChanged.connect(lambda _place: self.show_sums())
        self.save = QPushButton("&Save the year as a workbook…")
        self.save.setAccessibleName("Save the year as a workbook")
        self.save.clicked.connect(lambda _checked=False: self.ask_where())
        choices = QWidget()
        line = FlowLayout(choices)
        line.addWidget(labeled("&By", self.by))
        line.addWidget(labeled("&Year", self.year))
        line.addWidget(self.save)
        self.model = TextRows(HEADS, FIGURES)
        self.table = PlainTable("Money over time")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(4, 5, 1))
        self.table.horizontalHeader().setStretchLastSection(True)
        self.nothing = EmptyView("No amounts yet", "Amounts appear here when packages are handed over.")
        self.foot = PlainLabel()
        self.foot.setWordWrap(True)
        self.foot.setFont(typeface.font(typeface.STRONG, bold=True))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (choices, self.table, self.nothing, self.foot):
            column.addWidget(part, 1 if part is self.table else 0)

    def refresh(self) -> None:
        """Read the ledger's years, and show the sums of the chosen one."""
        rows = read_books(self.desk.sitting)
        years = sorted({row.mailed_on.year for row in rows}, reverse=True)
        chosen = self.year.currentData()
        self.year.blockSignals(True)
        self.year.clear()
        for year in years:
            self.year.addItem(str(year), year)
        self.year.setCurrentIndex(max(self.year.findData(chosen), 0))
        self.year.blockSignals(False)
        self.show_sums()

    def show_sums(self) -> None:
        """Show the sums of the chosen year by the chosen group."""
        year = self.year.currentData()
        span = (None, None) if year is None else (date(year, 1, 1), date(year, 12, 31))
        rows = [] if year is None else read_books(self.desk.sitting, *span)
        lines = add_up(rows, self.by.currentData())
        self.model.name_columns((self.by.currentText(), *HEADS[1:]))
        self.model.show_rows([_cells(line) for line in lines])
        for part in (self.table, self.save):
            part.setVisible(bool(lines))
        self.nothing.setVisible(not lines)
        self.foot.setText(" ".join(_sums(line) for line in add_up(rows, GroupBy.YEAR)))

    def ask_where(self) -> None:
        """Ask for a file and write the chosen year into it, in the background."""
        year = self.year.currentData()
        if year is None or (self._job is not None and self._job.is_running()):
            return
        if (file := file_to_save(self, "Save the year", f"costs-{year}.xlsx", "Workbook (*.xlsx)")) is not None:
            self.write(file, year)

    def write(self, file: Path, year: int) -> None:
        """Write a year into a file, in the background."""
        rows = read_books(self.desk.sitting, date(year, 1, 1), date(year, 12, 31))
        stock = stock_sheet(read_stock(self.desk.sitting, self.desk.pile), year)

        def work(_progress: Progress, canceled: Canceled) -> bool:
            return write_year(rows, stock, file, canceled)

        self._job = Job(work, self)
        self._job.done.connect(lambda _finished: self.desk.happened.emit(Event(f"Saved: {file.name}")))
        self._job.failed.connect(lambda error: self._fail(file, error))
        self._job.start()

    def _fail(self, file: Path, error: Exception) -> None:
        """Show why the file could not be written; anything else is a bug."""
        if not isinstance(error, OSError):
            raise error
        self.desk.happened.emit(Event(cannot_write(file, error), Severity.STOP))


def _cells(line: BookLine) -> tuple[str, ...]:
    money = (
        line.amount(Entry.SHIPPING_PAID),
        line.postage,
        -line.amount(Entry.MATERIALS),
        -line.amount(Entry.BUYER_REFUND),
        line.margin,
    )
    remark = "postage partly estimated" if line.is_estimated else ""
    sums = (amount_words(amount) for amount in money)
    return (line.group or "\u2014", str(len(line.pieces)), *sums, remark)


def _sums(line: BookLine) -> str:
    packages = counted(len(line.pieces), "package")
    margin, postage = (amount_words(one) for one in (line.margin, line.postage))
    return f"{line.group}: {packages}, postage {postage}, margin {margin}."
