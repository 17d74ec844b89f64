"""A table that is brought, whatever it holds: orders, products or mailers. What it is, what it would do, and doing it.

Looking and comparing change nothing. `take` is one step.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.intake.catalogue import FIELDS, WORDS, Shelf, known_headers
from desk.intake.delimited import DELIMITERS
from desk.intake.faults_found import FaultsFound
from desk.intake.headers import Columns, Meanings, known_names, match_headers, suggestions
from desk.intake.mapping_file import ColumnMapping
from desk.intake.orders import OrdersFile
from desk.intake.reading import ENCODINGS, Reading
from desk.intake.sheet import Row
from desk.intake.sheet_words import ORDER_WORDS
from desk.intake.watch import UNWATCHED, WHOLE, Stopped, Watch
from desk.session.catalogue import CataloguePreview, compare_catalogue, take_in_catalogue
from desk.session.preview import (
    FIRST_ROWS,
    SAMPLE,
    Pasted,
    Preview,
    Source,
    open_table,
    preview_orders,
    read_order_list,
)
from desk.session.sitting import Sitting
from desk.session.take_in_preview import Difference, TakeInPreview, compare, take_in
from desk.session.verdict import Terms

ORDERS = "orders"
KINDS = (ORDERS, *map(str, Shelf))
Found = TakeInPreview | CataloguePreview
__all__ = [
    "DELIMITERS",
    "ENCODINGS",
    "KINDS",
    "ORDERS",
    "ColumnMapping",
    "OrdersFile",
    "Pasted",
    "Reading",
    "Source",
    "Stopped",
    "Unreadable",
    "Watch",
]


@dataclass(frozen=True, slots=True)
class Looked:
    """A table as it would be read. `kind` is one of KINDS; `fields` are all of ours that a column may be."""

    kind: str
    preview: Preview
    fields: tuple[str, ...]

    @property
    def can_be_read(self) -> bool:
        """True when nothing has to be settled first."""
        found = self.preview
        return not (found.faults or found.missing or found.questions)


@dataclass(frozen=True, slots=True)
class Line:
    """One difference of a record that is kept: whether a person may accept it, and what it is about."""

    name: str
    what: str  # changed, cancelled, not cancelled any more, not in the list
    field: str = ""
    before: str = ""
    after: str = ""

    @property
    def may_be_accepted(self) -> bool:
        """Only changes are; the rest is told."""
        return self.what == "changed"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What taking it in would do: counts, and a line for each difference. `found` goes to `take`."""

    found: Found
    new: int
    same: int
    lines: tuple[Line, ...]

    @property
    def changed(self) -> tuple[str, ...]:
        """The names of the records that are kept with another content, in order."""
        return tuple(dict.fromkeys(line.name for line in self.lines if line.may_be_accepted))


@dataclass(frozen=True, slots=True)
class Taken:
    """What was taken in: how many new records, accepted changes, and cancelled orders set aside."""

    new: int
    changed: int
    set_aside: int = 0


def look(
    source: Source, mapping: ColumnMapping, kind: str = "", currency: str = "USD", watch: Watch = UNWATCHED
) -> Looked:
    """The first rows under our names; what it holds is told by its headers unless `kind` says so.

    Unreadable if it is no table, Stopped when it was cancelled.
    """
    kind = kind or kind_of(open_table(source, mapping.reading, _all_known, watch.part(0, 400)).header)
    watch = watch.part(400, WHOLE)
    if kind == ORDERS:
        return Looked(kind, preview_orders(source, mapping, currency, watch), tuple(ORDER_WORDS))
    shelf = Shelf(kind)
    return Looked(kind, _shelf_preview(source, shelf, mapping, watch), tuple(WORDS[shelf]))


def kind_of(header: Sequence[str]) -> str:
    """What a table with this header row holds: that of which most headers are known, orders before the others."""
    return max(KINDS, key=lambda kind: _counters()[kind](header))


def _counters() -> dict[str, Callable[[Sequence[str]], int]]:
    return {ORDERS: known_names} | {str(shelf): known_headers(shelf) for shelf in Shelf}


