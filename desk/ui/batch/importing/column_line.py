"""Below the columns: what the chosen one is taken for and what stands in it, and the keys that change it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from desk.session.importing.columns import Column
from desk.session.words.fields import field_words
from desk.ui.batch.importing.column_table import ColumnTable
from desk.ui.kit.card import Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.wrapping import FlowLayout


class ColumnLine(QWidget):
    """The words follow the table; every key can be pressed with the mouse as well, and takes no focus from the table."""

    def __init__(self, table: ColumnTable) -> None:
        super().__init__()
        self._table = table
        self.words = Inked()
        self.words.setWordWrap(True)
        self._keys: dict[str, KeyWord] = {}
        line = FlowLayout(gap=14)
        ways = (
            ("list", "Enter", "say what it is", table.open_list),
            ("offer", "Space", "it is that", table.accept),
            ("all", "Shift+Space", "", table.accept_all),
            ("left", "Ctrl+←", "swap with the left one", lambda: table.exchange(-1)),
            ("right", "Ctrl+→", "swap with the right one", lambda: table.exchange(1)),
            ("out", "Delete", "do not read it", table.leave_out),
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
        here, offers = columns[place], sum(1 for column in columns if column.offered)
        self.words.setText(self._words_of(here))
        self.words.role = "look" if here.offered or here.is_doubtful else "soft_ink"
        self.words.update()
        self._keys["all"].say(f"take all {offers} offers")
        shown = {"offer": bool(here.offered), "all": offers > 1, "out": bool(here.ours)}
        shown |= {"left": place > 0, "right": place < len(columns) - 1}
        for name, is_shown in shown.items():
            self._keys[name].setVisible(is_shown)

    def _words_of(self, here: Column) -> str:
        ours, values = ", ".join(map(field_words, here.ours)), ", ".join(here.values) or "—"
        if here.offered:
            words = "“{header}” may be the {ours}: {values}"
            ours = field_words(here.offered)
        elif here.is_doubtful:
            words = "“{header}” is read as {ours}, and most of it can be no such thing: {values}"
        elif ours:
            words = "“{header}” is read as {ours}: {values}"
        else:
            words = "“{header}” is not read: {values}"
        return words.format(header=here.header, ours=ours, values=values)
