"""Card of the store page: who and where of orders that left long ago can be forgotten for good."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QPushButton

from desk.session.setup.forgetting import KEEP_DAYS, forget_addresses, forgettable
from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.field import LineField
from desk.ui.kit.form import Form
from desk.ui.setup.page import say


class AddressesCard(Card):
    """How many orders left so many days ago, and the one button that cannot be undone: it says so beforehand."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(say("Addresses"), say("Addresses"))
        self.desk = desk
        self.form = Form([LineField("days", say("Days since all of the order was handed over"))])
        self.form.show_values({"days": KEEP_DAYS}, fresh=True)
        self.form.left.connect(lambda _name: self._count())
        self.found = Inked(size=typeface.STRONG, bold=True)
        said = say(
            "Forgetting blanks name, street, place and notes of these orders here and in the history of steps; country, "
            "contents, weights and costs stay. It cannot be undone. Copies of the store made before keep theirs."
        )
        self.caution = Inked(said, "soft_ink")
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
        """Count again, if anybody sees it."""
        if self.isVisible():
            self._count()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._count()

    def forget_them(self) -> None:
        """Forget the addresses counted; how many is said."""
        days = self._days()
        count = self.desk.do_quietly(forget_addresses, days) if days is not None else None
        if count:
            self.desk.happened.emit(Event(say("Forgotten: {addresses}.").format(addresses=_addresses(count))))
        self._count()

    def _days(self) -> int | None:
        typed = self.form.values()["days"]
        return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 5 else None

    def _count(self) -> None:
        days = self._days()
        self.form.show_values(
            self.form.values(), fresh=True
        )  # the field tells of what is typed next, even the old days
        wrong = ("stop", say("Give the days as a whole number, such as 90.")) if days is None else ("", "")
        self.form.fields["days"].say(*wrong)
        self._show(len(forgettable(self.desk.sitting, days)) if days is not None else 0)

    def _show(self, count: int) -> None:
        told = (
            say("1 order left that long ago and still has its address.")
            if count == 1
            else say("{count} orders left that long ago and still have their address.")
        )
        self.found.setText(told.format(count=count))
        words = say("Forget {addresses} for good").format(addresses=_addresses(count))
        self.forget.setText(words)
        self.forget.setAccessibleName(words)
        self.forget.setEnabled(count > 0)


def _addresses(count: int) -> str:
    return say("1 address") if count == 1 else say("{count} addresses").format(count=count)
