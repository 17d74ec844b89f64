"""What the pages of Costs share: a button in a line, a table with widths, a typed amount."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton

from desk.domain.money import Money
from desk.session.words.figures import number_typed
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout


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
