"""The texts of an order list's row by field: what is given once for each order, and what is on each line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from operator import itemgetter
from typing import NamedTuple

from desk.intake.columns.headers import Columns
from desk.intake.order_headers.rules import CUSTOMS_FIELDS, ORDER_FIELDS
from desk.intake.orders.order_lines import LineCells

AMOUNTS = ("shipping_paid", "discount", "tax", "tip", "gift_wrap", "insurance", "total", *CUSTOMS_FIELDS)
_TEXTS = (name for name in ORDER_FIELDS if name not in (*LineCells._fields, *AMOUNTS, "order"))
ONCE = (*_TEXTS, *AMOUNTS)  # given once for each order


class OrderTexts(NamedTuple):
    """The texts given once for each order."""

    placed: str = ""
    recipient: str = ""
    first_name: str = ""
    last_name: str = ""
    company: str = ""
    full_address: str = ""
    address1: str = ""
    house_number: str = ""
    address2: str = ""
    address3: str = ""
    city_line: str = ""
    city: str = ""
    region: str = ""
    postal_code: str = ""
    country: str = ""
    email: str = ""
    phone: str = ""
    currency: str = ""
    shipping_choice: str = ""
    status: str = ""
    shipped: str = ""
    buyer_note: str = ""
    shipping_paid: str = ""
    discount: str = ""
    tax: str = ""
    tip: str = ""
    gift_wrap: str = ""
    insurance: str = ""
    total: str = ""
    customs_category: str = ""
    customs_value: str = ""
    itn: str = ""
    buyer_tax_id: str = ""
    ioss: str = ""


assert OrderTexts._fields == ONCE
AMOUNTS_START = len(ONCE) - len(AMOUNTS)
LINE_STARTS = len(ONCE)  # index where the line's fields begin in a picked row


def picker(columns: Columns, fields: Sequence[str]) -> Callable[[tuple[str, ...]], tuple[str, ...]]:
    """Return a function that picks those fields out of a row; empty text where the row or table lacks one."""
    width = len(columns.header)
    picked = itemgetter(*(columns.places.get(name, width) for name in fields))
    padding = ("",) * (width + 1)

    def pick(cells: tuple[str, ...]) -> tuple[str, ...]:
        whole = cells if len(cells) == width else (*cells[:width], *padding[len(cells) : width])
        texts: tuple[str, ...] = picked((*whole, ""))
        return texts

    return pick
