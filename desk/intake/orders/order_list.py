"""Turn an order list (one row per order line) into orders. What cannot be read in one order never stops the others."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum, auto
from itertools import islice
from pathlib import Path

from desk.domain.codes import Code
from desk.domain.orders.order import Order
from desk.domain.orders.order_status import status_key
from desk.domain.places.country import HOME, Countries
from desk.intake.columns.formats import FormatQuestion
from desk.intake.columns.headers import Columns
from desk.intake.columns.samples import Samples
from desk.intake.columns.sheet import Row, Sheet, read_sheet
from desk.intake.order_headers.likely_by_cells import with_likely_cells
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.order_headers.match import OrderColumns, match_order_headers
from desk.intake.order_headers.rules import known_order_headers
from desk.intake.orders.addresses import SplitExample, split_address
from desk.intake.orders.cells import ReadOnce
from desk.intake.orders.column_formats import ColumnTexts, column_formats, format_questions
from desk.intake.orders.counted_items import CellOfItems, ItemCells, cells_of_items, item_cells
from desk.intake.orders.hypotheses import settle_amounts
from desk.intake.orders.needed import refuse_missing
from desk.intake.orders.one_country import likely_country, with_one_country
from desk.intake.orders.order_lines import KnownProducts
from desk.intake.orders.order_rows import LONGEST_NUMBER, SHORT, OrderReader, OrderTerms
from desk.intake.orders.side_by_side import in_rows
from desk.intake.orders.statuses import ShippedColumn, is_shipped
from desk.intake.orders.totals_row import LEFT_OUT_AS, totals_at_end
from desk.intake.orders.uncollected import uncollected
from desk.tables.faults_found import FaultsFound
from desk.tables.watch import UNWATCHED, WHOLE, Watch
from desk.tables.workbook_cells import ROUNDED

Group = tuple[str, list[Row]]
_SHORTENED = re.compile(
    r"[0-9](?:[.,][0-9]+)?E\+[0-9]+", re.IGNORECASE
)  # 1.23457E+15: spreadsheets write it so in a CSV
_WORTH = ("unit_price", "line_total")
_OF_ONE_ITEM = frozenset({"sku", "variant", "unit_price", "line_total", "line_discount"})
SPLIT_SHOWN = 3  # addresses shown split before the import


@dataclass(frozen=True, slots=True)
class OrdersFile:
    """The contents of an order list. `skipped` counts the orders left out, by status.

    `left_out` are orders with a status the shop skips, `shipped` orders the list marks as shipped: number with prefix,
    and status. `questions` are columns that read two ways, `splits` the first addresses that were in one cell,
    `several` the first cells with several items.
    """

    orders: tuple[Order, ...]
    matched: OrderColumns
    sheet: Sheet
    skipped: Mapping[str, int]
    left_out: tuple[tuple[str, str], ...] = ()
    shipped: tuple[tuple[str, str], ...] = ()
    questions: tuple[FormatQuestion, ...] = ()
    splits: tuple[SplitExample, ...] = ()
    several: tuple[CellOfItems, ...] = ()


@dataclass(frozen=True, slots=True)
class OrderRules:
    """How a list is read: countries, default currency, statuses to skip, a mapping, products.

    `ship_status` are statuses the shop ships, whatever they sound like.
    """

    countries: Countries
    currency: str
    mapping: ColumnMapping = field(default_factory=ColumnMapping)
    skip_status: Sequence[str] = ()
    source: str = ""
    products: KnownProducts = field(default_factory=KnownProducts)
    ship_status: Sequence[str] = ()
    home: str = HOME


def read_orders(path: Path, rules: OrderRules) -> OrdersFile:
    """Read an order list in any column order, encoding, and delimiter (CSV, TSV, XLSX, ODS).

    Raises:
        Unreadable: not a table, or no column for order number, recipient, country, or item.
    """
    with uncollected():
        return orders_in(read_sheet(path, rules.mapping.reading, known_order_headers), rules)


def lines_in_rows(sheet: Sheet, mapping: ColumnMapping) -> Sheet:
    """Return the table with a row for each order line, also for those side by side, unless the mapping names them."""
    return in_rows(sheet, {*mapping.columns.values(), *mapping.ignore})


def match_columns(sheet: Sheet, rules: OrderRules, faults: FaultsFound) -> OrderColumns:
    """Find the fields in a table's header row; a fault for each header of the mapping not found exactly once."""
    sheet = lines_in_rows(sheet, rules.mapping)
    mapping = with_one_country(rules.mapping, sheet.header, rules.countries)
    samples = Samples([row.cells for row in sheet.rows], len(sheet.header))
    columns = match_order_headers(sheet.header, samples, mapping.columns, mapping.ignore, faults, sheet.header_line)
    columns = with_likely_cells(columns, samples, lambda text: rules.countries.find(text) is not None)
    if mapping.country:
        code = rules.countries.find(mapping.country)
        if code is None:
            faults.add(0, "country", mapping.country, "a name or ISO code of one country in the mapping")
        return replace(columns, country=code or mapping.country)
    return replace(columns, likely_country=likely_country(columns, samples, rules.home))


