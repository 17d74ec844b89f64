"""The card for deleting names and addresses of orders mailed long ago."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QPushButton

from desk.domain.severity import Severity
from desk.session.setup.forgetting import forget_addresses, forgettable, keep_addresses_for, privacy
from desk.session.words.figures import counted
from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form


class AddressesCard(Card):
    """After how many days addresses are deleted, how many are due now, and the one button without undo."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Addresses", "Addresses")
        self.desk = desk
        self.form = Form([LineField("days", "Delete addresses this many days after hand-over (empty: only by hand)")])
        days = privacy(desk.sitting).keep_days
        self.form.show_values({"days": "" if days is None else days}, fresh=True)
        self.form.left.connect(lambda _name: self._keep())
        self.found = Inked(size=typeface.STRONG, bold=True)
        about = (
            "Deletes names, streets, cities and notes here and in the history. Country, contents, weights and amounts "
            "stay. This can't be undone. Older copies keep the addresses for up to four weeks."
        )
        self.caution = Inked(about, "soft_ink")
        self.forget = QPushButton()
        self.forget.clicked.connect(lambda _checked=False: self.forget_them())
        self.column.setSpacing(12)
        for part in (self.form, self.found, self.caution):
            self.column.addWidget(part)
        self.column.addWidget(self.forget, 0, Qt.AlignmentFlag.AlignLeft)
        for words in (self.found, self.caution):
            words.setWordWrap(True)
        self._show(0)

    def refresh(self) -> None:
        """Count again, if the card is visible."""
        if self.isVisible():
            self._count()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._count()

    def _keep(self) -> None:
        """Save after how many days addresses are deleted, and count again."""
        typed = self.form.texts()["days"]
        days = self._days()
        if (days is not None or not typed) and days != privacy(self.desk.sitting).keep_days:
            self.desk.do(keep_addresses_for, days)
        self._count()

    def forget_them(self) -> None:
        """Delete the addresses counted, and say how many."""
        days = self._days()
        count = self.desk.do_quietly(forget_addresses, days) if days is not None else None
        if count:
            self.desk.happened.emit(Event(f"Deleted {counted(count, 'address', 'addresses')}."))
        self._count()

    def _days(self) -> int | None:
        typed = self.form.texts()["days"]
        return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 5 else None

    def _count(self) -> None:
        days, typed = self._days(), self.form.texts()["days"]
        self.form.show_values(
            self.form.values(), fresh=True
        )  # so that the field reports the next entry, even the same number
        wrong = (
            (Severity.STOP, "Type the days as a whole number, such as 90.") if days is None and typed else (None, "")
        )
        self.form.fields["days"].say(*wrong)
        self._show(len(forgettable(self.desk.sitting, days)) if days is not None else 0)

    def _show(self, count: int) -> None:
        self.found.setText(
            counted(
                count,
                "order that old still has an address.",
                "orders that old still have an address.",
            )
        )
        words = f"Delete {counted(count, 'address', 'addresses')} now"
        self.forget.setText(words)
        self.forget.setAccessibleName(words)
        self.forget.setEnabled(count > 0)
