"""The line below the columns: how the selected one is read, its first cells, and the keys to change it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.session.importing.columns import Column
from desk.session.importing.list_findings import one_line
from desk.session.words.fields import field_words
from desk.ui.batch.importing.column_table import ColumnTable
from desk.ui.kit.card import Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.wrapping import FlowLayout

LOOKS_LIKE = {
    "address": "part of an address",
    "name": "a name",
    "goods": "more goods of the order",
    "note": "a note from the buyer",
    "money": "money",
}


class ColumnLine(QWidget):
    """A line that follows the table; each key is also a button that leaves the focus in the table."""

    def __init__(self, table: ColumnTable) -> None:
        super().__init__()
        self._table = table
        self.words = Inked()
        self.words.setWordWrap(True)
        self._keys: dict[str, KeyWord] = {}
        line = FlowLayout(gap=14)
        ways = (
            ("list", "Enter", "Choose column type", table.open_list),
            ("offer", "Space", "Yes, use it", table.accept),
            ("all", "Shift+Space", "", table.accept_all),
            ("skip", "Delete", "Skip this column", table.leave_out),
            ("rest", "Shift+Delete", "", table.skip_rest),
            ("left", "Ctrl+←", "Swap with column on left", lambda: table.exchange(-1)),
            ("right", "Ctrl+→", "Swap with column on right", lambda: table.exchange(1)),
        )
        for name, key, words, do in ways:
            word = self._keys[name] = KeyWord(key, words)
            word.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            word.clicked.connect(lambda _checked=False, do=do: do())
            line.addWidget(word)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.words)
        column.addLayout(line)
        table.moved.connect(self.show_column)

    def show_column(self) -> None:
        """Show the chosen column as it is now."""
        columns, place = self._table.columns, self._table.place
        if not 0 <= place < len(columns):
            return
        here = columns[place]
        offers = sum(1 for column in columns if column.offered) + self._table.offers_country
        rest = sum(1 for column in columns if column.looks_like and not column.offered)
        self.words.setText(column_words(here))
        self.words.role = "look" if here.needs_a_choice or here.is_doubtful else "soft_ink"
        self.words.update()
        self._keys["all"].say(f"Accept all {offers} suggestions" if offers > 1 else "Accept 1 suggestion")
        self._keys["rest"].say(f"Skip the other {rest}" if rest > 1 else "Skip the other one")
        visible = {"offer": bool(here.offered), "all": bool(offers), "skip": not here.is_skipped, "rest": bool(rest)}
        visible |= {"left": place > 0, "right": place < len(columns) - 1}
        for name, is_shown in visible.items():
            self._keys[name].setVisible(is_shown)


def column_words(column: Column) -> str:
    """Return one sentence about a column, with its first cells."""
    values = ", ".join(map(one_line, column.values)) or "empty"
    if column.offered:
        words = f"“{column.header}” may be the {field_words(column.offered)}"
    elif column.is_doubtful:
        words = f"“{column.header}” is read as {', '.join(map(field_words, column.fields))}, but doesn't look like it"
    elif column.fields:
        words = f"“{column.header}” is read as {', '.join(map(field_words, column.fields))}"
    elif column.looks_like:
        words = f"“{column.header}” looks like {LOOKS_LIKE[column.looks_like]}. Choose its type, or skip it"
    elif column.is_skipped:
        words = f"“{column.header}” is skipped"
    else:
        words = f"“{column.header}” is not read"
    return f"{words}: {values}"
