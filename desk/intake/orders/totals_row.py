"""Recognize the rows of sums below an order list, which are no orders. Common practice, no source."""

from __future__ import annotations

import re
from collections.abc import Sequence

from desk.intake.columns.currencies import CURRENCIES
from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Row
from desk.intake.columns.value_kinds import fits
from desk.intake.order_headers.words import plain

LEFT_OUT_AS = "row of totals"
_WORDS = frozenset(
    "total totals sum sums summe summen gesamt gesamtsumme zwischensumme somme totaux suma totales subtotal sub grand overall general "
    "generale count average".split()
)
_COUNTED = frozenset(("order", "orders"))  # what the sum may be of
_WORD = re.compile(r"[^\W_]+")
_AN_ORDER_HAS = (
    "order",
    "recipient",
    "first_name",
    "last_name",
    "full_address",
    "address1",
    "postal_code",
    "email",
    "item",
    "sku",
)


def totals_at_end(rows: Sequence[Row], columns: Columns) -> int:
    """Return how many of the last rows hold sums: words such as "Total", or amounts alone under an empty number.

    Rows without a number continue an order where others above them do, so those count only with such a word.
    """
    at, place = len(rows), columns.places["order"]
    while at > 1 and _is_of_totals(rows[at - 1].cells, columns):
        at -= 1
    totals = len(rows) - at
    if not totals:
        return 0
    continues = any(place >= len(row.cells) or not row.cells[place] for row in rows[:at])
    if continues and not all(any(map(_is_word, row.cells)) for row in rows[at:]):
        return 0
    return totals


def _is_of_totals(cells: Sequence[str], columns: Columns) -> bool:
    """Return whether a row has nothing that an order needs, and only words for sums beside its amounts."""
    named = [columns.cell(cells, name) for name in _AN_ORDER_HAS]
    others = [cell for cell in cells if cell and not fits("total", [cell])]
    return all(not text or _is_word(text) for text in named) and all(map(_is_word, others)) and any(cells)


def _is_word(text: str) -> bool:
    """Return whether a text names a sum, perhaps with what it counts or its currency: "Total orders: 2"."""
    words = {word for word in _WORD.findall(plain(text)) if not (word.isdecimal() or word.upper() in CURRENCIES)}
    return bool(words & _WORDS) and words <= _WORDS | _COUNTED
