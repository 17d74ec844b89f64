"""Product lists and lists of mailers (CSV, TSV, XLSX, ODS), read into products and mailers by the shop file's rules.

A row for something the shop already has changes only what it gives: an empty cell or a missing column leaves the old
value.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any  # fields of several types

from desk.domain.places.country import Countries
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.intake.columns.amounts import NotRead, count
from desk.intake.columns.headers import Columns, Meanings, Suggestion, by_word, match_headers, meaning, suggestions
from desk.intake.columns.sheet import Known, Row, Sheet
from desk.intake.columns.units import SIDES, settled, unit_word
from desk.intake.columns.yes_no import YesNoColumn
from desk.intake.shop.product_list_words import MAILER_WORDS, PRODUCT_WORDS
from desk.tables.faults_found import FaultsFound
from desk.tables.watch import UNWATCHED, WHOLE, Watch

Record = Product | Mailer
Values = dict[str, Any]  # as pydantic checks them
YesNoReader = Callable[[str], bool | None]


class ListKind(StrEnum):
    """What a list contains, in the words of the shop file."""

    PRODUCTS = "products"
    MAILERS = "mailers"


WORDS = {ListKind.PRODUCTS: PRODUCT_WORDS, ListKind.MAILERS: MAILER_WORDS}
FIELDS = {shelf: by_word(words) for shelf, words in WORDS.items()}
_YES_NO = frozenset({"stiff", "document", "media", "no_goods", "reused", "paper"})
_UNIT_OF = {"unit_weight": "weight_unit", "tare": "tare_unit"}
_MEASURED = {"weight_unit": ("unit_weight",), "tare_unit": ("tare",), "size_unit": SIDES}
SAMPLE = 20


@dataclass(frozen=True, slots=True)
class Catalog:
    """What a list contains: complete records, with each row's values replacing those the shop already had."""

    shelf: ListKind
    records: tuple[Record, ...]
    header: tuple[str, ...] = ()
    suggestions: tuple[Suggestion, ...] = ()


@dataclass(frozen=True, slots=True)
class CatalogRules:
    """What a list is read against: the shop as it is, the known countries, and any chosen field -> header."""

    shop: Shop
    countries: Countries
    columns: Mapping[str, str] = field(default_factory=dict)


def known_headers(shelf: ListKind) -> Known:
    """Return a function that counts the known headers of such a list in a row."""
    return lambda cells: sum(1 for cell in cells if meaning(cell, FIELDS[shelf]))


def catalog_in(sheet: Sheet, shelf: ListKind, rules: CatalogRules, watch: Watch = UNWATCHED) -> Catalog:
    """Return the records of a table.

    Raises:
        Unreadable: with every fault, by line and column.
        Stopped: canceled.
    """
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(FIELDS[shelf], rules.columns), faults, sheet.header_line)
    sample = [row.cells for row in sheet.rows[:SAMPLE]]
    offers = suggestions(columns, columns.missing(WORDS[shelf]), FIELDS[shelf], sample)
    _ask_for_needed(sheet, columns, shelf, offers, faults)
    faults.raise_any()
    read_yes_no = {name: YesNoColumn.of(columns.cell(row.cells, name) for row in sheet.rows).read for name in _YES_NO}
    given = [_given(row, columns, rules.countries, read_yes_no, faults) for row in watch.part(0, 300).over(sheet.rows)]
    known = [_values_of(shelf, rules.shop, values) for values in watch.part(300, WHOLE).over(given)]
    whole = [_on_top(old, new) for old, new in zip(known, given, strict=True)]
    records = _built(whole, shelf, rules.shop, _Places(sheet.rows, columns, faults))
    faults.raise_any()
    return Catalog(shelf, records, sheet.header, offers)


