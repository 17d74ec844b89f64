"""Stock of stamps, mailers, inserts and labels: enter purchases, what was spoiled or counted, and see what to buy."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from desk.domain.clock import today
from desk.domain.money import Money, zero
from desk.domain.severity import Severity
from desk.session.money.stock import StockItem, StockRow, buy, count_stock, read_stock, spoil, stock_items
from desk.session.words.figures import amount_words, measure
from desk.session.words.typed_numbers import count_typed
from desk.ui.bridge import Desk, Event
from desk.ui.costs.parts import add_button, lay_out, plain_table, typed_amount
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.rows import TextRows
from desk.ui.kit.wrapping import FlowLayout, labeled

HEADS = ("Item", "On hand", "Cost of these", "Next 30 days", "Batch needs", "Buy", "")
WIDTHS = (260, 90, 120, 130, 110, 80, 160)  # pixels at 100%
ABOUT = (
    "Buy covers this batch and the next 30 days, estimated from past use. Mailers, inserts and labels are counted from "
    "their first purchase, and the oldest are used first. For stock you already had, type its count and what it cost, "
    "then press Counted on hand."
)


class StockPage(QWidget):
    """A line to enter what came or went, and the stock on a day."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.items: tuple[StockItem, ...] = ()
        self.item, self.day = QComboBox(), QLineEdit()
        self.item.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.count, self.price = QLineEdit(), QLineEdit()
        self.count.setPlaceholderText("50")
        self.price.setPlaceholderText(measure("12.50"))
        self.day.setPlaceholderText("2026-07-12")
        for field in (self.count, self.price, self.day):
            field.setMaximumWidth(round(130 * typeface.scale()))
        self.day.editingFinished.connect(self.refresh)
        self.model = TextRows(HEADS, (1, 2, 3, 4, 5))
        self.table = plain_table("Stock", self.model, WIDTHS)
        self.table.set_widths(WIDTHS, dropped_first=(4, 3, 2), grows=(0,))
        self.about = Inked(ABOUT, role="soft_ink")
        self.about.setWordWrap(True)
        self.nothing = EmptyView("No stock yet", "Choose an item, type how many you bought and the price for all.")
        lay_out(self, "Stock", (self._bar(), self.table, self.nothing, self.about), self.table)

    def _bar(self) -> QWidget:
        bar = QWidget()
        line = FlowLayout(bar)
        line.addWidget(labeled("&Item", self.item))
        line.addWidget(labeled("&How many", self.count))
        line.addWidget(labeled("&Price for all", self.price))
        line.addWidget(labeled("&Day", self.day))
        add_button("&Bought", self.enter_purchase, line)
        add_button("&Spoiled", lambda: self.enter(spoil), line)
        add_button("&Counted on hand", self.enter_count, line)
        return bar

    def refresh(self) -> None:
        """Show the stock at the end of the typed day, or now."""
        self._offer(stock_items(self.desk.pile))
        rows = read_stock(self.desk.sitting, self.desk.pile)
        day = self._typed_day() or date.max
        currency = self.desk.pile.terms.shop.policy.currency
        self.model.show_rows([_cells(row, day, currency) for row in rows])
        self.table.setVisible(bool(rows))
        self.nothing.setVisible(not rows)

    def _offer(self, items: tuple[StockItem, ...]) -> None:
        if items == self.items:
            return
        chosen = self.item.currentText()
        self.items = items
        self.item.clear()
        self.item.addItems([one.words for one in items])
        self.item.setCurrentIndex(max(self.item.findText(chosen), 0))

    def enter_purchase(self) -> None:
        """Enter the typed purchase."""
        price = typed_amount(self.price.text(), self.desk.pile.terms.shop.policy.currency)
        day = self._typed_day()
        if price is None:
            self._say(f"Can't read “{self.price.text()}” as a price. Type it like {measure('12.50')}.")
        elif self.day.text().strip() and day is None:
            self._say(f"Can't read “{self.day.text()}” as a day. Type it like 2026-07-12.")
        else:
            bought_on = day or today(self.desk.sitting.clock)
            self.enter(lambda sitting, item, count: buy(sitting, item, count, price, bought_on))

    def enter_count(self) -> None:
        """Enter the typed count, with what all of it cost where a price is typed."""
        text = self.price.text().strip()
        price = typed_amount(text, self.desk.pile.terms.shop.policy.currency) if text else None
        if text and price is None:
            self._say(f"Can't read “{text}” as a price. Type it like {measure('12.50')}.")
        else:
            self.enter(lambda sitting, item, count: count_stock(sitting, item, count, price))

    def enter(self, act: Callable[..., None]) -> None:
        """Enter the typed number with an act; the fields stay when it is refused."""
        text = self.count.text().strip()
        count = count_typed(text)
        if count is None:
            self._say(f"Can't read “{text}” as a number of pieces.")
            return
        self.desk.do(act, self.items[self.item.currentIndex()], count)
        self.refresh()

    def _typed_day(self) -> date | None:
        try:
            return date.fromisoformat(self.day.text().strip())
        except ValueError:
            return None

    def _say(self, words: str) -> None:
        self.desk.happened.emit(Event(words, Severity.STOP))


def _cells(row: StockRow, day: date, currency: str) -> tuple[str, ...]:
    """Return the cells of an item at the end of a day; what it cost, in each currency it was bought in."""
    count, _ = row.on(day)
    costs = [amount_words(Money(cost, part.currency)) for part in row.in_each_currency() if (cost := part.on(day)[1])]
    words = "runs low" if row.runs_low else ""
    buying = str(row.to_buy) if row.to_buy else ""
    known = " + ".join(costs) or ("not entered" if count > 0 else amount_words(zero(currency)))
    return row.item.words, str(count), known, str(row.month), str(row.needed), buying, words
