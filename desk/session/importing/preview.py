"""Look into an order list before it is taken in: its first rows under our names, and whatever cannot be read.

Reading changes nothing and may run beside the window; taking in is the act.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.domain.order import Order
from desk.intake.columns.header_words import NEEDED, ORDER_WORDS
from desk.intake.columns.headers import (
    ORDER_FIELDS,
    Columns,
    Meanings,
    doubtful,
    known_names,
    match_headers,
    suggestions,
)
from desk.intake.columns.mapping_file import ColumnMapping
from desk.intake.columns.questions import Question, open_questions
from desk.intake.columns.reading import NOTHING_CHOSEN, Reading
from desk.intake.columns.sheet import Known, Sheet, read_sheet, read_sheet_text
from desk.intake.orders.order_list import OrderRules, OrdersFile, orders_in
from desk.intake.orders.uncollected import uncollected
from desk.intake.table.faults_found import FaultsFound
from desk.intake.table.watch import UNWATCHED, WHOLE, Stopped, Watch
from desk.session.verdict.verdict import Terms

FIRST_ROWS = 8
SAMPLE = 20  # rows whose values are held against what their header says


@dataclass(frozen=True, slots=True)
class Pasted:
    """A table from the clipboard; everything takes it as it takes a file."""

    text: str
    name: str = "the clipboard"


Source = Path | Pasted


@dataclass(frozen=True, slots=True)
class Preview:
    """A file as it would be taken in. `columns` are our names, `headers` theirs, `rows` the first rows below them.

    `places` says which column of the file each of ours is; `cells` are the first rows as they stand there. `missing`
    are fields nothing can be done without; `offered` says which header may be one of ours, unseen by a person so far,
    and `examples` what stands in that column; `left_out` are headers nobody reads. `doubtful` are
    fields whose values are mostly no such thing, with a few of them; `questions` is what reads two ways. `sheets` are
    those of a workbook, `sheet` the one that is read; `header` is the whole header row, by which a mapping is found.
    """

    path: Path
    columns: tuple[str, ...]
    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    count: int
    encoding: str
    delimiter: str
    missing: tuple[str, ...] = ()
    offered: Mapping[str, str] = field(default_factory=dict, hash=False)
    left_out: tuple[str, ...] = ()
    faults: tuple[FileFault, ...] = ()
    examples: Mapping[str, tuple[str, ...]] = field(default_factory=dict, hash=False)
    doubtful: Mapping[str, tuple[str, ...]] = field(default_factory=dict, hash=False)
    questions: tuple[Question, ...] = ()
    sheet: str = ""
    sheets: tuple[str, ...] = ()
    header: tuple[str, ...] = ()
    places: tuple[int, ...] = ()
    cells: tuple[tuple[str, ...], ...] = ()


def open_table(
    source: Source, chosen: Reading = NOTHING_CHOSEN, known: Known = known_names, watch: Watch = UNWATCHED
) -> Sheet:
    """The table of a file or of the clipboard; Unreadable when it is none. `known` counts headers that mean something."""
    if isinstance(source, Pasted):
        return read_sheet_text(source.text, chosen, source.name, known, watch)
    return read_sheet(source, chosen, known, watch)


def preview_orders(
    source: Source,
    mapping: Mapping[str, str] | ColumnMapping | None = None,
    currency: str = "USD",
    watch: Watch = UNWATCHED,
) -> Preview:
    """The first rows of an order list under our names; Unreadable when it is no table at all.

    A mapping also says how the file is to be read. Amounts are tried in `currency` for what reads two ways.
    """
    wanted = as_mapping(mapping)
    sheet = open_table(source, wanted.reading, watch=watch.part(0, 800))
    return preview_sheet(sheet, wanted, currency, watch.part(800, WHOLE))


def preview_sheet(sheet: Sheet, wanted: ColumnMapping, currency: str, watch: Watch = UNWATCHED) -> Preview:
    """The first rows of an order list that was opened, under our names."""
    columns, found = look_over(sheet, wanted.columns, ORDER_FIELDS, tuple(ORDER_WORDS))
    asked = _open_still(open_questions(sheet, columns, currency, watch), wanted.reading)
    return replace(found, missing=tuple(columns.missing(NEEDED)), questions=asked)


def look_over(
    sheet: Sheet, mapped: Mapping[str, str], fields: Mapping[str, str], words: tuple[str, ...]
) -> tuple[Columns, Preview]:
    """Any table: its first rows under the names in `words`, and what else its headers may mean. Nothing is missing yet."""
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(fields, mapped), faults, sheet.header_line)
    names = tuple(name for name in words if name in columns.places)
    sample = [row.cells for row in sheet.rows[:SAMPLE]]
    open_still = [name for name in columns.missing(words) if mapped.get(name) != ""]  # nobody said that none is it
    offered = suggestions(columns, open_still, fields, sample)
    taken = {columns.places[name] for name in names}
    first = sheet.rows[:FIRST_ROWS]
    return columns, Preview(
        path=Path(sheet.name),
        columns=names,
        headers=tuple(columns.name(name) for name in names),
        rows=tuple(tuple(columns.cell(row.cells, name) for name in names) for row in first),
        count=len(sheet.rows),
        encoding=sheet.encoding,
        delimiter=sheet.delimiter,
        offered={offer.ours: offer.header for offer in offered},
        left_out=tuple(header for place, header in enumerate(sheet.header) if header and place not in taken),
        faults=_faults_of(faults),
        examples={offer.ours: offer.values for offer in offered},
        doubtful={doubt.ours: doubt.values for doubt in doubtful(columns, sample)},
        sheet=sheet.sheet,
        sheets=sheet.sheets,
        header=sheet.header,
        places=tuple(columns.places[name] for name in names),
        cells=tuple(row.cells for row in first),
    )


def as_mapping(mapping: Mapping[str, str] | ColumnMapping | None) -> ColumnMapping:
    """A mapping, from the columns alone or from nothing too."""
    return mapping if isinstance(mapping, ColumnMapping) else ColumnMapping(dict(mapping or {}))


def _open_still(questions: tuple[Question, ...], chosen: Reading) -> tuple[Question, ...]:
    return tuple(question for question in questions if not getattr(chosen, question.about))


def read_orders_of(
    source: Source,
    terms: Terms,
    mapping: Mapping[str, str] | ColumnMapping | None = None,
    watch: Watch = UNWATCHED,
) -> tuple[Order, ...]:
    """Every order of the list, by the shop's own rules; Unreadable with all faults. Empty when it was cancelled."""
    found = read_order_list(source, terms, mapping, watch)
    return found.orders if found else ()


def read_order_list(
    source: Source,
    terms: Terms,
    mapping: Mapping[str, str] | ColumnMapping | None = None,
    watch: Watch = UNWATCHED,
) -> OrdersFile | None:
    """What the list holds: its orders, and those left out by their status; None when it was cancelled."""
    wanted = as_mapping(mapping)
    try:
        with uncollected():
            sheet = open_table(source, wanted.reading, watch=watch.part(0, 400))
            return orders_in(sheet, order_rules(terms, wanted), watch.part(400, WHOLE))
    except Stopped:
        return None


def order_rules(terms: Terms, wanted: ColumnMapping) -> OrderRules:
    """How a list is read in this shop."""
    policy = terms.shop.policy
    return OrderRules(terms.rulebook.countries, policy.currency, wanted, policy.skip_status)


def _faults_of(found: FaultsFound) -> tuple[FileFault, ...]:
    try:
        found.raise_any()
    except Unreadable as unreadable:
        return unreadable.faults
    return ()