@dataclass(frozen=True, slots=True)
class PreparedList:
    """A table whose columns and formats are known, before its orders are read. `totals` rows at its end are left out."""

    sheet: Sheet
    matched: OrderColumns
    terms: OrderTerms
    groups: Sequence[Group]
    questions: tuple[FormatQuestion, ...]
    texts: ColumnTexts
    totals: int = 0


def prepare(sheet: Sheet, rules: OrderRules, watch: Watch = UNWATCHED) -> PreparedList:
    """Find the columns of an order list and their formats.

    Raises:
        Unreadable: a needed column is missing.
        Stopped: canceled.
    """
    faults = FaultsFound(sheet.name)
    sheet = lines_in_rows(sheet, rules.mapping)
    matched = match_columns(sheet, rules, faults)
    refuse_missing(sheet, matched, faults)
    faults.raise_any()
    totals = totals_at_end(sheet.rows, matched.columns)
    if totals:
        sheet = replace(sheet, rows=sheet.rows[:-totals])
    groups = group_rows(sheet, matched.columns, faults, watch)
    faults.raise_any()
    texts = ColumnTexts(sheet)
    matched, terms = _settled(texts, matched, groups, rules)
    questions = format_questions(texts, matched.columns, terms.formats, rules.currency)
    return PreparedList(sheet, matched, terms, groups, questions, texts, totals)


def split_examples(prepared: PreparedList) -> tuple[SplitExample, ...]:
    """Return the first whole addresses of a list as they are read; none where the parts have their own columns."""
    columns, countries = prepared.matched.columns, prepared.terms.countries
    if "full_address" not in columns.places:
        return ()
    has_recipient = "recipient" in columns.places or "first_name" in columns.places
    rows = (next((row for row in rows if columns.cell(row.cells, "full_address")), None) for _, rows in prepared.groups)
    examples = []
    for row in islice(filter(None, rows), SPLIT_SHOWN):
        text, country = columns.cell(row.cells, "full_address"), columns.cell(row.cells, "country")
        examples.append(
            SplitExample(text, split_address(text, countries, country or prepared.terms.country, has_recipient))
        )
    return tuple(examples)


def several_items(prepared: PreparedList) -> tuple[CellOfItems, ...]:
    """Return the first cells with several items; each item becomes its own line."""
    if prepared.terms.item_cells is ItemCells.AS_WRITTEN:
        return ()
    lines = _item_texts(prepared.texts, prepared.matched.columns)
    return cells_of_items(lines, SPLIT_SHOWN)


def _item_texts(texts: ColumnTexts, columns: Columns) -> Mapping[str, None]:
    """Return the cells with items of rows without a SKU, variant or amount, which would say that it is one item."""
    if "item" not in columns.places:
        return {}
    place, others = columns.places["item"], [at for name, at in columns.places.items() if name in _OF_ONE_ITEM]
    if not others:
        return texts.at(place)
    rows = (cells for _, cells in texts.sheet.rows if place < len(cells) and cells[place])
    return dict.fromkeys(cells[place] for cells in rows if not any(cells[at] for at in others if at < len(cells)))


def orders_in(sheet: Sheet, rules: OrderRules, watch: Watch = UNWATCHED) -> OrdersFile:
    """Return the orders of a table. Raises Unreadable as `read_orders`; Stopped when canceled."""
    prepared = prepare(sheet, rules, watch.part(0, 200))
    columns, prefix = prepared.matched.columns, rules.mapping.prefix
    reader = OrderReader(prepared.terms, columns)
    left_out: list[tuple[str, str]] = []
    shipped: list[tuple[str, str]] = []
    orders = []
    marks = ShippedColumn.of(prepared.texts.at(columns.places["shipped"]) if "shipped" in columns.places else ())
    fate = _fates(rules, marks)
    once = _said_once(prepared)
    for number, rows in watch.part(200, WHOLE).over(prepared.groups):
        status, mark = _first(rows, columns, "status"), _first(rows, columns, "shipped")
        what = fate[status, mark]
        if what is _Fate.READ:
            order = reader.order(number, rows)
            orders.append(_without(order, once) if once and order.findings else order)
        elif what is _Fate.SKIPPED:
            left_out.append((prefix + number, status))
        else:
            shipped.append((prefix + number, mark if marks.is_shipped(mark) else status))
    counted = Counter(status for _, status in (*left_out, *shipped))
    if prepared.totals:
        counted[LEFT_OUT_AS] = prepared.totals
    return OrdersFile(
        tuple(orders),
        prepared.matched,
        prepared.sheet,
        dict(counted),
        tuple(left_out),
        tuple(shipped),
        prepared.questions,
        split_examples(prepared),
        several_items(prepared),
    )


