"""Extras file: what can be bought with a piece, such as insurance by value or a certificate of mailing.

Columns `code`, `value_max` (the inclusive declared value, empty where the price does not depend on it), `services` (ids
separated by spaces; empty: any service) and `amount`.
"""

from __future__ import annotations

from importlib.resources.abc import Traversable

from desk.domain.faults import FileFault
from desk.domain.money import Money
from desk.rates.lists.cells_file import table_file, table_rows
from desk.rates.lists.head_table import PLAIN_NUMBER
from desk.rates.lists.price_list import Extra

EXTRAS = "extras.csv"
COLUMNS = ["code", "value_max", "services", "amount"]


def read_extras(
    folder: Traversable, currency: str, source: str, known_by: str, faults: list[FileFault]
) -> tuple[Extra, ...]:
    """Return the extras of a folder of price lists; none when it has no such file."""
    file = table_file(folder, EXTRAS)
    name = f"{folder.name}/{file.name}"
    if not file.is_file():
        return ()
    lines = table_rows(file, name, faults)
    if not lines or lines[0][1] != COLUMNS:
        faults.append(FileFault(name, 1, "", "", f"the heading {','.join(COLUMNS)}"))
        return ()
    extras = []
    for number, cells in lines[1:]:
        if len(cells) != len(COLUMNS):
            faults.append(FileFault(name, number, "", ",".join(cells), f"{len(COLUMNS)} cells"))
            continue
        code, value_max, services, amount = cells
        if not code:
            faults.append(FileFault(name, number, "code", "", "a code"))
        most = _money(value_max, currency) if value_max else None
        price = _money(amount, currency)
        if price is None or (value_max and most is None):
            faults.append(FileFault(name, number, "amount", amount, f"amounts of {currency} in plain digits"))
            continue
        extras.append(Extra(code, price, source, known_by, most, frozenset(services.split())))
    return tuple(extras)


def _money(text: str, currency: str) -> Money | None:
    try:
        return Money.of(text, currency) if PLAIN_NUMBER.fullmatch(text) else None
    except ValueError:
        return None  # more decimals than the currency has
