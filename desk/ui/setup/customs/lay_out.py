"""Lay out a Setup page with a table below: the table fills the page, or with large type everything scrolls."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.ui.kit import type as typeface
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.form import Scrolled
from desk.ui.kit.table import PlainTable
from desk.ui.setup.page import Page

TABLE_HEIGHT = 180  # at 100%, where the page scrolls


def lay_out(page: Page, above: Sequence[QWidget], table: PlainTable) -> None:
    """Put these parts on a page, above its table."""
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 8)
    if typeface.scale() >= ONE_COLUMN_FROM:
        table.setMinimumHeight(round(TABLE_HEIGHT * typeface.scale()))
        column.addWidget(Scrolled(page.name, *above, table))
        return
    for part in above:
        column.addWidget(part)
    column.addWidget(table, 1)
