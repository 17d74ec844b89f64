"""Find the format of each column of an order list from all its cells, and the columns left ambiguous."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from desk.intake.columns.formats import (
    AMOUNT_FIELDS,
    DATE_FIELDS,
    DISCOUNT_FIELDS,
    ColumnFormat,
    FormatQuestion,
    FormatWord,
    format_of,
    is_two_ways,
    may_be_fraction,
    reading_words,
)
from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Sheet
from desk.intake.order_headers.words import header_meaning

FIRST_PLACES = 3


class ColumnTexts:
    """The distinct filled cells of each column of a table, in order; each column is read once."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self._known: dict[int, dict[str, None]] = {}

    def at(self, place: int) -> dict[str, None]:
        """Return the cells of one column."""
        texts = self._known.get(place)
        if texts is None:
            texts = dict.fromkeys(cells[place] for _, cells in self.sheet.rows if place < len(cells))
            texts.pop("", None)
            self._known[place] = texts
        return texts


def column_formats(
    cells_of: ColumnTexts, columns: Columns, chosen: Mapping[str, tuple[FormatWord, ...]]
) -> dict[str, ColumnFormat]:
    """Return how each date or amount column is read; `chosen` are the formats of the mapping, by field."""
    texts = {
        name: cells_of.at(columns.places[name]) for name in (*DATE_FIELDS, *AMOUNT_FIELDS) if name in columns.places
    }
    money = {name: values for name, values in texts.items() if name in AMOUNT_FIELDS}
    formats = {}
    for name, values in texts.items():
        others = [text for other, cells in money.items() if other != name for text in cells] if name in money else ()
        form = format_of(name, values, chosen.get(name, ()), others)
        if name in DISCOUNT_FIELDS and not form.discount:
            form = replace(form, discount=_discount_format(columns.name(name), values))
        formats[name] = form
    return formats


def _discount_format(header: str, values: Mapping[str, None]) -> str:
    """Return percent if header or cells say so; unclear when all cells may be fractions as well as amounts."""
    if "percent" in header_meaning(header).concepts:
        return FormatWord.PERCENT
    return "unclear" if may_be_fraction(values) else FormatWord.AMOUNT


def format_questions(
    cells_of: ColumnTexts, columns: Columns, formats: Mapping[str, ColumnFormat], currency: str
) -> tuple[FormatQuestion, ...]:
    """Return a question for each column with cells that read two ways and no cell that settles it."""
    questions = []
    for name, form in formats.items():
        texts = cells_of.at(columns.places[name])
        if name in DISCOUNT_FIELDS and form.discount == "unclear":
            questions.append(_question(cells_of.sheet, columns, name, _fraction_readings(texts)))
            continue
        doubts = {text: doubt for text in texts if (doubt := is_two_ways(name, text, form, currency))}
        if doubts:
            readings = reading_words(name, next(iter(doubts.values())).readings)
            questions.append(_question(cells_of.sheet, columns, name, readings, doubts))
    return tuple(questions)


def _fraction_readings(texts: Iterable[str]) -> dict[FormatWord, str]:
    text = next(text for text in texts if text.strip("0.,"))
    share = float(text.replace(",", "."))
    return {FormatWord.FRACTION: f"{share:.0%}", FormatWord.AMOUNT: f"{share:.2f}"}


def _question(
    sheet: Sheet,
    columns: Columns,
    name: str,
    readings: Mapping[FormatWord, str],
    doubts: Mapping[str, object] | None = None,
) -> FormatQuestion:
    place = columns.places[name]
    cells = [(line, cells[place]) for line, cells in sheet.rows if place < len(cells)]
    open_cells = [(line, text) for line, text in cells if (text in doubts if doubts is not None else text.strip("0.,"))]
    lines, values = zip(*open_cells[:FIRST_PLACES], strict=True)
    texts = frozenset(text for _, text in open_cells)
    return FormatQuestion(name, columns.name(name), len(open_cells), lines, values, readings, texts)
