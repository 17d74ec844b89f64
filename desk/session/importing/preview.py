"""A preview of a table: its first rows under our field names, suggestions, open questions, and faults.

Reading changes nothing and may run in the background; importing is the act.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.domain.orders.order import Order
from desk.domain.places.country import HOME, Countries
from desk.domain.shop.shop import Shop
from desk.intake.columns.formats import FormatQuestion
from desk.intake.columns.headers import Columns, Meanings, Suggestion, folded, match_headers, suggestions
from desk.intake.columns.reading import NOTHING_CHOSEN, ReadingChoices
from desk.intake.columns.sheet import Known, Sheet, read_sheet, read_sheet_text
from desk.intake.columns.value_kinds import fits
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.order_headers.rules import ORDER_FIELDS, known_order_headers
from desk.intake.order_headers.unread_columns import IgnoredColumn
from desk.intake.orders.addresses import SplitExample
from desk.intake.orders.counted_items import CellOfItems
from desk.intake.orders.order_lines import KnownProducts
from desk.intake.orders.order_list import (
    OrderRules,
    OrdersFile,
    lines_in_rows,
    match_columns,
    orders_in,
    prepare,
    several_items,
    split_examples,
)
from desk.intake.orders.uncollected import uncollected
from desk.session.verdict.verdict import Terms
from desk.tables.faults_found import FaultsFound
from desk.tables.watch import UNWATCHED, WHOLE, Stopped, Watch

FIRST_ROWS = 8
SAMPLE = 20  # rows of a product list checked against their headers
MOST_ACCEPTED = 10  # rounds of accepting suggestions; each round settles at least one column


@dataclass(frozen=True, slots=True)
class Pasted:
    """A table from the clipboard, read like a file."""

    text: str
    name: str = "the clipboard"


Source = Path | Pasted
NO_SHOP = OrderRules(Countries({}, {}), "USD")


@dataclass(frozen=True, slots=True)
class Preview:
    """A table as it would be imported. `columns` are the fields in use, `places` the indexes of their columns.

    `rows` are the first rows by our fields, `cells` the same rows as in the file. `missing` are required fields without
    a column; `suggestions` are columns that may be a missing field; `ignored` are the other columns not read; `skipped`
    are headers the mapping says to skip. `doubtful` are fields whose cells mostly look like something else; `questions`
    are columns that read two ways.
    """

    path: Path
    columns: tuple[str, ...]
    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    count: int
    encoding: str
    delimiter: str
    missing: tuple[str, ...] = ()
    suggestions: tuple[Suggestion, ...] = ()
    ignored: tuple[IgnoredColumn, ...] = ()
    skipped: tuple[str, ...] = ()
    faults: tuple[FileFault, ...] = ()
    doubtful: Mapping[str, tuple[str, ...]] = field(default_factory=dict, hash=False)
    questions: tuple[FormatQuestion, ...] = ()
    sheet: str = ""
    sheets: tuple[str, ...] = ()
    header: tuple[str, ...] = ()
    places: tuple[int, ...] = ()
    cells: tuple[tuple[str, ...], ...] = ()
    likely_country: str = ""  # of all orders, where no column is the country
    country: str = ""  # of all orders without one, as the mapping says
    splits: tuple[SplitExample, ...] = ()  # whole addresses in one column, as they are read
    several: tuple[CellOfItems, ...] = ()  # cells with several items, as they are read
    side_by_side: tuple[str, ...] = ()  # headers of further lines, which became rows
    encodings: tuple[tuple[str, str], ...] = ()  # if uncertain: the likeliest encodings, with sample words in each

    @property
    def unsettled(self) -> tuple[IgnoredColumn, ...]:
        """Ignored columns that look like part of an address, a name, a note, or money and were not skipped by choice."""
        offered = {offer.place for offer in self.suggestions if offer.ours in _ASKED}
        columns = [one for one in self.ignored if one.looks_like]
        offers = [
            IgnoredColumn(offer.header, offer.place, offer.values, "address")
            for offer in self.suggestions
            if offer.place in offered
        ]
        return (*offers, *columns)


# Fields whose suggested column must be read or skipped before the import: ignoring it would lose part of an order.
_ASKED = frozenset(
    "recipient first_name last_name company full_address address1 house_number address2 address3 city region postal_code country "
    "buyer_note item quantity unit_price line_total shipping_paid discount line_discount".split()
)


def open_table(
    source: Source,
    chosen: ReadingChoices = NOTHING_CHOSEN,
    known: Known = known_order_headers,
    watch: Watch = UNWATCHED,
) -> Sheet:
    """Return the table in a file or on the clipboard; Unreadable when it is none. `known` counts known headers."""
    if isinstance(source, Pasted):
        return read_sheet_text(source.text, chosen, source.name, known, watch)
    return read_sheet(source, chosen, known, watch)


def preview_sheet(sheet: Sheet, rules: OrderRules, watch: Watch = UNWATCHED) -> Preview:
    """Return the first rows of an order list that is already open."""
    faults = FaultsFound(sheet.name)
    sheet = lines_in_rows(sheet, rules.mapping)
    wanted, matched = rules.mapping, match_columns(sheet, rules, faults)
    questions: tuple[FormatQuestion, ...] = ()
    splits: tuple[SplitExample, ...] = ()
    several: tuple[CellOfItems, ...] = ()
    if not matched.missing and not faults.faults:
        try:
            prepared = prepare(sheet, rules, watch)
            matched, questions, splits = prepared.matched, prepared.questions, split_examples(prepared)
            several = several_items(prepared)
        except Unreadable as unreadable:
            faults.faults += unreadable.faults
    watch.at(1, 1)
    return replace(
        _preview(sheet, matched.columns, ORDER_FIELDS),
        missing=matched.missing,
        suggestions=matched.suggestions,
        ignored=matched.ignored,
        skipped=tuple(header for header in sheet.header if header and _is_skipped(header, wanted)),
        faults=_faults_of(faults),
        doubtful={doubt.ours: doubt.values for doubt in matched.doubtful},
        questions=questions,
        likely_country=matched.likely_country,
        country=matched.country,
        splits=splits,
        several=several,
        side_by_side=sheet.side_by_side,
    )


def _is_skipped(header: str, wanted: ColumnMapping) -> bool:
    return folded(header) in {folded(one) for one in wanted.ignore}


def accept_all(sheet: Sheet, rules: OrderRules) -> ColumnMapping:
    """Return the mapping with every suggestion accepted, repeated until no new one becomes likely."""
    mapping = rules.mapping
    for _ in range(MOST_ACCEPTED):
        matched = match_columns(sheet, replace(rules, mapping=mapping), FaultsFound(sheet.name))
        offers = {offer.ours: offer.header for offer in matched.suggestions}
        if not offers and not matched.likely_country:
            break
        country = mapping.country or matched.likely_country
        mapping = replace(mapping, columns={**mapping.columns, **offers}, country=country)
    return mapping


def preview_shelf(
    sheet: Sheet, mapped: Mapping[str, str], fields: Mapping[str, str], words: tuple[str, ...]
) -> Preview:
    """Return the first rows of a product or mailer list under the names in `words`; nothing is required yet."""
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(fields, mapped), faults, sheet.header_line)
    sample = [row.cells for row in sheet.rows[:SAMPLE]]
    open_fields = [name for name in columns.missing(words) if mapped.get(name) != ""]
    offers = suggestions(columns, open_fields, fields, sample)
    used = {*columns.places.values(), *(sheet.header.index(offer.header) for offer in offers)}
    return replace(
        _preview(sheet, columns, words),
        suggestions=tuple(replace(offer, place=sheet.header.index(offer.header)) for offer in offers),
        ignored=tuple(
            IgnoredColumn(header, place) for place, header in enumerate(sheet.header) if header and place not in used
        ),
        faults=_faults_of(faults),
        doubtful=_doubtful(columns, sample),
    )


def _doubtful(columns: Columns, rows: list[tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """Return the fields whose cells mostly don't look like the field, with the first such cells."""
    doubtful = {}
    for name in columns.places:
        values = list(dict.fromkeys(filter(None, (columns.cell(cells, name) for cells in rows))))
        if not fits(name, values):
            doubtful[name] = tuple(values[:3])
    return doubtful