def _all_known(cells: Sequence[str]) -> int:
    return max(counter(cells) for counter in _counters().values())


def _shelf_preview(source: Source, shelf: Shelf, mapping: ColumnMapping, watch: Watch) -> Preview:
    sheet = open_table(source, mapping.reading, known_headers(shelf), watch)
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(FIELDS[shelf], mapping.columns), faults, sheet.header_line)
    names = tuple(name for name in WORDS[shelf] if name in columns.places)
    offered = suggestions(columns, columns.missing(WORDS[shelf]), FIELDS[shelf], [r.cells for r in sheet.rows[:SAMPLE]])
    taken = set(columns.places.values())
    named = ("name", "sku") if shelf is Shelf.PRODUCTS else ("name",)
    return Preview(
        path=source if isinstance(source, Path) else Path(source.name),
        columns=names,
        headers=tuple(columns.name(name) for name in names),
        rows=_under(columns, names, sheet.rows[:FIRST_ROWS]),
        count=len(sheet.rows),
        encoding=sheet.encoding,
        delimiter=sheet.delimiter,
        missing=() if set(named) & set(names) else named[:1],
        offered={offer.ours: offer.header for offer in offered},
        left_out=tuple(header for place, header in enumerate(sheet.header) if header and place not in taken),
        faults=_told(faults),
        examples={offer.ours: offer.values for offer in offered},
        sheet=sheet.sheet,
        sheets=sheet.sheets,
        header=sheet.header,
    )


def _under(columns: Columns, names: Sequence[str], rows: Iterable[Row]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(columns.cell(row.cells, name) for name in names) for row in rows)


def _told(faults: FaultsFound) -> tuple[FileFault, ...]:
    try:
        faults.raise_any()
    except Unreadable as unreadable:
        return unreadable.faults
    return ()


def read_list(source: Source, terms: Terms, mapping: ColumnMapping, watch: Watch = UNWATCHED) -> OrdersFile | None:
    """The orders of a list, read beside the window; None when it was cancelled. Unreadable with every fault."""
    return read_order_list(source, terms, mapping, watch)


def compare_list(sitting: Sitting, read: OrdersFile, watch: Watch = UNWATCHED) -> Outcome:
    """Hold an order list that was read against what is kept; Stopped when it was cancelled."""
    found = compare(sitting, read.orders, read.left_out, watch)
    lines = [line for changed in found.changed for line in _lines(changed.number, changed.differences)]
    lines += [Line(one.number, "cancelled", "status", "", one.status) for one in found.cancelled]
    lines += [Line(number, "not cancelled any more", "status") for number in found.back]
    lines += [Line(number, "not in the list") for number in found.gone]
    return Outcome(found, len(found.new), len(found.same), tuple(lines))


def compare_shelf(
    sitting: Sitting, source: Source, kind: str, mapping: ColumnMapping, watch: Watch = UNWATCHED
) -> Outcome:
    """Hold a list of products or mailers against the shop. Unreadable with every fault, Stopped when it was cancelled."""
    found = compare_catalogue(sitting, source, Shelf(kind), mapping, watch)
    lines = [line for changed in found.changed for line in _lines(changed.name, changed.differences)]
    return Outcome(found, len(found.new), len(found.same), tuple(lines))


def _lines(name: str, differences: Iterable[Difference]) -> list[Line]:
    return [Line(name, "changed", one.field, one.before, one.after) for one in differences]


def take(sitting: Sitting, outcome: Outcome, accepted: Collection[str]) -> Taken:
    """Take in what is new and the accepted changes, as one step. Refused when something moved since the comparing."""
    if isinstance(outcome.found, CataloguePreview):
        count = take_in_catalogue(sitting, outcome.found, accepted)
        return Taken(outcome.new, count - outcome.new)
    done = take_in(sitting, outcome.found, accepted)
    return Taken(len(done.new), len(done.changed), len(done.set_aside))


def with_column(mapping: ColumnMapping, ours: str, header: str) -> ColumnMapping:
    """The mapping with one field of ours read from that header; with an empty header no column is it."""
    columns: Mapping[str, str] = {**mapping.columns, ours: header}
    return replace(mapping, columns=columns)