def _said_once(prepared: PreparedList) -> frozenset[tuple[str, str]]:
    """Return the cells, as (header, text), that read two ways and are reported for their column, not for each order.

    A price that is not read stays with its order, which must not go untracked as if it were worth nothing; so does
    every amount that an order total should be compared with.
    """
    if "total" in prepared.matched.columns.places:
        return frozenset()
    asked = (one for one in prepared.questions if one.field not in _WORTH)
    return frozenset((one.header, text) for one in asked for text in one.texts)


def _without(order: Order, once: frozenset[tuple[str, str]]) -> Order:
    """Return the order without the cells, as (header, text), that are reported once for their column."""
    rest = tuple(
        issue
        for issue in order.findings
        if issue.code is not Code.CELL_NOT_READ or (issue.facts["column"], issue.facts["found"]) not in once
    )
    return replace(order, findings=rest)


class _Fate(Enum):
    """What happens to an order because of its status."""

    READ = auto()
    SKIPPED = auto()
    HAS_LEFT = auto()


def _fates(rules: OrderRules, marks: ShippedColumn) -> ReadOnce[tuple[str, str], _Fate]:
    """Return what happens to orders by their status and their shipping column."""
    skip, ship = ({status_key(status) for status in each} for each in (rules.skip_status, rules.ship_status))

    def fate(cells: tuple[str, str]) -> _Fate:
        status, mark = cells
        if status and status_key(status) in skip:
            return _Fate.SKIPPED
        if marks.is_shipped(mark) and status_key(mark) not in ship:
            return _Fate.HAS_LEFT  # whatever the status says: "paid" and "fulfilled" are separate columns
        return _Fate.HAS_LEFT if is_shipped(status) and status_key(status) not in ship else _Fate.READ

    return ReadOnce(fate)


def _first(rows: Sequence[Row], columns: Columns, name: str) -> str:
    if name not in columns.places:
        return ""
    if len(rows) == 1:
        return columns.cell(rows[0][1], name)
    return next(filter(None, (columns.cell(row[1], name) for row in rows)), "")


def _settled(
    texts: ColumnTexts, matched: OrderColumns, groups: Sequence[Group], rules: OrderRules
) -> tuple[OrderColumns, OrderTerms]:
    """Return how the file's amounts are read: by its columns, and by what makes order totals add up."""
    matched = replace(matched, columns=_discount_by_line(matched.columns, groups))
    chosen = rules.mapping.formats
    formats = column_formats(texts, matched.columns, {"line_discount": chosen.get("discount", ()), **chosen})
    terms = OrderTerms(
        rules.countries,
        rules.currency,
        rules.mapping.prefix,
        rules.source,
        formats,
        products=rules.products,
        country=matched.country,
        item_cells=item_cells(_item_texts(texts, matched.columns), chosen.get("item", ())),
        has_long_texts=any(max(map(len, cells), default=0) > SHORT for _, cells in texts.sheet.rows),
    )
    return settle_amounts(texts, matched, terms, groups, rules.mapping)


def _discount_by_line(columns: Columns, groups: Sequence[Group]) -> Columns:
    """Treat a discount that differs between the lines of an order as a line discount."""
    if "discount" not in columns.places or "line_discount" in columns.places:
        return columns
    place = columns.places["discount"]
    for _, rows in groups:
        if len({row.cells[place] for row in rows if place < len(row.cells)} - {""}) > 1:
            places = {("line_discount" if name == "discount" else name): at for name, at in columns.places.items()}
            return Columns(columns.header, places)
    return columns


def group_rows(sheet: Sheet, columns: Columns, faults: FaultsFound, watch: Watch = UNWATCHED) -> list[Group]:
    """Return the rows of each order, adjacent or not; a row without an order number continues the order above."""
    groups: dict[str, list[Row]] = {}
    current: list[Row] | None = None
    place = columns.places["order"]
    for row in watch.over(sheet.rows):
        cells = row[1]
        number = cells[place].removeprefix("#").strip() if place < len(cells) else ""
        if number and (current := groups.get(number)) is None:
            groups[number] = current = [row]
            if number.startswith(ROUNDED):
                expected = (
                    "an order number as text: format the column as text, because a number cell keeps only 15 digits"
                )
                faults.add(row.line, columns.name("order"), number, expected)
            if _SHORTENED.fullmatch(number):
                expected = (
                    "an order number with all its digits; format the column as text in your spreadsheet and save again"
                )
                faults.add(row.line, columns.name("order"), number, expected)
            if len(number) > LONGEST_NUMBER:
                faults.add(
                    row.line, columns.name("order"), number, f"an order number of at most {LONGEST_NUMBER} characters"
                )
        elif current is None:
            faults.add(row.line, columns.name("order"), "", "an order number; there is no order above this row")
        else:
            current.append(row)
    return list(groups.items())
