"""Below the table: what can be said of the chosen pieces at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QMargins, QPoint, Signal
from PySide6.QtWidgets import QLineEdit, QMenu, QPushButton, QWidget

from desk.domain.stands import Stand
from desk.session.verdict.verdict import Terms
from desk.session.words.services import service_words
from desk.ui.kit import type as typeface
from desk.ui.kit.field import Line
from desk.ui.kit.plain import PlainLabel
from desk.ui.kit.wrapping import FlowLayout


class ManyBar(QWidget):
    """Mailer, service, size, set aside, back: for one piece or for many."""

    mailer_chosen = Signal(str)
    service_chosen = Signal(str)
    size_typed = Signal(str)
    beside_chosen = Signal(object)  # Stand or None
    past_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._count = PlainLabel()
        self._mailers, self._services = QMenu(self), QMenu(self)
        self._mailer = self._add_button("&Mailer", self.offer_mailers)
        self._service = self._add_button("Ser&vice", self.offer_services)
        self._size_button = self._add_button("Si&ze", self.ask_size)
        self.size_field = self._build_size()
        self._aside = self._add_button("Set &aside", lambda: self.beside_chosen.emit(Stand.SET_ASIDE))
        self._back = self._add_button("&Back", lambda: self.beside_chosen.emit(None))
        self._past = self._add_button("&History", self.past_asked.emit)
        line = FlowLayout(self, margins=QMargins(0, 4, 0, 4))
        line.addWidget(self._count)
        line.add_right(self.size_field)
        for button in (*self._buttons(), self._past):
            line.add_right(button)

    def _build_size(self) -> QLineEdit:
        field = Line()
        field.setAccessibleName("Length x width x thickness of those chosen")
        field.setPlaceholderText("9 x 6 x 0.25")
        field.setMinimumWidth(round(150 * typeface.scale()))
        field.returnPressed.connect(lambda: self.size_typed.emit(field.text()))
        field.hide()
        return field

    def show_count(self, count: int) -> None:
        """Say how many pieces are chosen."""
        said = {0: "No piece chosen", 1: "1 piece chosen"}
        self._count.setText(said.get(count) or f"{count} pieces chosen")
        for button in self._buttons():
            button.setEnabled(count > 0)

    def show_choices(self, terms: Terms) -> None:
        """Take the mailers and services from what the shop has settled."""
        names = [mailer.name for mailer in terms.shop.mailers]
        _fill(self._mailers, [(name, name) for name in names], "As said at the scale", self.mailer_chosen.emit)
        services = sorted(terms.rulebook.charts.services())
        pairs = [(service, service_words(service)) for service in services]
        _fill(self._services, pairs, "As the price lists say", self.service_chosen.emit)

    def ask_size(self) -> None:
        """Open the field for a size, or put it away."""
        opens = self.size_field.isHidden() and self._size_button.isEnabled()
        self.setVisible(True)
        self.size_field.setVisible(opens)
        if opens:
            self.size_field.clear()
            self.size_field.setFocus()

    def fold(self, folded: bool) -> None:
        """Leave out the buttons where a table needs the room: their keys stay."""
        for button in (*self._buttons(), self._past):
            button.setVisible(not folded)

    def offer_mailers(self) -> None:
        """Open the list of mailers above its button."""
        _popup(self._mailers, self._mailer)

    def offer_services(self) -> None:
        """Open the list of services above its button."""
        _popup(self._services, self._service)

    def _buttons(self) -> tuple[QPushButton, ...]:
        return (self._mailer, self._service, self._size_button, self._aside, self._back)

    def _add_button(self, words: str, slot: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words.replace("&", ""))
        button.clicked.connect(lambda _checked=False: slot())
        return button


def _fill(menu: QMenu, pairs: Sequence[tuple[str, str]], nothing: str, choose: Callable[[str], None]) -> None:
    """One line a choice; the first nine can be taken by their digit."""
    menu.clear()
    for place, (value, words) in enumerate([*pairs, ("", nothing)], 1):
        text = f"&{place}  {words}" if place <= 9 else words
        menu.addAction(text, partial(choose, value))


def _popup(menu: QMenu, button: QPushButton) -> None:
    if button.isEnabled():
        bar = button.parentWidget()
        over = bar if bar is not None and button.isHidden() else button
        menu.popup(over.mapToGlobal(QPoint(0, -menu.sizeHint().height())))
