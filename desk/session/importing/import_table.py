"""Import a table of orders, products or mailers: what it is, what importing would do, and doing it.

Previewing and comparing change nothing. `take` is one step.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from desk.domain.faults import Unreadable
from desk.domain.finding import Severity
from desk.intake.columns.formats import FormatWord
from desk.intake.columns.reading import ENCODINGS, ReadingChoices
from desk.intake.columns.sheet import Sheet
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.order_headers.rules import ORDER_FIELDS, known_order_headers
from desk.intake.orders.order_list import OrderRules, orders_in
from desk.intake.orders.uncollected import uncollected
from desk.intake.shop.product_lists import FIELDS, WORDS, ListKind, known_headers
from desk.session.importing.compare import ChangedOrder, Difference, ImportComparison, import_accepted
from desk.session.importing.compare import compare as compare_orders
from desk.session.importing.preview import (
    NO_SHOP,
    Pasted,
    Preview,
    Source,
    accept_all,
    open_table,
    order_rules,
    preview_sheet,
    preview_shelf,
)
from desk.session.importing.product_lists import CatalogPreview, compare_shelf, import_catalog
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms
from desk.tables.decoding import EncodingUnsure
from desk.tables.delimited import DELIMITERS
from desk.tables.watch import UNWATCHED, WHOLE, Stopped, Watch

ORDERS = "orders"
KINDS = (ORDERS, *map(str, ListKind))
CHANGED, UNDER_WAY = "changed", "changed, postage is on"
FILLS, EDITED = "fills an empty field", "you corrected this by hand"
CANCELED, LEFT_BEFORE, BACK = "canceled", "canceled, but already mailed", "no longer canceled"
GONE = "not in the list"
Found = ImportComparison | CatalogPreview
__all__ = [
    "DELIMITERS",
    "ENCODINGS",
    "KINDS",
    "ORDERS",
    "ColumnMapping",
    "FormatWord",
    "OrderRules",
    "Pasted",
    "ReadingChoices",
    "Source",
    "Stopped",
    "Unreadable",
    "Watch",
    "order_rules",
]


@dataclass(frozen=True, slots=True)
class OpenedTable:
    """A table as it would be read. `kind` is one of KINDS; `fields` are all fields a column may be.

    `sheet` is the open table, kept so that a change of columns doesn't read the file again.
    """

    kind: str
    preview: Preview
    fields: tuple[str, ...]
    sheet: Sheet = field(repr=False, compare=False)

    @property
    def can_be_read(self) -> bool:
        """True when the table can be imported without another choice."""
        preview = self.preview
        return not (preview.encodings or preview.faults or preview.missing or preview.questions or preview.unsettled)


@dataclass(frozen=True, slots=True)
class DifferenceLine:
    """One change to a saved record, and whether it can be accepted; the rest is only reported.

    `what` says what happened to the record; `field` is our name of the field.
    """

    name: str
    what: str
    field: str = ""
    before: str = ""
    after: str = ""
    may_be_accepted: bool = False


@dataclass(frozen=True, slots=True)
class ImportEffect:
    """What an import would do: counts, and a line for each difference. `found` goes to `take`.

    `skipped` counts orders left out by status, `issues` those with something to check.
    """

    found: Found
    new: int
    same: int
    lines: tuple[DifferenceLine, ...]
    skipped: Mapping[str, int] = field(default_factory=dict, hash=False)
    issues: int = 0

    @property
    def changed(self) -> tuple[str, ...]:
        """The names of the saved records with changes, in order."""
        return tuple(dict.fromkeys(line.name for line in self.lines if line.may_be_accepted))

    @property
    def filled(self) -> tuple[str, ...]:
        """The names of the orders whose changes only fill empty fields: accepted unless you say no."""
        return tuple(dict.fromkeys(line.name for line in self.lines if line.what == FILLS))


@dataclass(frozen=True, slots=True)
class Taken:
    """What was imported: how many new records, accepted changes, canceled orders set aside, and orders put back."""

    new: int
    changed: int
    set_aside: int = 0
    back: int = 0

    @property
    def is_something(self) -> bool:
        """True when there is something to undo."""
        return any((self.new, self.changed, self.set_aside, self.back))


def open_list(
    source: Source, mapping: ColumnMapping, kind: str = "", rules: OrderRules = NO_SHOP, watch: Watch = UNWATCHED
) -> OpenedTable:
    """Return the first rows under our field names; the headers tell the kind unless `kind` is given.

    Unreadable when it is no table; Stopped when `watch` reports a cancel.
    """
    known = _counters()[kind] if kind else _all_known
    encodings: tuple[tuple[str, str], ...] = ()
    with uncollected():
        try:
            sheet = open_table(source, mapping.reading, known, watch.part(0, 800))
        except EncodingUnsure as unsure:  # preview with the likeliest encoding, and ask
            encodings = unsure.likely
            reading = replace(mapping.reading, encoding=encodings[0][0])
            sheet = open_table(source, reading, known, watch.part(0, 800))
    opened = look_up_again(sheet, mapping, kind or kind_of(sheet.header), rules, watch.part(800, WHOLE))
    return replace(opened, preview=replace(opened.preview, encodings=encodings)) if encodings else opened


def look_up_again(
    sheet: Sheet, mapping: ColumnMapping, kind: str, rules: OrderRules = NO_SHOP, watch: Watch = UNWATCHED
) -> OpenedTable:
    """Return a preview of a table that is already open, under a new mapping that reads the file the same way."""
    if kind == ORDERS:
        preview, words = preview_sheet(sheet, replace(rules, mapping=mapping), watch), ORDER_FIELDS
    else:
        shelf = ListKind(kind)
        preview, words = _shelf_preview(sheet, shelf, mapping), tuple(WORDS[shelf])
    watch.at(1, 1)
    return OpenedTable(kind, preview, words, sheet)


def accept_suggestions(opened: OpenedTable, mapping: ColumnMapping, rules: OrderRules = NO_SHOP) -> ColumnMapping:
    """Return the mapping with every suggestion accepted, and those that become likely by it."""
    if opened.kind == ORDERS:
        return accept_all(opened.sheet, replace(rules, mapping=mapping))
    chosen = {offer.ours: offer.header for offer in opened.preview.suggestions}
    return replace(mapping, columns={**mapping.columns, **chosen})


def answered(mapping: ColumnMapping, preview: Preview, word: str, answers: Collection[str]) -> ColumnMapping:
    """Return the mapping with a question answered; an empty answer opens the question again."""
    asked = [question.field for question in preview.questions if set(answers) & question.readings.keys()]
    formats: dict[str, tuple[FormatWord, ...]] = {}
    for name, words in mapping.formats.items():
        rest = tuple(one for one in words if one not in answers)
        asked += [name] if len(rest) < len(words) else []
        if rest:
            formats[name] = rest
    for name in dict.fromkeys(asked if word else ()):
        formats[name] = (*formats.get(name, ()), FormatWord(word))
    return replace(mapping, formats=formats)


def kind_of(header: Sequence[str]) -> str:
    """Return the kind of table a header row belongs to: the one with most known headers, orders first."""
    return max(KINDS, key=lambda kind: _counters()[kind](header))


def _counters() -> dict[str, Callable[[Sequence[str]], int]]:
    return {ORDERS: known_order_headers} | {str(shelf): known_headers(shelf) for shelf in ListKind}


def _all_known(cells: Sequence[str]) -> int:
    return max(counter(cells) for counter in _counters().values())


def _shelf_preview(sheet: Sheet, shelf: ListKind, mapping: ColumnMapping) -> Preview:
    """Return the preview of a product or mailer list; a product needs a SKU or a name, a mailer its name."""
    preview = preview_shelf(sheet, mapping.columns, FIELDS[shelf], tuple(WORDS[shelf]))
    needed = ("name", "sku") if shelf is ListKind.PRODUCTS else ("name",)
    return preview if set(needed) & set(preview.columns) else replace(preview, missing=needed[:1])


def compare(
    sitting: Sitting, opened: OpenedTable, terms: Terms, mapping: ColumnMapping, watch: Watch = UNWATCHED
) -> ImportEffect:
    """Return how the whole table differs from what is saved. Unreadable with every fault; Stopped when canceled."""
    if opened.kind != ORDERS:
        return _compare_shelf(sitting, opened, mapping, watch)
    with uncollected():
        read = orders_in(opened.sheet, order_rules(terms, mapping), watch.part(0, 800))
    comparison = compare_orders(sitting, read.orders, read.left_out, watch.part(800, WHOLE), shipped=read.shipped)
    lines = [line for one in comparison.changed for line in _lines_of(one)]
    lines += [
        DifferenceLine(one.number, LEFT_BEFORE if one.gone_out else CANCELED, "status", "", one.status)
        for one in comparison.canceled
    ]
    lines += [DifferenceLine(number, BACK, "status") for number in comparison.back]
    lines += [DifferenceLine(number, GONE) for number in comparison.gone]
    issues = sum(any(one.severity is not Severity.NOTE for one in order.findings) for order in read.orders)
    return ImportEffect(comparison, len(comparison.new), len(comparison.same), tuple(lines), read.skipped, issues)


def _compare_shelf(sitting: Sitting, opened: OpenedTable, mapping: ColumnMapping, watch: Watch) -> ImportEffect:
    comparison = compare_shelf(sitting, opened.sheet, ListKind(opened.kind), mapping, watch)
    lines = [line for one in comparison.changed for line in _lines(one.name, one.differences)]
    return ImportEffect(comparison, len(comparison.new), len(comparison.same), tuple(lines))


def _lines_of(order: ChangedOrder) -> list[DifferenceLine]:
    what = UNDER_WAY if order.under_way else EDITED if order.edited else FILLS if order.only_fills else CHANGED
    return [
        DifferenceLine(order.number, what, one.field, one.before, one.after, may_be_accepted=True)
        for one in order.differences
    ]


def _lines(name: str, differences: Iterable[Difference]) -> list[DifferenceLine]:
    return [
        DifferenceLine(name, CHANGED, one.field, one.before, one.after, may_be_accepted=True) for one in differences
    ]


def take(sitting: Sitting, outcome: ImportEffect, accepted: Collection[str]) -> Taken:
    """Import what is new and the accepted changes, as one step. Refused when something changed since the comparison."""
    if isinstance(outcome.found, CatalogPreview):
        count = import_catalog(sitting, outcome.found, accepted)
        return Taken(outcome.new, count - outcome.new)
    done = import_accepted(sitting, outcome.found, accepted)
    return Taken(len(done.new), len(done.changed), len(done.set_aside), len(done.back))
