"""The sender page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtWidgets import QVBoxLayout

from desk.domain.severity import Severity
from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault, missing_of_sender
from desk.session.setup.shop_texts import sender_texts, tax_texts
from desk.ui.bridge import Desk
from desk.ui.kit.fields.field import FieldValue
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form, Scrolled, keep
from desk.ui.setup.page import Page

TITLE = "Sender"


class SenderPage(Page):
    """The sender for labels and declarations, and the numbers for prepaid tax."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.form = Form(
            [
                LineField("name", "Name"),
                LineField("company", "Company"),
                LineField("address1", "Street"),
                LineField("address2", "Street, second line"),
                LineField("city", "City"),
                LineField("region", "State"),
                LineField("postal_code", "ZIP code (used for zones)"),
                LineField("country", "Country"),
                LineField("phone", "Phone"),
                LineField("email", "Email"),
                "Name on customs declarations",
                LineField("first_name", "First name"),
                LineField("last_name", "Last name"),
            ]
        )
        self.taxes = Form(
            [
                "Tax numbers for prepaid tax",
                LineField("ioss", "EU, import one-stop shop (IOSS)"),
                LineField("voec", "Norway (VOEC)"),
                LineField("uk_vat", "United Kingdom, VAT number"),
                LineField("au_arn", "Australia (ARN)"),
                LineField("nz_gst", "New Zealand, GST number"),
            ]
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.form, self.taxes))
        self.form.left.connect(lambda name: keep(self.form, name, self._save))
        self.taxes.left.connect(lambda name: keep(self.taxes, name, self._save_taxes))
        self._seen = False

    def refresh(self) -> None:
        """Show the current settings."""
        self.form.show_values(sender_texts(self.shop), fresh=not self._seen)
        self.taxes.show_values(tax_texts(self.shop), fresh=not self._seen)
        if not self._seen:
            faults = missing_of_sender(self.shop.sender)
            self.form.show_faults((fault.field, Severity.LOOK, fault.sentence) for fault in faults)
        self._seen = True

    def arrive(self) -> None:
        """Put the focus where work continues."""
        self.form.fields["name"].setFocus()

    def _save(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(change_shop.save_sender, values)

    def _save_taxes(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(change_shop.save_tax_ids, values)
