"""Settle ambiguous headers of amounts: use the reading that makes the order totals add up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from desk.domain.codes import Code
from desk.intake.columns.formats import AMOUNT_FIELDS, DISCOUNT_FIELDS, DISCOUNT_FORMATS, ColumnFormat
from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Row
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.order_headers.match import OrderColumns
from desk.intake.order_headers.settle_headers import likely_candidates
from desk.intake.orders.column_formats import ColumnTexts, column_formats
from desk.intake.orders.order_rows import OrderReader, OrderTerms

Group = tuple[str, list[Row]]
TRIED = 100  # orders; enough to distinguish a reading that fits from one that does not
ENOUGH = 0.5  # the share of orders that must add up before we believe a guessed column
_PRICES = ("unit_price", "line_total")
_WRONG = (Code.TOTAL_DIFFERS, Code.CELL_NOT_READ, Code.LINE_TOTAL_DIFFERS)


@dataclass(frozen=True, slots=True)
class _Reading:
    """One way to read the file. `guessed` are columns that no header or mapping identifies for certain."""

    columns: Columns
    terms: OrderTerms
    guessed: tuple[int, ...] = ()


def settle_amounts(
    texts: ColumnTexts, matched: OrderColumns, terms: OrderTerms, groups: Sequence[Group], mapping: ColumnMapping
) -> tuple[OrderColumns, OrderTerms]:
    """Return the columns and terms that make most order totals add up; unchanged when there is no total."""
    tried, usual = groups[:TRIED], _Reading(matched.columns, terms)
    best, best_share = usual, _share_right(usual, tried)
    if best_share < 1:
        for reading in _readings(texts, usual, mapping, tried):
            share = _share_right(reading, tried)
            if share > best_share and (share >= ENOUGH or not reading.guessed):
                best, best_share = reading, share
    return _without_offers(matched, best), best.terms


def _without_offers(matched: OrderColumns, reading: _Reading) -> OrderColumns:
    """Return the settled columns; correct guesses are no longer suggestions."""
    guessed = reading.guessed
    return replace(
        matched,
        columns=reading.columns,
        suggestions=tuple(
            offer
            for offer in matched.suggestions
            if offer.place not in guessed and offer.ours not in reading.columns.places
        ),
        ignored=tuple(one for one in matched.ignored if one.place not in guessed),
    )


def _readings(
    texts: ColumnTexts, usual: _Reading, mapping: ColumnMapping, groups: Sequence[Group]
) -> Iterator[_Reading]:
    """Yield every way to read the amounts; what a mapping settles is not varied."""
    for columns, guessed in _column_choices(usual.columns, mapping, groups):
        formats = dict(usual.terms.formats)
        if guessed:
            new = {name: place for name, place in columns.places.items() if place in guessed and name in AMOUNT_FIELDS}
            formats |= column_formats(texts, Columns(columns.header, new), mapping.formats)
        terms = replace(usual.terms, formats=formats)
        for changed in _discount_choices(columns, terms, mapping):
            yield _Reading(columns, changed, guessed)
            if _differs_by_row(columns, "shipping_paid", groups):
                yield _Reading(columns, replace(changed, summed=frozenset({"shipping_paid"})), guessed)


def _column_choices(
    columns: Columns, mapping: ColumnMapping, groups: Sequence[Group]
) -> Iterator[tuple[Columns, tuple[int, ...]]]:
    """Yield the columns as they are, and with likely ones as order total, unit price, or line total."""
    totals = [place for place in _likely(columns, mapping, "total") if not _is_of_lines(place, groups)]
    prices = [(name, place) for name in _PRICES for place in _likely(columns, mapping, "unit_price", "line_total")]
    has_price = any(name in columns.places or mapping.columns.get(name) for name in _PRICES)
    for total in [None, *totals]:
        for price in [None, *([] if has_price else prices)]:
            new: dict[str, int] = {} if total is None else {"total": total}
            if price is not None and price[1] != total and mapping.columns.get(price[0]) != "":
                new[price[0]] = price[1]
            yield Columns(columns.header, {**columns.places, **new}), tuple(new.values())


def _likely(columns: Columns, mapping: ColumnMapping, *fields: str) -> list[int]:
    """Return unused columns that may be one of these fields, if none of the fields has a column yet."""
    if any(name in columns.places for name in fields) or (len(fields) == 1 and mapping.columns.get(fields[0]) == ""):
        return []
    used = {*columns.places.values()}
    return [
        place
        for place, header in enumerate(columns.header)
        if header and place not in used and header not in mapping.ignore
        if any(one.field in fields for one in likely_candidates(header))
    ]


def _is_of_lines(place: int, groups: Sequence[Group]) -> bool:
    """Return whether some order has different texts on its rows."""
    return any(
        len({row.cells[place] for row in rows if place < len(row.cells)} - {""}) > 1
        for _, rows in groups
        if len(rows) > 1
    )


def _differs_by_row(columns: Columns, name: str, groups: Sequence[Group]) -> bool:
    return name in columns.places and _is_of_lines(columns.places[name], groups)


def _discount_choices(columns: Columns, terms: OrderTerms, mapping: ColumnMapping) -> Iterator[OrderTerms]:
    yield terms
    formats = mapping.formats
    for name in DISCOUNT_FIELDS:
        if name in columns.places and name not in formats and not (name == "line_discount" and "discount" in formats):
            for kind in DISCOUNT_FORMATS:
                form = replace(terms.formats.get(name, ColumnFormat()), discount=kind)
                yield replace(terms, formats={**terms.formats, name: form})


def _share_right(reading: _Reading, groups: Sequence[Group]) -> float:
    """Return the share of orders whose total equals the sum of their lines; orders without a total do not count."""
    if "total" not in reading.columns.places:
        return 0.0
    reader = OrderReader(reading.terms, reading.columns)
    stated = [
        (number, rows) for number, rows in groups if any(reading.columns.cell(row.cells, "total") for row in rows)
    ]
    wrong = sum(any(issue.code in _WRONG for issue in reader.order(number, rows).findings) for number, rows in stated)
    return 1 - wrong / len(stated) if stated else 0.0
