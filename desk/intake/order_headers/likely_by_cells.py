"""Suggest a column for a field that every order needs, by its cells alone, where no header is like it.

These are only suggestions: a person confirms them in the window, or in a mapping. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from desk.intake.columns.headers import Suggestion
from desk.intake.columns.samples import Samples
from desk.intake.columns.value_kinds import MONEY, fits, is_date, is_person_name
from desk.intake.order_headers.match import OrderColumns
from desk.intake.order_headers.unread_columns import IgnoredColumn
from desk.intake.order_headers.words import header_meaning

_MOST = 0.9  # of the different cells have to be like the field; a few are always mistyped
_LETTERS_IN_ITEM = 3


def with_likely_cells(matched: OrderColumns, samples: Samples, is_country: Callable[[str], bool]) -> OrderColumns:
    """Return the columns, with a suggestion for each needed field that has none and a column whose cells are like it.

    The whole address is looked for where the country is missing. The country is first and the item last, since almost any text could name goods. A header row that is itself an order
    gets none: it would be lost.
    """
    if is_row_of_data(matched):
        return matched
    offered = {offer.ours for offer in matched.suggestions}
    for name in ("country", "full_address", "recipient", "order", "item"):
        if ("country" if name == "full_address" else name) not in matched.missing or name in offered:
            continue
        columns = [one for one in matched.ignored if _is_unknown(one.header) and samples.values(one.place)]
        likely = [one for one in columns if _is_like(name, one.place, matched, samples, is_country)]
        if likely:
            best = max(likely, key=lambda one: len(samples.values(one.place)))
            matched = _with_suggestion(matched, name, best)
    return matched


def is_row_of_data(columns: OrderColumns) -> bool:
    """Return whether a header row looks like an order: it has a plain number, an amount, a date, or an email address.

    Beside headers that we know it needs two of them, as one alone may be a header: "2025".
    """
    alike = sum(1 for cell in columns.columns.header if cell and _is_data(cell))
    return alike > (1 if columns.columns.places else 0)


def _is_data(cell: str) -> bool:
    return bool(cell.isdecimal() or MONEY.fullmatch(cell) or fits("email", [cell]) or is_date(cell))


def _with_suggestion(columns: OrderColumns, name: str, column: IgnoredColumn) -> OrderColumns:
    offer = Suggestion(name, column.header, column.values, column.place)
    ignored = tuple(one for one in columns.ignored if one.place != column.place)
    return replace(columns, suggestions=(*columns.suggestions, offer), ignored=ignored)


def _is_unknown(header: str) -> bool:
    """Return whether a header says nothing about what is in its column, except perhaps that it is about the buyer."""
    meaning = header_meaning(header)
    is_other = meaning.party in ("bill", "seller")
    return not is_other and (bool(meaning.unknown) or not meaning.concepts - {"number", "id", "code", "name"})


def _is_like(name: str, place: int, columns: OrderColumns, samples: Samples, is_country: Callable[[str], bool]) -> bool:
    values = samples.values(place)
    if name == "order":
        return _is_share_of(values, _has_number) and _has_one_buyer_each(place, columns, samples)
    if name == "country":
        return _is_share_of(values, is_country)
    if name == "full_address":
        is_open = not {"address1", "city", "postal_code"} & columns.columns.places.keys()
        return is_open and _is_share_of(values, lambda text: fits(name, [text]))
    if name == "recipient":
        return _is_share_of(values, lambda text: is_person_name(text) and len(text.split()) > 1)
    return _is_share_of(values, lambda text: _is_goods(text) and not is_country(text))


def _is_share_of(values: Sequence[str], looks: Callable[[str], bool]) -> bool:
    return sum(map(looks, values)) >= _MOST * len(values)


def _has_number(text: str) -> bool:
    """Return whether text may number an order: digits, perhaps after letters, and no amount."""
    return any(char.isdigit() for char in text) and " " not in text.strip() and not MONEY.fullmatch(text)


def _is_goods(text: str) -> bool:
    return sum(char.isalpha() for char in text) >= _LETTERS_IN_ITEM and "@" not in text


def _has_one_buyer_each(place: int, columns: OrderColumns, samples: Samples) -> bool:
    """Return whether rows with the same number have one buyer, and most buyers a number of their own."""
    places = {**{offer.ours: offer.place for offer in columns.suggestions}, **columns.columns.places}
    buyer = next((places[name] for name in ("recipient", "last_name", "address1", "email") if name in places), None)
    if buyer is None:
        return False
    pairs = set(zip(samples.cells[place], samples.cells[buyer], strict=True))
    numbers, buyers = ({pair[at] for pair in pairs} - {""} for at in (0, 1))
    several = len({pair for pair in pairs if all(pair)}) > len(numbers)
    return not several and 2 * len(numbers) >= len(buyers)
