"""Rules between fields of a shop file: a size is complete, a weight has a unit, a name is unique.

Checked on the values as written, alongside the form, so that all faults are reported together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from desk.intake.columns.currencies import CURRENCIES, DRAWING_RIGHTS
from desk.intake.columns.units import SIDES

Place = tuple[str | int, ...]
Broken = tuple[Place, str, str]  # path, what was found, what was expected


def broken_rules(values: Mapping[str, object]) -> Iterator[Broken]:
    """Yield each broken rule between fields. Parts of the wrong type are skipped; the form reports those."""
    sender = values.get("sender")
    if isinstance(sender, dict) and not sender.get("name") and not sender.get("company"):
        yield ("sender",), "", "a name or a company"
    for place, mailer in _tables(values, "mailers"):
        yield from _mailer(place, mailer)
    for place, product in _tables(values, "products"):
        if not product.get("sku") and not product.get("name"):
            yield place, "", "a sku or a name; an order line finds its product by either"
        if "unit_weight" in product and "weight_unit" not in product:
            yield (*place, "unit_weight"), "", "a weight_unit with it: oz, lb, g or kg"
    for place, stamp in _tables(values, "stamps"):
        if stamp.get("kind") == "face" and "value" not in stamp:
            yield place, "", "a value; face stamps are worth what is printed on them"
    yield from _doubled(values, "mailers", "name")
    yield from _doubled(values, "products", "sku")
    yield from _currencies(values.get("rates"))


def _mailer(place: Place, mailer: Mapping[str, object]) -> Iterator[Broken]:
    sides = [side for side in SIDES if side in mailer]
    if sides and len(sides) < 3:
        missing = next(side for side in SIDES if side not in mailer)
        yield (*place, missing), "", "length, width and thickness together, or none"
    if sides and "size_unit" not in mailer:
        yield (*place, sides[0]), "", "a size_unit with it: in or mm"
    if "tare" in mailer and "tare_unit" not in mailer:
        yield (*place, "tare"), "", "a tare_unit with it: oz, lb, g or kg"


def _doubled(values: Mapping[str, object], kind: str, key: str) -> Iterator[Broken]:
    first: dict[str, int] = {}
    for place, table in _tables(values, kind):
        name = table.get(key)
        if isinstance(name, str) and name and first.setdefault(name, int(place[1])) != place[1]:
            yield (*place, key), name, f"a unique {key}; {kind}.{first[name] + 1} already has this one"


def _currencies(rates: object) -> Iterator[Broken]:
    for pair in rates if isinstance(rates, dict) else ():
        codes = pair.split("_")
        unknown = [code for code in codes if code not in CURRENCIES and code != DRAWING_RIGHTS]
        if len(codes) != 2 or unknown:
            yield ("rates", pair), pair, "two ISO 4217 currency codes, such as XDR_USD"


def _tables(values: Mapping[str, object], kind: str) -> Iterator[tuple[Place, Mapping[str, object]]]:
    tables = values.get(kind)
    for place, table in enumerate(tables if isinstance(tables, list) else ()):
        if isinstance(table, dict):
            yield (kind, place), table
