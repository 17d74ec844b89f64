"""An order list (one row per order line) to orders, with every fault of the file told at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from desk.domain.country import Countries
from desk.domain.finding import Code
from desk.domain.order import Order
from desk.domain.order_status import status_key
from desk.intake.columns.header_words import NEEDED, ORDER_WORDS
from desk.intake.columns.headers import (
    ORDER_FIELDS,
    Columns,
    Meanings,
    Suggestion,
    check_values,
    doubtful,
    match_headers,
    suggestions,
)
from desk.intake.columns.mapping_file import ColumnMapping
from desk.intake.columns.sheet import Row, Sheet, read_sheet
from desk.intake.orders.order_rows import OrderReader
from desk.intake.orders.uncollected import uncollected
from desk.intake.table.faults_found import FaultsFound
from desk.intake.table.watch import UNWATCHED, WHOLE, Watch

_SAMPLE_ROWS = 20


@dataclass(frozen=True, slots=True)
class OrdersFile:
    """What an order list held. `skipped` counts orders by their status; `mended` counts postal codes given a zero.

    `suggestions` are optional columns that may be fields of ours and were not taken, because that is not certain;
    `doubtful` are columns that were taken though most of their values are no such thing; `left_out` are the orders
    that have a status to skip.
    """

    orders: tuple[Order, ...]
    skipped: Mapping[str, int]
    mended: int
    header: tuple[str, ...]
    encoding: str
    delimiter: str
    suggestions: tuple[Suggestion, ...] = ()
    doubtful: tuple[Suggestion, ...] = ()
    left_out: tuple[tuple[str, str], ...] = ()  # order number with its prefix, status
    sheet: str = ""


@dataclass(frozen=True, slots=True)
class OrderRules:
    """How a list is read: the countries known, the currency when none is written, statuses to leave out, a mapping."""

    countries: Countries
    currency: str
    mapping: ColumnMapping = field(default_factory=ColumnMapping)
    skip_status: Sequence[str] = ()
    source: str = ""


def read_orders(
    path: Path,
    *,
    countries: Countries,
    currency: str,
    mapping: ColumnMapping | None = None,
    skip_status: Sequence[str] = (),
    source: str = "",
) -> OrdersFile:
    """Read an order list in any column order, encoding and delimiter (CSV, TSV, XLSX, ODS).

    Amounts without a currency are in `currency`, an ISO 4217 code. Raises Unreadable with every fault of the file.
    """
    rules = OrderRules(countries, currency, mapping or ColumnMapping(), skip_status, source)
    with uncollected():
        return orders_in(read_sheet(path, rules.mapping.reading), rules)


def orders_in(sheet: Sheet, rules: OrderRules, watch: Watch = UNWATCHED) -> OrdersFile:
    """The orders of a table already read (with an encoding and delimiter someone may have chosen).

    Raises Unreadable with every fault of the file, and Stopped when whoever watches wants it no more.
    """
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(ORDER_FIELDS, rules.mapping.columns), faults, sheet.header_line)
    _ask_for_needed(sheet, columns, faults)
    check_values(columns, rules.mapping.columns, _sample(sheet), faults, sheet.header_line)
    faults.raise_any()
    groups = group_rows(sheet, columns, faults, watch.part(0, 200))
    skipping = {status_key(status) for status in rules.skip_status}
    left_out: list[tuple[str, str]] = []
    orders = []
    reader = _reader(rules, columns, faults)
    for number, rows in watch.part(200, WHOLE).over(groups):
        status = next(filter(None, (columns.cell(row.cells, "status") for row in rows)), "") if skipping else ""
        if status and status_key(status) in skipping:
            left_out.append((rules.mapping.prefix + number, status))
        elif order := reader.order(number, rows):
            orders.append(order)
    faults.raise_any()
    told = [found.code for order in orders if order.findings for found in order.findings]
    return OrdersFile(
        orders=tuple(orders),
        skipped=dict(Counter(status for _, status in left_out)),
        mended=told.count(Code.POSTAL_CODE_MENDED),
        header=sheet.header,
        encoding=sheet.encoding,
        delimiter=sheet.delimiter,
        suggestions=suggestions(columns, columns.missing(ORDER_WORDS), ORDER_FIELDS, _sample(sheet)),
        doubtful=doubtful(columns, _sample(sheet)),
        left_out=tuple(left_out),
        sheet=sheet.sheet,
    )


def _reader(rules: OrderRules, columns: Columns, faults: FaultsFound) -> OrderReader:
    mapping = rules.mapping
    return OrderReader(rules.countries, rules.currency, mapping.prefix, rules.source, columns, faults, mapping.reading)


def group_rows(
    sheet: Sheet, columns: Columns, faults: FaultsFound, watch: Watch = UNWATCHED
) -> list[tuple[str, list[Row]]]:
    """The rows of each order by its number, together or apart; a row without one continues the order above it."""
    groups: dict[str, list[Row]] = {}
    current: list[Row] | None = None
    place, width = columns.places["order"], len(sheet.header)
    for found in watch.over(sheet.rows):
        row, cells = found, found[1]
        if len(cells) > width and any(cells[width:]):
            row = _told_too_wide(row, place, width, faults)
        number = cells[place].removeprefix("#").strip() if place < len(cells) else ""
        if number and (current := groups.get(number)) is None:
            groups[number] = current = [row]
        elif current is None:
            faults.add(row.line, columns.name("order"), "", "an order number; no order stands above this row")
        else:
            current.append(row)
    return list(groups.items())


def _told_too_wide(row: Row, place: int, width: int, faults: FaultsFound) -> Row:
    """The row with its order's number alone: its other cells may have moved, and would be blamed wrongly."""
    expected = f"at most {width} cells as in the header; a cell with the delimiter in it needs quotes"
    faults.add(row.line, "", next(filter(None, row.cells[width:])), expected)
    return Row(row.line, (*[""] * place, row.cells[place]))


_SAY_SO = "a mapping (--map, with a table [columns]) for columns that are not certain either:"


def _ask_for_needed(sheet: Sheet, columns: Columns, faults: FaultsFound) -> None:
    """A fault for each missing column nothing can be done without, with what may be meant in this file."""
    missing = columns.missing(NEEDED)
    if not missing:
        return
    offered = suggestions(columns, columns.missing(ORDER_WORDS), ORDER_FIELDS, _sample(sheet))
    by_field = {offer.ours: offer for offer in offered}
    for ours in missing:
        hint = f"; perhaps {by_field[ours].words()}" if ours in by_field else ""
        faults.add(sheet.header_line, ours, "", f"a column for {ours}{hint}")
    others = [offer.words() for offer in offered if offer.ours not in missing]
    if others:
        faults.add(sheet.header_line, "", "", f"{_SAY_SO} {'; '.join(others)}")


def _sample(sheet: Sheet) -> list[tuple[str, ...]]:
    return [row.cells for row in sheet.rows[:_SAMPLE_ROWS]]
