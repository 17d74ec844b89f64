"""Overlays on the open screen: the list of keys and the command finder. The focus returns afterward."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedWidget, QWidget
from shiboken6 import isValid

from desk.ui.actions import Act
from desk.ui.finder import Command, CommandFinder
from desk.ui.keys import KeyList
from desk.ui.screen import Screen


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the overlays need from their window."""

    screens: Callable[[], dict[str, Screen]]
    open_title: Callable[[], str]
    open_screen: Callable[[str], None]
    acts_everywhere: Callable[[], Sequence[Act]]
    press: Callable[[QKeyEvent], None]
    strip_ways: Callable[[], Sequence[tuple[str, Callable[[], None]]]]


class Overlays:
    """At most one of the two is open."""

    def __init__(self, stack: QStackedWidget, around: Surroundings) -> None:
        self._stack, self._around = stack, around
        self._before: QWidget | None = None  # what had the focus

    @cached_property
    def keys(self) -> KeyList:
        """The list of keys, made when first needed."""
        made = KeyList(self._stack)
        made.hide()
        made.left.connect(self.close)
        made.handed_on.connect(self._press_below)
        return made

    @cached_property
    def finder(self) -> CommandFinder:
        """The command finder, made when first needed."""
        made = CommandFinder(self._stack)
        made.left.connect(self.close)
        made.chosen.connect(self._do)
        return made

    def toggle_keys(self) -> None:
        """Show the list of keys, or hide it."""
        if self.keys.isVisible():
            self.close()
            return
        self._remember()
        self.keys.show()
        self.keys.raise_()
        self.list_keys()
        self.keys.setFocus()

    def toggle_finder(self) -> None:
        """Open the command finder, or close it."""
        if self.finder.isVisible():
            self.close()
            return
        if self.keys.isVisible():
            self.close()
        self._remember()
        self.finder.open(list(self._commands()))

    def close(self) -> None:
        """Hide what is open; the focus returns to its widget, or to the screen when that is gone."""
        self.keys.hide()
        self.finder.hide()
        before = self._before
        if before is not None and isValid(before) and before.isVisible():
            before.setFocus()
        elif screen := self._screen():
            screen.arrive()

    def follow_screen(self) -> None:
        """Follow to another screen: the list of keys stays open and shows its keys."""
        if self.keys.isVisible():
            self.list_keys()
            self._remember()
            self.keys.setFocus()

    def list_keys(self) -> None:
        """Show the keys of the page in front, then those of every screen."""
        screen, title = self._screen(), self._around.open_title()
        if self.keys.isHidden() or screen is None:
            return
        groups: dict[str, list[Act]] = {}
        for act in (*screen.keys_in_front(), *self._around.acts_everywhere()):
            groups.setdefault(act.group or title, []).append(act)
        self.keys.show_acts(list(groups.items()))

    def _screen(self) -> Screen | None:
        return self._around.screens().get(self._around.open_title())

    def _remember(self) -> None:
        self._before = self._stack.window().focusWidget()

    def _press_below(self, event: QKeyEvent) -> None:
        """Close the list on a key and do that key's act."""
        self.close()
        self._around.press(event)

    def _do(self, command: Command) -> None:
        """Run the chosen command, on its screen."""
        self.close()
        if command.screen and command.screen != self._around.open_title():
            self._around.open_screen(command.screen)
        command.do()

    def _commands(self) -> Iterator[Command]:
        """Return every command: of the open page, then of every screen, then those that work everywhere."""
        here = self._around.open_title()
        screens = self._around.screens()
        front = screens[here].keys_in_front()
        rows = [(act, here) for act in front]
        for title in sorted(screens, key=lambda title: title != here):
            known = {act.words for act in front} if title == here else set()
            own = (*screens[title].acts(), *screens[title].places())
            rows += [(act, title) for act in own if act.words not in known]
        rows += [(act, "") for act in self._around.acts_everywhere()]
        rows += [(Act("", words, do), "") for words, do in self._around.strip_ways()]
        for act, screen in rows:
            if act.do is not None:
                yield Command(act.words, screen, act.keys, act.do)
