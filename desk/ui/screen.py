"""The base of every screen: a widget with a title, keys, jumps to what is left to do, and one way to repaint.

Each screen's folder has a module `view` with the constants TITLE and SHORTCUT and a function `build(desk: Desk) ->
Screen`. The screen's class calls `super().__init__(desk)`, builds its widgets, and overrides `refresh`, which is first
called before the screen is shown. A hidden screen is not refreshed: what it missed is passed on when it is shown.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QAbstractButton, QWidget

from desk.ui.actions import Act, add_acts
from desk.ui.bridge import ALL_OF_IT, Desk, DeskChanges
from desk.ui.common_keys import FIND


@dataclass(frozen=True, slots=True)
class Jump:
    """Something left to do, in a phrase such as `14 to weigh`; `go` shows just that on its screen."""

    words: str
    go: Callable[[], None]


class Screen(QWidget):
    """The base of all screens."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._missed: DeskChanges | None = ALL_OF_IT
        desk.changed.connect(self._hear)

    def refresh(self, changes: DeskChanges) -> None:
        """Read the shown data again and repaint. `changes` lists the pieces whose verdict changed."""
        raise NotImplementedError

    def acts(self) -> Sequence[Act]:
        """Return the keys of this screen, for its actions and the list of keys."""
        return ()

    def keys_in_front(self) -> Sequence[Act]:
        """Return the keys of the open page for the list of keys; by default those of the screen."""
        return self.acts()

    def places(self) -> Sequence[Act]:
        """Return the pages of this screen for the command finder; they have no keys of their own."""
        return ()

    def undo(self) -> None:
        """Undo the last step; a screen may ask for a second press first."""
        self.desk.undo()

    def press_focused(self, event: QKeyEvent) -> bool:
        """Press the button that has the focus, on Enter; False when there is none."""
        button = self.window().focusWidget()
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter) or not isinstance(button, QAbstractButton):
            return False
        button.click()
        event.accept()
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.press_focused(event):
            super().keyPressEvent(event)

    def acts_to_come(self) -> Sequence[Act]:
        """Return keys that are not listed yet but may become active later."""
        return ()

    def jumps(self) -> Sequence[Jump]:
        """Return what is left to do on this screen; asked after every change, so it must be quick."""
        return ()

    def arrive(self) -> None:
        """Put the focus where work continues; called whenever the screen is opened."""
        self.setFocus()

    def resume(self, before: Screen) -> None:
        """Continue where the same screen of the previous window was; most screens have nothing to restore."""

    def pose(self, name: str) -> None:
        """Prepare for a handbook picture: `full`, or in `trouble`. Called after the screen was opened."""

    def bring_up_to_date(self) -> None:
        """Refresh now if something changed while it was hidden."""
        if self._missed is not None:
            changes, self._missed = self._missed, None
            self.refresh(changes)

    def add_keys(self) -> None:
        """Make the actions of `acts`, and of those to come; the window calls it once."""
        acts = [*self.acts(), *self.acts_to_come()]
        if all(act.keys != FIND for act in acts):
            acts.append(Act(FIND, "Find", self._find_on_bench))
        add_acts(self, acts)

    def _find_on_bench(self) -> None:
        self.desk.screen_asked.emit("Bench", "")
        self.desk.number_typed.emit("")

    def showEvent(self, event: QShowEvent) -> None:
        self.bring_up_to_date()
        super().showEvent(event)

    def _hear(self, changes: DeskChanges) -> None:
        self._missed = changes if self._missed is None else self._missed | changes
        if self.isVisible():
            self.bring_up_to_date()
