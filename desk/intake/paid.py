"""Read a list of what postage really cost: tracking numbers and amounts, with every fault reported at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from desk.domain.money import Money
from desk.domain.orders.tracking import tracking_number
from desk.intake.columns.amounts import NotRead, money
from desk.intake.columns.headers import Columns, Meanings, by_word, match_headers, meaning
from desk.intake.columns.sheet import Row, Sheet, read_sheet, read_sheet_text
from desk.tables.faults_found import FaultsFound

WORDS = {
    "reference": "ref|order|order number|order no|order id|package|piece",
    "tracking": "tracking number|tracking no|tracking code",
    "paid": "amount|amount paid|postage|postage paid|cost|total|price|charge",
    "kind": "type|entry",
    "recipient": "name|to|buyer|addressee",
    "postal_code": "postal code|zip|zip code|postcode",
    "service": "class|mail class",
    "why": "reason|note",
    "currency": "currency code",
}
FIELDS = by_word(WORDS)
REFUNDS, ADJUSTMENTS = ("refund", "refunded", "credit"), ("adjustment", "surcharge", "correction", "adjusted")


@dataclass(frozen=True, slots=True)
class PaidRow:
    """One row: `kind` is `paid`, `adjustment` or `refund`; a tracking number without an amount is fine."""

    line: int
    reference: str
    recipient: str
    postal_code: str
    tracking: str
    paid: Money | None
    kind: str = "paid"
    service: str = ""
    why: str = ""


def read_paid(path: Path, currency: str) -> tuple[PaidRow, ...]:
    """Read a CSV, TSV, XLSX or ODS list. Raises Unreadable with every fault; then no row counts."""
    return paid_in(read_sheet(path, known=known_paid_headers), currency)


def read_paid_text(text: str, currency: str) -> tuple[PaidRow, ...]:
    """Read a list from text, such as the clipboard's. Raises Unreadable as for a file."""
    return paid_in(read_sheet_text(text, known=known_paid_headers), currency)


def known_paid_headers(cells: Sequence[str]) -> int:
    """Return how many of the cells are headers of such a list."""
    return sum(1 for cell in cells if meaning(cell, FIELDS))


def paid_in(sheet: Sheet, currency: str) -> tuple[PaidRow, ...]:
    """Return the rows of a table. Raises Unreadable with every fault."""
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(FIELDS), faults, sheet.header_line)
    if not columns.places.keys() & {"paid", "tracking"}:
        faults.add(sheet.header_line, "paid", "", "a column with the amount paid or the tracking number")
    if "reference" not in columns.places and not columns.places.keys() >= {"recipient", "postal_code"}:
        faults.add(sheet.header_line, "reference", "", "a column with the order number, or name and postal code")
    faults.raise_any()
    rows = [_row(row, columns, currency, faults) for row in sheet.rows]
    _refuse_doubles(rows, columns, faults)
    faults.raise_any()
    return tuple(rows)


def _row(row: Row, columns: Columns, currency: str, faults: FaultsFound) -> PaidRow:
    texts = {ours: columns.cell(row.cells, ours).strip() for ours in WORDS}
    tracking = tracking_number(texts["tracking"]) if texts["tracking"] else ""
    if tracking is None:
        faults.add(
            row.line, columns.name("tracking"), texts["tracking"], "a tracking number whose check digit is right"
        )
    paid = None
    if not _is_currency(texts["currency"], currency):
        faults.add(row.line, columns.name("currency"), texts["currency"], f"{currency}, the shop's currency")
    try:
        paid = money(texts["paid"], currency) if texts["paid"] else None
    except NotRead as wrong:
        faults.add(row.line, columns.name("paid"), texts["paid"], str(wrong))
    kind = _kind(texts["kind"])
    if kind != "adjustment" and paid is not None and paid.minor < 0:
        kind, paid = "refund", -paid  # refunds are written with or without a minus
    reference = texts["reference"].removeprefix("#").strip()
    if not reference and not (texts["recipient"] and texts["postal_code"]):
        faults.add(row.line, columns.name("reference"), "", "an order number, or name and postal code")
    return PaidRow(
        row.line,
        reference,
        texts["recipient"],
        texts["postal_code"],
        tracking or "",
        paid,
        kind,
        texts["service"],
        texts["why"],
    )


def _is_currency(text: str, currency: str) -> bool:
    """Return True for the currency's code, sign or English name (CLDR, by babel), and for an empty cell."""
    from babel.numbers import get_currency_name

    try:
        return not money(f"0 {text}".strip(), currency).minor
    except NotRead:
        return text.casefold() in {get_currency_name(currency, count, locale="en").casefold() for count in (None, 1, 2)}


def _kind(text: str) -> str:
    word = text.casefold()
    if any(one in word for one in REFUNDS):
        return "refund"
    return "adjustment" if any(one in word for one in ADJUSTMENTS) else "paid"


def _refuse_doubles(rows: list[PaidRow], columns: Columns, faults: FaultsFound) -> None:
    first: dict[str, int] = {}
    for row in rows:
        if not row.tracking or row.kind != "paid":
            continue
        if (line := first.setdefault(row.tracking, row.line)) != row.line:
            faults.add(
                row.line, columns.name("tracking"), row.tracking, f"each tracking number once; it is in line {line} too"
            )