def _preview(sheet: Sheet, columns: Columns, words: tuple[str, ...]) -> Preview:
    names = tuple(name for name in words if name in columns.places)
    first = sheet.rows[:FIRST_ROWS]
    return Preview(
        path=Path(sheet.name),
        columns=names,
        headers=tuple(columns.name(name) for name in names),
        rows=tuple(tuple(columns.cell(row.cells, name) for name in names) for row in first),
        count=len(sheet.rows),
        encoding=sheet.encoding,
        delimiter=sheet.delimiter,
        sheet=sheet.sheet,
        sheets=sheet.sheets,
        header=sheet.header,
        places=tuple(columns.places[name] for name in names),
        cells=tuple(row.cells for row in first),
    )


def as_mapping(mapping: Mapping[str, str] | ColumnMapping | None) -> ColumnMapping:
    """Return a full mapping, given one, a dict of columns, or nothing."""
    return mapping if isinstance(mapping, ColumnMapping) else ColumnMapping(dict(mapping or {}))


def read_order_list(
    source: Source,
    terms: Terms,
    mapping: Mapping[str, str] | ColumnMapping | None = None,
    watch: Watch = UNWATCHED,
) -> OrdersFile | None:
    """Return the contents of an order list by the shop's rules; None when canceled; Unreadable with every fault."""
    wanted = as_mapping(mapping)
    try:
        with uncollected():
            sheet = open_table(source, wanted.reading, watch=watch.part(0, 400))
            return orders_in(sheet, order_rules(terms, wanted), watch.part(400, WHOLE))
    except Stopped:
        return None


def order_rules(terms: Terms, wanted: ColumnMapping) -> OrderRules:
    """Return how a list is read in this shop."""
    return rules_of(terms.shop, terms.rulebook.countries, wanted)


def list_rules(countries: Countries) -> OrderRules:
    """Return how a list is read before the shop is known."""
    return replace(NO_SHOP, countries=countries)


def rules_of(shop: Shop, countries: Countries, wanted: ColumnMapping) -> OrderRules:
    """Return how a list is read under a shop's policy, with its products."""
    policy = shop.policy
    return OrderRules(
        countries,
        policy.currency,
        wanted,
        policy.skip_status,
        products=KnownProducts.of(shop.products),
        ship_status=policy.ship_status,
        home=shop.sender.country or HOME,
    )


def read_orders_of(
    source: Source,
    terms: Terms,
    mapping: Mapping[str, str] | ColumnMapping | None = None,
    watch: Watch = UNWATCHED,
) -> tuple[Order, ...]:
    """Return every order in a list, read by the shop's rules; empty when canceled; Unreadable with every fault."""
    order_list = read_order_list(source, terms, mapping, watch)
    return order_list.orders if order_list else ()


def _faults_of(faults: FaultsFound) -> tuple[FileFault, ...]:
    return tuple(faults.in_order())
