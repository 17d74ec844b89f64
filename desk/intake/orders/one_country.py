"""One country for all orders of a list without a column for it: from a mapping, or suggested by the postal codes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from desk.domain.places.country import HOME, Countries
from desk.intake.columns.headers import folded
from desk.intake.columns.samples import Samples
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.order_headers.match import OrderColumns
from desk.intake.orders.addresses import STATES, postal_pattern

LEAST_ALIKE = 0.9  # of the postal codes have to be of that country; a few are always mistyped


def with_one_country(mapping: ColumnMapping, header: Sequence[str], countries: Countries) -> ColumnMapping:
    """Return the mapping, with a country in the place of a header read as the country of all orders."""
    wanted = mapping.columns.get("country", "")
    if not wanted or folded(wanted) in map(folded, header) or countries.find(wanted) is None:
        return mapping
    columns: Mapping[str, str] = {name: head for name, head in mapping.columns.items() if name != "country"}
    return replace(mapping, columns=columns, country=mapping.country or wanted)


def likely_country(columns: OrderColumns, samples: Samples, home: str) -> str:
    """Return the shop's own country when no column names one and postal codes or states match its; else empty."""
    places = columns.columns.places
    if "country" in places or any(offer.ours == "country" for offer in columns.suggestions):
        return ""
    if "postal_code" in places:
        return home if _share(samples.values(places["postal_code"]), rf"{postal_pattern(home)}|[0-9]{{4}}") else ""
    if "full_address" in places:
        ends = [
            re.split(r"[,\n;]", text.rstrip(" ,;\n"))[-1].strip() for text in samples.values(places["full_address"])
        ]
        return home if _share(ends, rf"(?:.*\W)?(?:{postal_pattern(home)})") else ""
    if home == HOME and "region" in places:
        return home if _share(samples.values(places["region"]), "|".join(STATES)) else ""
    return ""


def _share(values: Sequence[str], pattern: str) -> bool:
    alike = re.compile(pattern, re.IGNORECASE)
    return bool(values) and sum(alike.fullmatch(value) is not None for value in values) >= LEAST_ALIKE * len(values)
