"""Hand-copy mode: one key puts the next field of a declaration on the clipboard, undo steps back."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QGuiApplication

from desk.session.customs.hand_copy import copy_fields
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked

KEYS = "F8: next field   Z: step back   Esc: end"
MOST = 70  # characters of a field that are shown


class HandCopyCard(Card):
    """Which field is on the clipboard and which comes next. Hidden while nothing is copied."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Copying by hand")
        self._desk = desk
        self._fields: Sequence[tuple[str, str, str]] = ()
        self.piece: int | None = None
        self.place = -1
        self.now, self.next, self.keys = (
            Inked("", bold=True),
            Inked("", "soft_ink"),
            Inked(KEYS, "soft_ink", typeface.SMALL),
        )
        for label in (self.now, self.next, self.keys):
            label.setWordWrap(True)
            self.column.addWidget(label)
        self.hide()

    @property
    def is_on(self) -> bool:
        """True while a declaration is being copied."""
        return self.piece is not None

    def copy_next(self, piece: int) -> bool:
        """Copy the next field of a piece's declaration, the first one of another piece; False behind the last one.

        Refused while the declaration is not complete. A field that was edited meanwhile is copied as it is now; where
        fields came or went, copying starts again.
        """
        pile = self._desk.pile
        fields = [(field.group, field.name, field.text) for field in copy_fields(pile.verdicts[piece], pile.terms)]
        if piece != self.piece or [field[:2] for field in fields] != [field[:2] for field in self._fields]:
            self.place = -1
        self.piece, self._fields = piece, fields
        if self.place + 1 >= len(self._fields):
            self.end()
            return False
        self._copy(self.place + 1)
        return True

    def step_back(self) -> None:
        """Copy the previous field again; before the first one, stop."""
        if self.place <= 0:
            self.end()
        else:
            self._copy(self.place - 1)

    def end(self) -> None:
        """Leave the mode and clear the clipboard of what was copied."""
        if self.is_on and 0 <= self.place < len(self._fields):
            clipboard = QGuiApplication.clipboard()
            if clipboard.text() == self._fields[self.place][2]:
                clipboard.clear()
        self.piece, self.place, self._fields = None, -1, ()
        self.hide()

    def _copy(self, place: int) -> None:
        self.place = place
        group, name, text = self._fields[place]
        QGuiApplication.clipboard().setText(text)
        count = len(self._fields)
        self.now.setText(f"{place + 1} of {count}. {group}, {name}: {_cut(text)}")
        following = self._fields[place + 1] if place + 1 < count else None
        self.next.setText(f"Next: {following[0]}, {following[1]}" if following else "That was the last field.")
        self.show()


def _cut(text: str) -> str:
    return text if len(text) <= MOST else text[: MOST - 1] + "\u2026"
