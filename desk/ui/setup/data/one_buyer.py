"""The card for one buyer's data: exported for them, or deleted when they ask."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from desk.session.setup.one_buyer import BuyerOrders, export_buyer, forget_buyer, orders_of_buyer
from desk.session.words.figures import counted
from desk.ui.bridge import Desk, Event
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.files import file_to_save
from desk.ui.kit.form import Form


class OneBuyerCard(Card):
    """Finds a buyer by email, name, phone or order number, exactly as given."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("One buyer", "One buyer")
        self._desk = desk
        self.form = Form([LineField("buyer", "Email, name, phone or order number")])
        self.form.left.connect(lambda _name: self._count())
        self.found = Inked()
        self.found.setWordWrap(True)
        self.export = QPushButton("Export what is saved…")
        self.forget = QPushButton("Delete this buyer's data")
        self.export.clicked.connect(lambda _checked=False: self.ask_where())
        self.forget.clicked.connect(lambda _checked=False: self.forget_them())
        self.column.setSpacing(12)
        self.column.addWidget(self.form)
        self.column.addWidget(self.found)
        for button in (self.export, self.forget):
            button.setAccessibleName(button.text().removesuffix("…"))
            self.column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self._count()

    def refresh(self) -> None:
        """Search again, if the card is visible."""
        if self.isVisible():
            self._count()

    def ask_where(self) -> None:
        """Ask for a file and write everything saved about the buyer into it."""
        file = file_to_save(self, "Export what is saved", "buyer.json", "JSON (*.json)")
        if file and (count := self._desk.do_quietly(export_buyer, self._typed(), file)):
            self._desk.happened.emit(Event(f"Exported {counted(count, 'order')}: {file}"))

    def forget_them(self) -> None:
        """Delete the names and addresses of the buyer's mailed orders. This can't be undone, as the card says."""
        if self._desk.do_quietly(forget_buyer, self._typed()) is not None:
            self._desk.happened.emit(Event("The buyer's data was deleted."))
        self._count()

    def _typed(self) -> str:
        return str(self.form.values()["buyer"])

    def _count(self) -> None:
        self.form.show_values(self.form.values(), fresh=True)
        orders = orders_of_buyer(self._desk.sitting, self._typed()) if self._typed() else BuyerOrders()
        words = f"{counted(len(orders.all), 'order')} of this buyer."
        if orders.to_mail:
            words += f" Still to be mailed: {', '.join(one.order.number for one in orders.to_mail)}."
        words += " Deleting clears names, addresses and notes and can't be undone."
        self.found.setText(words if self._typed() else "")
        self.export.setEnabled(bool(orders.all))
        self.forget.setEnabled(bool(orders.done))
