"""Refuse an order list without a needed column, and name the line for a mapping."""

from __future__ import annotations

from desk.intake.columns.sheet import Sheet
from desk.intake.order_headers.likely_by_cells import is_row_of_data
from desk.intake.order_headers.match import OrderColumns
from desk.intake.order_headers.rules import NEEDED
from desk.tables.faults_found import FaultsFound

HOW = "Save a mapping with --suggest-map, check it, and run again with --map"


def refuse_missing(sheet: Sheet, matched: OrderColumns, faults: FaultsFound) -> None:
    """Add a fault for each needed field without a column, naming the column that may be meant."""
    missing = matched.missing
    if not missing:
        return
    if is_row_of_data(matched) and set(NEEDED) <= set(missing):
        faults.add(
            sheet.header_line,
            "",
            "",
            f"a row of column names, such as {', '.join(NEEDED)}; this row looks like an order",
        )
        return
    offers = {offer.ours: offer for offer in matched.suggestions}
    parts = {"first_name", "last_name"} & offers.keys()
    for name in missing:
        offer = offers.get(name) or (offers[min(parts)] if name == "recipient" and parts else None)
        if name == "country" and not offer:
            offer = offers.get("full_address")
        hint = (
            f'; perhaps {offer.words()}. To use it, put {offer.ours} = "{offer.header}" under [columns] in a mapping'
            if offer
            else ""
        )
        if name == "country" and not offer:
            hint = _one_country_hint(matched)
        faults.add(sheet.header_line, name, "", f"a column for {name}{hint}")
    named = {*NEEDED, *missing, *(["full_address"] if "country" in missing else [])}
    others = [offer.words() for offer in matched.suggestions if offer.ours not in named]
    if others:
        faults.add(
            sheet.header_line, "", "", f"a mapping for columns that are not certain either: {'; '.join(others)}. {HOW}"
        )


def _one_country_hint(matched: OrderColumns) -> str:
    """Return what to put in a mapping when all orders go to one country."""
    if matched.likely_country:
        why = f"the postal codes look like those of {matched.likely_country}"
        return f'; {why}. If so, put country = "{matched.likely_country}" above [columns] in a mapping'
    return '; if all go to one, put it above [columns] in a mapping, such as country = "US"'
