"""What the pages of Costs share: a button in a line, a table with widths, a typed amount."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from PySide6.QtWidgets import QComboBox, QPushButton, QVBoxLayout, QWidget

from desk.domain.money import Money
from desk.session.words.typed_numbers import number_typed
from desk.ui.kit import type as typeface
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.form import Scrolled
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout

LEAST = 320  # least height of a table in pixels, where the page scrolls


def add_button(words: str, do: Callable[[], None], line: FlowLayout) -> QPushButton:
    """Add a button to a line and return it."""
    button = QPushButton(words)
    button.setAccessibleName(words.replace("&", "").rstrip("…"))
    button.clicked.connect(lambda _checked=False: do())
    line.addWidget(button)
    return button


def plain_table(name: str, model: TextRows, widths: tuple[int, ...]) -> PlainTable:
    """Return a table of these rows; widths in pixels at 100%."""
    table = PlainTable(name)
    table.setModel(model)
    table.set_widths(widths)
    table.horizontalHeader().setStretchLastSection(True)
    return table


def typed_amount(text: str, currency: str) -> Money | None:
    """Return a typed amount, with or without its dollar sign; None when it can't be read or is below 0."""
    try:
        amount = number_typed(text.strip().strip("$").strip())
        return Money.of(amount, currency) if 0 <= amount < 10**6 else None
    except (ArithmeticError, ValueError):
        return None


def fill_choices(box: QComboBox, choices: Iterable[tuple[object, str]], usual: object = None) -> None:
    """Fill a list of choices: what each stands for, and its words. The chosen one stays; at first the usual one is."""
    chosen = box.currentData() if box.count() else usual
    box.blockSignals(True)
    box.clear()
    for data, words in choices:
        box.addItem(words, data)
    box.setCurrentIndex(max(box.findData(chosen), 0))
    box.blockSignals(False)


def lay_out(page: QWidget, name: str, parts: Sequence[QWidget], *growing: QWidget) -> None:
    """Place the parts of a page below each other; what grows gets the room. With large type the whole page scrolls."""
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    if typeface.scale() >= ONE_COLUMN_FROM:
        for part in growing:
            part.setMinimumHeight(LEAST)
        column.addWidget(Scrolled(name, *parts))
        return
    for part in parts:
        column.addWidget(part, 1 if part in growing else 0)
