"""The window: the line of screens, strips for lasting states, the open screen, and the message line.

It is shown before anything else is read; `seat` adds the screens when the store is open.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, QSettings, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QCloseEvent, QKeyEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from desk.ui.kit.words import LineOfWords

if TYPE_CHECKING:  # what the first paint doesn't need is imported after it
    from desk.ui.actions import Act
    from desk.ui.bridge import Desk, DeskChanges, Event
    from desk.ui.early_keys import EarlyKeys
    from desk.ui.kit.message import MessageLine
    from desk.ui.overlays import Overlays
    from desk.ui.screen import Screen
    from desk.ui.strips import Strips

log = logging.getLogger("desk.ui")
PLACE = "window/place"
NAME = "Tare & Tag"
LEAST = (1024, 640)  # pixels; less only on a smaller screen


def restored(window: QMainWindow) -> bool:
    """Put a window where it was last; return False when that isn't known. A saved place that can't be read is logged."""
    place = QSettings().value(PLACE)
    is_placed = window.restoreGeometry(place or b"")
    if place is not None and not is_placed:
        log.warning("the window's saved place cannot be read")
    return is_placed


def inside(room: QRect, place: QRect) -> QRect:
    """Return the rectangle moved, and cut where needed, to fit inside the room."""
    size = place.size().boundedTo(room.size())
    left = min(max(place.left(), room.left()), room.left() + room.width() - size.width())
    top = min(max(place.top(), room.top()), room.top() + room.height() - size.height())
    return QRect(left, top, size.width(), size.height())


def fit_into(window: QMainWindow, room: QRect, *, is_placed: bool) -> None:
    """Fit a window into the screen's work area: all of it unless it has a place, then at most that."""
    window.setMinimumSize(min(LEAST[0], room.width()), min(LEAST[1], room.height()))
    if not is_placed:
        window.setGeometry(room)
        window.setWindowState(window.windowState() | Qt.WindowState.WindowMaximized)
    elif not room.contains(window.geometry()):
        window.setGeometry(inside(room, window.geometry()))


