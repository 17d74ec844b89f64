"""The bar below the table: changes to all selected pieces."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QMargins, QPoint, QSize, Signal, SignalInstance
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QMenu, QPushButton, QSizePolicy, QWidget

from desk.session.verdict.verdict import Terms
from desk.session.words.figures import measure, pieces_in_words
from desk.ui.kit import type as typeface
from desk.ui.kit.fields.framed import FramedLine
from desk.ui.kit.key_menu import KeyMenu
from desk.ui.kit.palette import sheet_in_force
from desk.ui.kit.strip import OneLineText
from desk.ui.kit.table import paint_pair
from desk.ui.kit.two_lines import in_two_lines
from desk.ui.kit.wrapping import FlowLayout


class ManyBar(QWidget):
    """Mailer, service, size, set aside or put back, for one piece or many."""

    mailer_chosen = Signal(str)
    service_chosen = Signal(str)
    services_asked = Signal()  # the list is about to open
    size_typed = Signal(str)
    aside_asked = Signal()
    reason_typed = Signal(str)
    past_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._count = _CountLine()
        self._mailers, self._services = KeyMenu(self), KeyMenu(self)
        self._mailer = self._add_button("&Mailer", self.offer_mailers)
        self._service = self._add_button("Ser&vice", self.offer_services)
        self._size_button = self._add_button("Si&ze", self.ask_size)
        self.size_field = self._build_field("Length × width × thickness", measure("9 x 6 x 0.25"), self.size_typed)
        self.reason_field = self._build_field("Why set aside", "waiting for a part", self.reason_typed)
        self._aside = self._add_button("Set &aside / put back", self.aside_asked.emit)
        self._past = self._add_button("&History", self.past_asked.emit)
        line = FlowLayout(self, margins=QMargins(0, 4, 0, 4))
        line.addWidget(self._count)
        for field in (self.size_field, self.reason_field):
            line.add_right(field)
        for button in (*self._buttons(), self._past):
            line.add_right(button)

    def _build_field(self, name: str, hint: str, entered: SignalInstance) -> QLineEdit:
        field = FramedLine()
        field.setAccessibleName(name)
        field.setPlaceholderText(hint)
        field.setMinimumWidth(round(150 * typeface.scale()))
        field.returnPressed.connect(lambda: entered.emit(field.text()))
        field.hide()
        return field

    def show_count(self, count: int, remark: str = "") -> None:
        """Show how many pieces are selected, or what there is to say about the only one."""
        words = f"{pieces_in_words(count)} selected" if count else "Nothing selected"
        self._count.say(remark or words)
        for button in self._buttons():
            button.setEnabled(count > 0)

    def show_choices(self, terms: Terms) -> None:
        """List the shop's mailers."""
        names = [mailer.name for mailer in terms.shop.mailers]
        _fill(self._mailers, [(name, name) for name in names], "As entered on the bench", self.mailer_chosen.emit)

    def ask_size(self) -> None:
        """Open or hide the field for a size."""
        self._toggle(self.size_field)

    def ask_reason(self) -> None:
        """Open or hide the field for the reason pieces are set aside."""
        self._toggle(self.reason_field)

    def _toggle(self, field: QLineEdit) -> None:
        opens = field.isHidden() and self._size_button.isEnabled()
        self.setVisible(True)
        for one in (self.size_field, self.reason_field):
            one.setVisible(opens and one is field)
        if opens:
            field.clear()
            field.setFocus()

    def fold(self, folded: bool) -> None:
        """Hide the buttons where the table needs the room; their keys still work."""
        for button in (*self._buttons(), self._past):
            button.setVisible(not folded)
        self._count.allow_two_lines(folded)

    def seen(self) -> tuple[str, str]:
        """Return the words about the selection, in one line or two."""
        return self._count.seen()

    def offer_mailers(self) -> None:
        """Open the list of mailers above its button."""
        _popup(self._mailers, self._mailer)

    def show_services(self, choices: Sequence[tuple[str, str]]) -> None:
        """List these services, (id, name)."""
        _fill(self._services, choices, "Cheapest that fits", self.service_chosen.emit)

    def offer_services(self) -> None:
        """Open the list of services above its button."""
        self.services_asked.emit()
        _popup(self._services, self._service)

    def _buttons(self) -> tuple[QPushButton, ...]:
        return (self._mailer, self._service, self._size_button, self._aside)

    def _add_button(self, words: str, slot: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.setAccessibleName(words.replace("&", ""))
        button.clicked.connect(lambda _checked=False: slot())
        return button


class _CountLine(OneLineText):
    """One line that takes the room the buttons leave, or two where they are hidden."""

    def __init__(self) -> None:
        super().__init__()
        self._lines = 1
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def allow_two_lines(self, allowed: bool) -> None:
        """Use two lines, or only one."""
        self._lines = 2 if allowed else 1
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(round(130 * typeface.scale()), super().sizeHint().height() * self._lines)

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self.sizeHint().height())

    def seen(self) -> tuple[str, str]:
        """Return the two lines as they are shown; the second is empty where one is enough."""
        return in_two_lines(self.text(), self.width(), self.fontMetrics().horizontalAdvance)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._lines == 1:
            super().paintEvent(event)
            return
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(sheet_in_force().color(self.role))
        paint_pair(painter, self.rect(), *self.seen())


def _fill(menu: QMenu, pairs: Sequence[tuple[str, str]], nothing: str, choose: Callable[[str], None]) -> None:
    """Add a line per choice; digits choose the first nine."""
    menu.clear()
    for place, (value, words) in enumerate([*pairs, ("", nothing)], 1):
        text = f"&{place}  {words}" if place <= 9 else words
        menu.addAction(text, partial(choose, value))
    menu.addSeparator()
    menu.addAction("1 – 9, or ↑ ↓ and Enter; Esc closes").setEnabled(False)


def _popup(menu: QMenu, button: QPushButton) -> None:
    if button.isEnabled():
        bar = button.parentWidget()
        over = bar if bar is not None and button.isHidden() else button
        menu.popup(over.mapToGlobal(QPoint(0, -menu.sizeHint().height())))
