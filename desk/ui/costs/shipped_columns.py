"""The columns of the shipped list, named as the shop's own system wants them."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit, QWidget

from desk.session.lists.shipped_list import ShippedHeaders, save_shipped_headers, shipped_headers
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.wrapping import FlowLayout, labeled


class ShippedColumns(QWidget):
    """Three names, saved when a field is left."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.fields = QLineEdit(), QLineEdit(), QLineEdit()
        line = FlowLayout(self)
        line.addWidget(PlainLabel("Columns of the shipped list:"))
        for name, field in zip(("&Number", "&Tracking", "&Mailed on"), self.fields, strict=True):
            field.setMaximumWidth(round(150 * typeface.scale()))
            field.editingFinished.connect(self.save)
            line.addWidget(labeled(name, field))

    def refresh(self) -> None:
        """Show the saved names, except where one is being typed."""
        saved = shipped_headers(self.desk.sitting)
        for field, name in zip(self.fields, (saved.order, saved.tracking, saved.mailed), strict=True):
            if not field.hasFocus():
                field.setText(name)

    def save(self) -> None:
        """Save the names when one changed; a refusal says why."""
        typed = ShippedHeaders(*(field.text().strip() for field in self.fields))
        if typed != shipped_headers(self.desk.sitting):
            self.desk.do(save_shipped_headers, typed)
