"""The card with the contents, the buyer's note, and on one key the full address."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.session.bench.bench_view import PackageView
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading, Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.wrapping import FlowLayout

ADDRESS_KEY, SPLIT_KEY = "C", "/"


class PackageCard(QWidget):
    """Large enough to pack by. The address stays shown or hidden from piece to piece."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("In the package")
        self.lines = QVBoxLayout()
        self.lines.setSpacing(2)
        self.note_head = Inked("Note from the buyer", "soft_ink", typeface.SMALL)
        self.note = Inked(size=typeface.BODY, bold=True)
        self.expected = Inked(role="soft_ink", size=typeface.BODY)
        self.address = Inked(size=typeface.BODY)
        self.address_word = KeyWord(ADDRESS_KEY, "full address", can_hold=True)
        self.split_word = KeyWord(SPLIT_KEY, "split into packages")
        self._shown: tuple[tuple[str, bool], ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(Heading("In the package"))
        column.addLayout(self.lines)
        for label in (self.note_head, self.note, self.expected, self.address):
            label.setWordWrap(True)
            column.addWidget(label)
        keys = FlowLayout(gap=6)
        for word in (self.address_word, self.split_word):
            keys.addWidget(word)
        column.addLayout(keys)

    def show_package(self, package: PackageView | None) -> None:
        """Show the contents of a piece; None: no piece is open."""
        self.setVisible(package is not None)
        if package is None:
            return
        self.split_word.say("change packages" if package.packages > 1 else "split into packages")
        self._show_lines(package)
        self.note.setText(package.note)
        self.note.role = "look" if package.asks_for_stamps else "ink"
        self.note_head.setText(
            "Note from the buyer: asks for stamps" if package.asks_for_stamps else "Note from the buyer"
        )
        for label in (self.note_head, self.note):
            label.setVisible(bool(package.note))
        self.expected.setText(f"Should weigh about {package.expected}" if package.expected else "")
        self.expected.setVisible(bool(package.expected))
        self.address.setText("\n".join(package.address))
        self.address.setVisible(self.address_word.isChecked())

    def toggle_address(self) -> None:
        """Show or hide the full address."""
        shows = not self.address_word.isChecked()
        self.address_word.setChecked(shows)
        self.address.setVisible(shows)

    def _show_lines(self, package: PackageView) -> None:
        texts = [(line.words, line.quantity > 1) for line in package.lines]
        texts += [(f"with order {number}", False) for number in package.orders]
        if tuple(texts) == self._shown:
            return
        self._shown = tuple(texts)
        while (item := self.lines.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for words, several in texts:
            label = Inked(words, size=typeface.STRONG, bold=several)
            label.setWordWrap(True)
            self.lines.addWidget(label)
