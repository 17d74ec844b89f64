"""Acts and their keys: one table makes the actions, shortcuts, key list and command finder."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget


@dataclass(frozen=True, slots=True)
class Act:
    """A key and what it does. `do` is None for keys without an action, such as digits."""

    keys: str  # as QKeySequence spells it, several separated by a space
    words: str
    do: Callable[[], None] | None = None
    group: str = ""  # its heading in the list of keys; empty: the title of its screen

    @property
    def shown(self) -> str:
        """The keys as written on screens."""
        return self.keys.split()[0] if self.do else self.keys


def add_acts(widget: QWidget, acts: Iterable[Act]) -> list[QAction]:
    """Add actions to a widget; their keys work in the whole window while the widget is visible."""
    made = []
    for act in acts:
        if act.do is None:
            continue
        action = QAction(act.words, widget)
        action.setShortcuts([QKeySequence(keys) for keys in act.keys.split()])
        action.setShortcutContext(Qt.ShortcutContext.WindowShortcut)
        action.triggered.connect(lambda _checked=False, do=act.do: do())
        widget.addAction(action)
        made.append(action)
    return made