def known_product(shop: Shop, sku: str, name: str) -> Product | None:
    """Return the product meant: by SKU, else by name if one side has no SKU."""
    by_sku = (product for product in shop.products if sku and product.sku == sku)
    by_name = (product for product in shop.products if name and product.name == name and not (sku and product.sku))
    return next(by_sku, None) or next(by_name, None)


def _ask_for_needed(
    sheet: Sheet, columns: Columns, shelf: ListKind, offers: Sequence[Suggestion], faults: FaultsFound
) -> None:
    """Add a fault when a needed column is missing (SKU or name for products, name for mailers)."""
    needed = ("name", "sku") if shelf is ListKind.PRODUCTS else ("name",)
    if len(columns.missing(needed)) < len(needed):
        return
    hints = "; ".join(offer.words() for offer in offers)
    what = " or ".join(needed)
    faults.add(sheet.header_line, needed[0], "", f"a column for {what}{'; perhaps ' + hints if hints else ''}")


def _given(
    row: Row, columns: Columns, countries: Countries, read_yes_no: Mapping[str, YesNoReader], faults: FaultsFound
) -> Values:
    """Return the filled cells of a row as a shop file would have them."""
    values: Values = {}
    for ours, text in columns.texts(row.cells).items():
        try:
            values[ours] = read_yes_no[ours](text) if ours in read_yes_no else _value(ours, text, countries)
        except NotRead as error:
            faults.add(row.line, columns.name(ours), text, str(error))
    for unit, fields in _MEASURED.items():
        cells = {ours: values.pop(ours) for ours in fields if ours in values}
        typed = unit_word(values.pop(unit, ""), fields[0])
        try:
            numbers, one = settled(cells, typed, columns.units)
            values |= numbers | ({unit: one} if one else {})
        except NotRead as error:
            ours, text = next(iter(cells.items()))
            faults.add(row.line, columns.name(ours), text, str(error))
    return values


def _value(ours: str, text: str, countries: Countries) -> object:
    if ours == "pack_count":
        return count(text)
    if ours == "origin":
        return countries.find(text) or text
    return text.casefold() if ours in ("kind", "restricted") else text


def _values_of(shelf: ListKind, shop: Shop, given: Values) -> Values:
    """Return what the shop already knows about the row's product or mailer, as a shop file has it."""
    from desk.intake.shop.shop_values import mailer_values, product_values

    if shelf is ListKind.MAILERS:
        mailer = shop.mailer(given.get("name", ""))
        return mailer_values(mailer) if mailer else {}
    product = known_product(shop, given.get("sku", ""), given.get("name", ""))
    return product_values(product) if product else {}


def _on_top(known: Values, given: Values) -> Values:
    """Return a row's values over the known ones; a new number never keeps the old unit, nor half a size."""
    merged = dict(known)
    for number, unit in _UNIT_OF.items():
        if number in given:
            merged.pop(unit, None)
    if any(side in given for side in SIDES):
        for name in (*SIDES, "size_unit"):
            merged.pop(name, None)
    return merged | given


@dataclass(frozen=True, slots=True)
class _Places:
    """Where in the table to report a fault from the shop file's rules."""

    rows: tuple[Row, ...]
    columns: Columns
    faults: FaultsFound

    def note(self, place: tuple[str | int, ...], found: str, expected: str) -> None:
        """Add a fault for `products.3.hs` at the line and column it came from."""
        if len(place) < 2 or not isinstance(place[1], int):
            return
        column = self.columns.name(str(place[2])) if len(place) > 2 else ""
        self.faults.add(self.rows[place[1]].line, column, found, expected)


def _built(values: list[Values], shelf: ListKind, shop: Shop, places: _Places) -> tuple[Record, ...]:
    from desk.intake.shop.shop_file import shop_of
    from desk.intake.shop.shop_values import ANYBODY

    policy = {"currency": shop.policy.currency}
    read = shop_of({"sender": ANYBODY, "policy": policy, str(shelf): values}, places.note)
    return getattr(read, str(shelf)) if read else ()
