"""Look into an order file before it is taken in: its first rows under our names, and whatever cannot be read.

Reading changes nothing and may run beside the window; taking in is the act.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.domain.order import Order
from desk.intake.faults_found import FaultsFound
from desk.intake.headers import ORDER_FIELDS, Columns, Meanings, match_headers, suggestions
from desk.intake.mapping_file import ColumnMapping
from desk.intake.orders import OrderRules, orders_in
from desk.intake.sheet import Sheet, read_sheet
from desk.intake.sheet_words import NEEDED, ORDER_WORDS
from desk.session.rulebook import Rulebook
from desk.session.verdict import Terms

FIRST_ROWS = 8


@dataclass(frozen=True, slots=True)
class Preview:
    """A file as it would be taken in. `columns` are our names, `headers` theirs, `rows` the first rows below them.

    `missing` are fields nothing can be done without; `offered` says which header may be one of ours, unseen by a
    person so far; `left_out` are headers nobody reads.
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


def preview_orders(path: Path, mapping: Mapping[str, str] | None = None) -> Preview:
    """The first rows of an order file under our names; Unreadable when it is no table at all."""
    sheet = read_sheet(path)
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(ORDER_FIELDS, mapping or {}), faults, sheet.header_line)
    names = tuple(name for name in ORDER_WORDS if name in columns.places)
    offered = suggestions(columns, columns.missing(ORDER_WORDS), ORDER_FIELDS, [row.cells for row in sheet.rows[:20]])
    taken = {columns.places[name] for name in names}
    return Preview(
        path=path,
        columns=names,
        headers=tuple(columns.name(name) for name in names),
        rows=_first_rows(sheet, columns, names),
        count=len(sheet.rows),
        encoding=sheet.encoding,
        delimiter=sheet.delimiter,
        missing=tuple(columns.missing(NEEDED)),
        offered={offer.ours: offer.header for offer in offered},
        left_out=tuple(header for place, header in enumerate(sheet.header) if header and place not in taken),
        faults=_faults_of(faults),
    )


def read_orders_of(
    path: Path,
    terms: Terms,
    mapping: Mapping[str, str] | None = None,
    cancelled: Callable[[], bool] = lambda: False,
) -> tuple[Order, ...]:
    """Every order of the file, by the shop's own rules; Unreadable with all faults. Empty when it was cancelled."""
    sheet = read_sheet(path)
    if cancelled():
        return ()
    policy = terms.shop.policy
    rules = _rules(terms.rulebook, policy.currency, policy.skip_status, mapping)
    return orders_in(sheet, rules).orders


def _rules(
    rulebook: Rulebook, currency: str, skip_status: tuple[str, ...], mapping: Mapping[str, str] | None
) -> OrderRules:
    return OrderRules(rulebook.countries, currency, ColumnMapping(dict(mapping or {})), skip_status)


def _first_rows(sheet: Sheet, columns: Columns, names: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    texts = [columns.texts(row.cells) for row in sheet.rows[:FIRST_ROWS]]
    return tuple(tuple(text.get(name, "") for name in names) for text in texts)


def _faults_of(found: FaultsFound) -> tuple[FileFault, ...]:
    try:
        found.raise_any()
    except Unreadable as unreadable:
        return unreadable.faults
    return ()
