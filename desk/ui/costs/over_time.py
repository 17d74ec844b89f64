"""Money over time: sums of the ledger by day, batch, month, place or service, and the files for the accountant."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QComboBox, QWidget

from desk.domain.ledger import Entry, GroupBy
from desk.session.money.books import BookLine, read_sums, years_with_money
from desk.session.money.group_words import group_words
from desk.session.pile.earlier import every_number
from desk.session.words.figures import amount_words, counted
from desk.ui.bridge import Desk
from desk.ui.costs.book_files import BookFiles
from desk.ui.costs.parts import lay_out
from desk.ui.kit import type as typeface
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout, labeled

HEADS = ("", "Packages", "Shipping paid", "Postage", "Materials", "Refunds", "Margin", "")
FIGURES = (1, 2, 3, 4, 5, 6)
WIDTHS = (200, 96, 116, 116, 108, 100, 108, 210)  # pixels at 100%


class OverTimePage(QWidget):
    """The sums of everything handed over."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.by, self.year = QComboBox(), QComboBox()
        for group in GroupBy:
            self.by.addItem(group.value.capitalize(), group)
        self.by.setCurrentIndex(self.by.findData(GroupBy.MONTH))
        for box in (self.by, self.year):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.currentIndexChanged.connect(lambda _place: self.show_sums())
        choices = QWidget()
        self.files = BookFiles(desk)
        line = FlowLayout(choices)
        for part in (labeled("&By", self.by), labeled("&Year", self.year), self.files):
            line.addWidget(part)
        self.model = TextRows(HEADS, FIGURES)
        self.table = PlainTable("Money over time")
        self.table.setModel(self.model)
        self.table.set_widths(WIDTHS, dropped_first=(4, 5, 1, 7), grows=(0,))
        self.table.horizontalHeader().setStretchLastSection(True)
        self.nothing = EmptyView("No amounts yet", "Amounts appear here when packages are handed over.")
        self.foot = PlainLabel()
        self.foot.setWordWrap(True)
        self.foot.setFont(typeface.font(typeface.STRONG, bold=True))
        lay_out(self, "Over time", (choices, self.table, self.nothing, self.foot), self.table)

    def refresh(self) -> None:
        """Read the ledger's years, and show the sums of the chosen one."""
        chosen = self.year.currentData()
        self.year.blockSignals(True)
        self.year.clear()
        for year in years_with_money(self.desk.sitting):
            self.year.addItem(str(year), year)
        self.year.setCurrentIndex(max(self.year.findData(chosen), 0))
        self.year.blockSignals(False)
        self.show_sums()

    def show_sums(self) -> None:
        """Show the sums of the chosen year by the chosen group."""
        year, by = self.year.currentData(), GroupBy(self.by.currentData())
        self.files.year = year
        span = (date(year, 1, 1), date(year, 12, 31)) if year else (None, None)
        lines = read_sums(self.desk.sitting, by, *span) if year else []
        self.model.name_columns((self.by.currentText(), *HEADS[1:]))
        numbers = every_number(self.desk.sitting) if by is GroupBy.PACKAGE else {}
        self.model.show_rows([_cells(numbers.get(line.group) or group_words(by, line.group), line) for line in lines])
        for part in (self.table, self.files):
            part.setVisible(bool(lines))
        self.nothing.setVisible(not lines)
        whole = read_sums(self.desk.sitting, GroupBy.YEAR, *span) if lines else []
        self.foot.setText(" ".join(_sums(line) for line in whole))


def _cells(name: str, line: BookLine) -> tuple[str, ...]:
    money = (
        line.amount(Entry.SHIPPING_PAID),
        line.postage,
        -line.amount(Entry.MATERIALS),
        -line.amount(Entry.BUYER_REFUND),
        line.margin,
    )
    how_sure = _how_sure(line)
    return (name, str(line.packages), *map(amount_words, money), how_sure and f"postage {how_sure}")


def _sums(line: BookLine) -> str:
    packages = counted(line.packages, "package")
    margin, postage = (amount_words(one) for one in (line.margin, line.postage))
    how_sure = _how_sure(line)
    return f"{line.group}: {packages}, postage {postage}{how_sure and f' ({how_sure})'}, margin {margin}."


def _how_sure(line: BookLine) -> str:
    """Return whether all or some of the postage is an estimate; empty when all was paid."""
    if not line.is_estimated:
        return ""
    return "partly estimated" if line.amount(Entry.POSTAGE_PAID) else "estimated"
