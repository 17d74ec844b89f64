"""Acts and their keys: one table from which the actions, their shortcuts and the list of keys are made."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget


@dataclass(frozen=True, slots=True)
class Act:
    """A key and what it does. `do` is None for keys that are not an action, such as bare digits."""

    keys: str  # as QKeySequence spells it, several separated by a blank
    words: str
    do: Callable[[], None] | None = None
    group: str = ""  # the heading it stands under in the list of keys; empty: that of its screen

    @property
    def shown(self) -> str:
        """The keys as they are written on screens."""
        return self.keys.split()[0] if self.do else self.keys


def add_acts(widget: QWidget, acts: Iterable[Act], *, everywhere: bool = False) -> list[QAction]:
    """Make the actions and give them to a widget: their keys work inside it, or in its whole window."""
    made = []
    for act in acts:
        if act.do is None:
            continue
        action = QAction(act.words, widget)
        action.setShortcuts([QKeySequence(keys) for keys in act.keys.split()])
        inside = Qt.ShortcutContext.WidgetWithChildrenShortcut
        action.setShortcutContext(Qt.ShortcutContext.WindowShortcut if everywhere else inside)
        action.triggered.connect(lambda _checked=False, do=act.do: do())
        widget.addAction(action)
        made.append(action)
    return made
