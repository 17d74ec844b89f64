"""Read price tables from the post's own workbook: a tab for each table, titles above, notes below.

Weights are in the first column, zones or price groups across; a tab without zones has a column for each service. The
service of a table is guessed from the words of tab, titles and column, and only when exactly one fits.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from desk.domain.exact import plain
from desk.domain.faults import FileFault
from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.cells_file import OVERSIZED
from desk.tables.files import read_bytes
from desk.tables.workbook import is_workbook, workbook_sheets

Line = tuple[int, tuple[str, str, str, str]]
Rows = Sequence[tuple[int, list[str]]]
LEAST_KEYS = 3  # zones or groups across; with fewer it is a table of services
_KEY = re.compile(
    r"(?:local[\s,&]*)?(?:and\s+)?(?:price\s+)?(?:zones?|groups?)?\s*([0-9]{1,2})(?:\s*(?:-|–|&|and|to)\s*([0-9]{1,2}))?",
    re.IGNORECASE,
)
_WEIGHT = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(oz|ounces?|lbs?|pounds?|g|kg|cu\.? ?ft)?\.?", re.IGNORECASE)
_PRICE = re.compile(r"\$?\s*([0-9]{1,3}(?:,[0-9]{3})+|[0-9]+)(\.[0-9]{1,2})?")
_MARKS = "*†‡§⁰¹²³⁴⁵⁶⁷⁸⁹ "  # what points to a note
_NO_PRICE = frozenset({"", "-", "–", "—", "n/a", "na"})
_UNITS = {"oz": "oz", "ounce": "oz", "lb": "lb", "pound": "lb", "kg": "kg", "g": "g", "cu": "cu ft"}
# Service: words that must all be there, and words that must not.
_GUESSES: Mapping[str, tuple[str, str]] = {
    "ground-cubic-commercial": ("ground cubic", ""),
    "ground-commercial": ("ground commercial", "cubic retail"),
    "ground-retail": ("ground retail", "cubic commercial"),
    "priority-commercial": ("priority commercial", "express international flat retail"),
    "priority-retail": ("priority retail", "express international flat commercial"),
    "intl-priority": ("priority international", "express flat"),
    "intl-package": ("package international", "priority express"),
    "intl-letter": ("letter international", "package flat large priority"),
    "intl-flat": ("flat international", "package priority rate"),
    "media": ("media", "library"),
    "library": ("library", "media"),
    "letter-stamped": ("letter stamped", "international metered flat"),
    "letter-metered": ("letter metered", "international stamped flat"),
    "flat": ("flat envelope", "rate international priority letter"),
    "postcard": ("postcard", "international letter"),
}
_SAME_WORDS = {
    "letters": "letter", "flats": "flat", "large": "flat", "envelopes": "envelope", "postcards": "postcard",
    "cards": "postcard", "comm": "commercial", "online": "commercial", "counter": "retail", "intl": "international",
    "pmi": "priority international", "pm": "priority", "ga": "ground", "packages": "package",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PriceTable:
    """One table of a workbook: its name (tab, and column if several share one) and its likely service.

    `lines` are prices without their service: row, weight in ounces or grams or a volume, key, price.
    """

    name: str
    guess: str
    lines: tuple[tuple[int, str, str, str], ...]
    faults: tuple[FileFault, ...] = ()

    def lines_of(self, service: str) -> list[Line]:
        """Return the lines as prices of a service."""
        return [(number, (service, weight, key, price)) for number, weight, key, price in self.lines]


def is_price_workbook(path: Path) -> bool:
    """Return True for a workbook; Unreadable when the file cannot be read."""
    return is_workbook(read_bytes(path))


def price_tables(path: Path, grams: bool = False) -> tuple[PriceTable, ...]:
    """Return every table with prices; weights in grams instead of ounces where a list bills in them.

    Raises:
        Unreadable: no workbook, or a damaged one.
    """
    sheets = workbook_sheets(read_bytes(path), path.name)
    return tuple(table for tab, rows in sheets.items() for table in _tables(path.name, tab, rows, grams=grams))


def _tables(file: str, tab: str, rows: Rows, *, grams: bool) -> Iterator[PriceTable]:
    rows = _from_weights(rows)
    head = _header_place(rows)
    if head is None:
        return
    titles = " ".join(cell for _, cells in rows[:head] for cell in cells)
    header = rows[head][1]
    keys = _keys(header)
    if len(keys) >= LEAST_KEYS:
        yield _table(file, tab, (tab, f"{tab} {titles} {header[0]}"), rows[head:], keys, grams=grams)
        return
    columns = {at: "" for at, cell in enumerate(header) if at and cell.strip()}
    for at in columns:
        name = tab if len(columns) == 1 else f"{tab}: {' '.join(header[at].split())}"
        yield _table(file, name, (header[at], f"{tab} {titles} {header[at]}"), rows[head:], {at: ""}, grams=grams)


def _from_weights(rows: Rows) -> Rows:
    """Return the rows from the weight column on; titles may come before it."""
    firsts = Counter(
        at
        for _, cells in rows
        for at in (next((at for at, cell in enumerate(cells) if cell.strip()), 0),)
        if _WEIGHT.fullmatch(cells[at].strip() if cells else "") and any(map(_PRICE.fullmatch, cells[at + 1 :]))
    )
    column = firsts.most_common(1)[0][0] if firsts else 0
    if not column:
        return rows
    return [(number, cells[column:] if any(cells[column:]) else list(filter(None, cells))) for number, cells in rows]


def _table(
    file: str, name: str, titles: Sequence[str], rows: Rows, keys: Mapping[int, str], *, grams: bool
) -> PriceTable:
    lines: list[tuple[int, str, str, str]] = []
    faults: list[FileFault] = []
    unit = _unit_of(rows[0][1][0] if rows[0][1] else "") or _unit_of(titles[-1])
    for number, cells in rows[1:]:
        first = cells[0].strip() if cells else ""
        prices = {at: cells[at].strip().rstrip(_MARKS) for at in keys if at < len(cells)}
        if not any(_PRICE.fullmatch(text) for text in prices.values()) or _keys(cells) == keys:
            unit = _unit_of(first) or unit  # a title between two blocks, a note, or a repeated header
            continue
        weight = _weight(first, unit, grams=grams)
        if weight is None:
            faults.append(FileFault(f"{file}, {name}", number, "weight", first, "a weight such as 4 oz or 2 lb"))
            continue
        for at, text in prices.items():
            price = _PRICE.fullmatch(text)
            if price:
                lines.append((number, weight, keys[at], f"{price[1].replace(',', '')}{price[2] or ''}"))
            elif text.casefold() not in _NO_PRICE:
                faults.append(FileFault(f"{file}, {name}", number, keys[at], text, "a price such as 7.90"))
    guess = next(filter(None, map(guessed_service, titles)), "")
    return PriceTable(name, guess, tuple(lines), tuple(faults))


def guessed_service(words: str) -> str:
    """Return the service whose words are all in a title, when exactly one fits; else empty."""
    tokens: set[str] = set()
    for word in re.findall(r"[a-z]+", words.casefold().replace("first-class", "first class")):
        tokens.update(_SAME_WORDS.get(word, word).split())
    fitting = [
        service
        for service, (needed, barred) in _GUESSES.items()
        if tokens.issuperset(needed.split()) and tokens.isdisjoint(barred.split())
    ]
    return fitting[0] if len(fitting) == 1 else ""


def _header_place(rows: Rows) -> int | None:
    """Return the index of the header row: the first row of keys, else the row above the first price."""
    by_keys = next((at for at, (_, cells) in enumerate(rows) if len(_keys(cells)) >= LEAST_KEYS), None)
    if by_keys is not None:
        return by_keys
    for at, (_, cells) in enumerate(rows):
        if cells and _WEIGHT.fullmatch(cells[0].strip()) and any(_PRICE.fullmatch(cell.strip()) for cell in cells[1:]):
            return next((above for above in range(at - 1, -1, -1) if any(rows[above][1][1:])), None)
    return None


def _keys(cells: Sequence[str]) -> dict[int, str]:
    """Return the columns that name a zone, a price group, or a range of them; empty where a number is a price."""
    keys = {}
    for at, cell in enumerate(cells):
        match = _KEY.fullmatch(cell.strip().rstrip(_MARKS)) if at else None
        if match:
            keys[at] = f"{int(match[1])}-{int(match[2])}" if match[2] else str(int(match[1]))
    rising = [int(key.partition("-")[0]) for key in keys.values()]
    return keys if rising == sorted(set(rising)) and rising[:1] == [1] else {}


def _unit_of(text: str) -> str:
    words = re.findall(r"[a-z]+", text.casefold())
    units = {unit for word in words for start, unit in _UNITS.items() if word in (start, f"{start}s")}
    units |= {"cu ft"} if "cubic" in words else set()
    return units.pop() if len(units) == 1 else ""


def _weight(text: str, unit: str, *, grams: bool) -> str | None:
    """Return the weight of a row as a list writes it; None when it has none."""
    if text.casefold().startswith(OVERSIZED):
        return OVERSIZED
    match = _WEIGHT.fullmatch(text.rstrip(_MARKS))
    if not match:
        return None
    unit = _unit_of(match[2] or "") or unit or ("g" if grams else "oz")
    if unit == "cu ft":
        return f"{Decimal(match[1]):.2f} cu ft"
    weight = Weight.of(match[1], unit)
    return plain(weight.in_unit(WeightUnit.GRAM if grams else WeightUnit.OUNCE))