class Window(QMainWindow):
    """The one window of a store."""

    painted = Signal()  # once, after the first paint

    def __init__(self, words: Sequence[str]) -> None:
        super().__init__()
        self.setWindowTitle(NAME)
        self.setMinimumSize(*LEAST)
        self.desk: Desk | None = None
        self._is_painted = False
        self._screens: dict[str, Screen] = {}
        self._places: list[Act] = []
        self._made, self._everywhere = list[QAction](), list[QAction]()
        self._is_forwarding = False
        self._build(words)
        self.resize(1280, 800)
        self._is_placed = restored(self)

    def fit(self, room: QRect) -> None:
        """Fit into the screen's work area: all of it the first time, later at most that."""
        fit_into(self, room, is_placed=self._is_placed)

    def _build(self, words: Sequence[str]) -> None:
        self._words = LineOfWords(words)
        self._stack = QStackedWidget()
        self.setCentralWidget(body := QWidget())
        self._column = QVBoxLayout(body)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self._words)
        self._column.addWidget(self._stack, 1)
        self._words.chosen.connect(self.open_screen)

    @cached_property
    def overlays(self) -> Overlays:
        """The list of keys and the command finder."""
        from desk.ui.overlays import Overlays, Surroundings

        title = lambda: self.screen_open  # noqa: E731 - asked again each time
        ways = lambda: [way for state in (self.desk.states if self.desk else ()) for way in state.ways]  # noqa: E731
        around = Surroundings(lambda: self._screens, title, self.open_screen, self._grouped_acts, self._press, ways)
        return Overlays(self._stack, around)

    @cached_property
    def _strips(self) -> Strips:
        from desk.ui.strips import Strips

        made = Strips()
        self._column.insertWidget(1, made)
        return made

    @cached_property
    def _message(self) -> MessageLine:
        from desk.ui.closing import Closing
        from desk.ui.kit.message import MessageLine

        made = MessageLine()
        made.undo_asked.connect(self._undo)
        Closing(self, made.say)
        self._column.addWidget(made)
        return made

    @cached_property
    def _early(self) -> EarlyKeys:
        from desk.ui.early_keys import EarlyKeys

        return EarlyKeys()

    def seat(self, desk: Desk, screens: Sequence[tuple[str, str, Screen]]) -> None:
        """Show the screens of a desk, (title, key, screen), replacing any others, and open the first."""
        from desk.ui.actions import Act, add_acts

        self._clear()
        self._message.clear()  # from here on it keeps its room
        self.desk = desk
        self.setWindowTitle(f"Demo – {NAME}" if desk.is_demo else NAME)
        self._words.tag("Demo" if desk.is_demo else "")
        for title, keys, screen in screens:
            screen.add_keys()
            self._stack.addWidget(screen)
            self._screens[title] = screen
            self._places.append(Act(keys, title, partial(self.open_screen, title)))
        self._made, self._everywhere = add_acts(self, self._places), add_acts(self, self.acts())
        desk.changed.connect(self._refresh)
        desk.happened.connect(self.tell)
        desk.states_changed.connect(self._show_states)
        desk.piece_opened.connect(self._open_bench)
        desk.screen_asked.connect(self.open_page)
        self._show_states()
        self.open_screen(next(iter(self._screens)))
        self._refresh()
        self._early.do_now(self, self._screens[self.screen_open])

    def acts(self) -> tuple[Act, ...]:
        """Return the keys that work on every screen."""
        from desk.ui.actions import Act
        from desk.ui.common_keys import FINDER, KEYS, REDO, UNDO

        assert self.desk is not None
        back, again = self.desk.steps()
        return (
            Act(UNDO, f"Undo: {back}" if back else "Undo", self._undo),
            Act(REDO, f"Redo: {again}" if again else "Redo", self.desk.redo),
            Act(FINDER, "Find a command", self.overlays.toggle_finder),
            Act(KEYS, "Show or hide the keys", self.overlays.toggle_keys),
            Act("Ctrl+Q", "Quit", QApplication.closeAllWindows),
        )

    @property
    def screen_open(self) -> str:
        """The title of the open screen; empty before there is one."""
        return next((title for title, screen in self._screens.items() if screen is self._stack.currentWidget()), "")

    def _open_bench(self, _piece: int) -> None:
        self.open_screen("Bench")

    def open_screen(self, title: str) -> None:
        """Open a screen by its title and put the focus where work continues."""
        screen = self._screens.get(title)
        if screen is None:
            return
        self._words.mark(title)
        self._stack.setCurrentWidget(screen)
        if self.desk is not None and any(state.only_on for state in self.desk.states):
            self._show_states()
        screen.bring_up_to_date()
        screen.arrive()
        self.overlays.follow_screen()

    def open_page(self, title: str, page: str) -> None:
        """Open a screen at one of its pages; a screen without pages just opens."""
        self.open_screen(title)
        open_it = getattr(self._screens.get(title), "open_page", None)
        if page and open_it is not None:
            open_it(page)

    def screen_of(self, title: str) -> Screen:
        """Return the screen with that title; KeyError when there is none."""
        return self._screens[title]

    def _grouped_acts(self) -> list[Act]:
        """Return the acts of every screen, by heading of the list of keys."""
        groups = (("Everywhere", self.acts()), ("Screens", self._places))
        return [replace(act, group=group) for group, acts in groups for act in acts]

    def _press(self, event: QKeyEvent) -> None:
        """Send a key again, as if nothing covered the screen."""
        self._early.keep(event)
        self._early.do_now(self, self._screens[self.screen_open])

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._is_painted:
            self._is_painted = True
            QTimer.singleShot(0, self.painted.emit)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.desk is None:
            self._early.keep(event)
        elif not self._forward(event):
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Do what a key means when an open menu didn't use it."""
        if isinstance(pressed := getattr(event, "pressed", None), QKeyEvent) and self.desk is not None:
            self._press(pressed)
            return True
        return super().event(event)

    def _forward(self, event: QKeyEvent) -> bool:
        """Pass an unused key to the open screen, wherever the focus is; a digit finds a piece."""
        screen, focus = self._screens[self.screen_open], self.focusWidget()
        if self._is_forwarding:
            return False
        if focus is None or not (focus is screen or screen.isAncestorOf(focus)):
            if screen.press_focused(event):
                return True
            self._is_forwarding = True
            QApplication.sendEvent(screen, event)
            self._is_forwarding = False
            if event.isAccepted() and not event.text().isdigit():
                return True
        if event.text().isdigit() and self.screen_open != "Bench" and self.desk is not None:
            self.open_screen("Bench")
            self.desk.number_typed.emit(event.text())
            return True
        return False

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.desk is not None:
            self._strips.lay_out()

    def closeEvent(self, event: QCloseEvent) -> None:
        QSettings().setValue(PLACE, self.saveGeometry())
        super().closeEvent(event)

    def _undo(self) -> None:
        if self.desk is not None:
            self._screens[self.screen_open].undo()  # which may ask for a second press first

    def _clear(self) -> None:
        self._words.show_jumps([])
        for action in (*self._made, *self._everywhere):
            self.removeAction(action)
        for screen in self._screens.values():
            self._stack.removeWidget(screen)
            screen.deleteLater()
        self._screens, self._places, self._made, self._everywhere = {}, [], [], []

    def _refresh(self, _changes: DeskChanges | None = None) -> None:
        """Refresh what the window itself shows: the jumps, and the names of undo and redo."""
        pairs = ((title, jump) for title, screen in self._screens.items() for jump in screen.jumps())
        self._words.show_jumps([(jump.words, partial(self._jump, title, jump.go)) for title, jump in pairs])
        self._message.make_way()  # the new message replaces it
        self._name_steps()

    def _jump(self, title: str, go: Callable[[], None]) -> None:
        self.open_screen(title)
        go()

    def _name_steps(self) -> None:
        if self.desk is None:
            return
        for action, act in zip(self._everywhere, self.acts(), strict=True):
            action.setText(act.words)
        self.overlays.list_keys()

    def tell(self, event: Event) -> None:
        """Say what happened; without words, clear the line."""
        self._message.say(event.words, event.mark, undo=event.undo)

    def _show_states(self) -> None:
        screens = ("", self.screen_open)
        self._strips.show_states([one for one in (self.desk.states if self.desk else ()) if one.only_on in screens])

    def raise_to_front(self) -> None:
        """Come to the front, because the program was started again."""
        self.setWindowState(self.windowState() & ~Qt.WindowState.WindowMinimized)
        self.show()
        self.raise_()
        self.activateWindow()
