"""Preview an order list from its file or text, as the window does in two steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.orders.order_list import OrderRules
from desk.session.importing.preview import NO_SHOP, Preview, Source, as_mapping, open_table, preview_sheet
from desk.tables.watch import UNWATCHED, Watch


def preview_orders(
    source: Source,
    mapping: Mapping[str, str] | ColumnMapping | None = None,
    rules: OrderRules = NO_SHOP,
    watch: Watch = UNWATCHED,
) -> Preview:
    """Return the first rows of an order list under our field names; Unreadable when it is no table.

    A mapping also says how to read the file. `rules` are those of the shop.
    """
    wanted = as_mapping(mapping)
    sheet = open_table(source, wanted.reading, watch=watch.part(0, 800))
    return preview_sheet(sheet, replace(rules, mapping=wanted), watch.part(800, 1000))
