"""The shop file (TOML): what the maker sets up once. Read completely, or refused with every fault and its line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from desk.domain.shop.shop import Shop
from desk.intake.shop.shop_build import Note, build_shop
from desk.intake.shop.shop_form_file import ShopTable
from desk.intake.shop.shop_rules import broken_rules
from desk.tables.faults_found import FaultsFound
from desk.tables.toml_text import KeyPath, read_toml

_EXPECTED = {
    "missing": "a value here; it is needed",
    "string_type": "text in quotes",
    "string_too_short": "text that is not empty",
    "bool_type": "true or false",
    "int_type": "a whole number without quotes",
    "tuple_type": 'a list, such as ["one", "two"]',
    "dict_type": "a table",
    "model_type": "a table",
    "model_attributes_type": "a table",
}


def read_shop(path: Path) -> Shop:
    """Read a shop file. Raises Unreadable with every unknown field, wrong type and broken rule between fields."""
    values, lines = read_toml(path)
    faults = FaultsFound(str(path))

    def note(place: KeyPath, found: str, expected: str) -> None:
        faults.add(lines.of(place), dotted(place), found, expected)

    shop = shop_of(values, note)
    faults.raise_any()
    assert shop is not None
    return shop


def shop_of(values: Mapping[str, object], note: Note) -> Shop | None:
    """Return the shop from a shop file's values; None when they do not fit the form. Every fault goes to `note`."""
    for broken in broken_rules(values):
        note(*broken)
    try:
        table = ShopTable.model_validate(values)
    except ValidationError as error:
        for detail in error.errors(include_url=False):
            note(*_in_our_words(detail, values))
        return None
    return build_shop(table, note)


def dotted(place: KeyPath) -> str:
    """Return a path as error messages show it: `mailers.2.kind`, counted from 1."""
    return ".".join(str(part + 1) if isinstance(part, int) else part for part in place)


def _in_our_words(detail: ErrorDetails, values: Mapping[str, object]) -> tuple[KeyPath, str, str]:
    """Return place, what was found and what was expected for one of pydantic's errors."""
    kind = detail["type"]
    place = _in_file(detail["loc"], values)
    typed = "" if kind == "missing" or isinstance(detail["input"], dict | list) else str(detail["input"])
    expected = _EXPECTED.get(kind, detail["msg"])
    if kind == "value_error":
        expected = str(detail["ctx"]["error"])
    elif kind == "extra_forbidden":
        typed, expected = str(place[-1]), f"one of {', '.join(_fields(place[:-1]))}"
    elif kind == "greater_than_equal":
        expected = f"a whole number of at least {detail['ctx']['ge']}"
    return place, typed, expected


def _in_file(loc: Iterable[int | str], values: object) -> KeyPath:
    """Return the part of pydantic's path that can exist in the file; pydantic adds its type names."""
    place: KeyPath = ()
    for part in loc:
        if isinstance(values, dict) and (part in values or part in _fields(place)):
            values = values.get(part)
        elif isinstance(values, list) and isinstance(part, int):
            values = values[part]
        else:
            break
        place = (*place, part)
    return place


def _fields(place: KeyPath) -> tuple[str, ...]:
    """Return the field names of a table of the form."""
    model: type[BaseModel] = ShopTable
    for part in place:
        if isinstance(part, int):
            continue
        annotation = model.model_fields[part].annotation if part in model.model_fields else None
        inner = [annotation, *getattr(annotation, "__args__", ())]
        tables = [kind for kind in inner if isinstance(kind, type) and issubclass(kind, BaseModel)]
        if tables:
            model = tables[0]
    return tuple(model.model_fields)
