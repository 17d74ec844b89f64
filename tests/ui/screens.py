"""Screens as the window shows them: with their keys, in a size, and in front where the focus matters."""

from __future__ import annotations

from typing import TypeVar

from pytestqt.qtbot import QtBot

from desk.ui.screen import Screen

AnyScreen = TypeVar("AnyScreen", bound=Screen)


def show_screen(
    qtbot: QtBot, screen: AnyScreen, size: tuple[int, int] | None = None, *, in_front: bool = False
) -> AnyScreen:
    """Show a screen with its keys; `in_front`: once its window is active, as if a person had opened it."""
    qtbot.addWidget(screen)
    screen.add_keys()
    if size is not None:
        screen.resize(*size)
    screen.show()
    if in_front:
        screen.activateWindow()
        with qtbot.waitActive(screen):
            pass
        screen.arrive()
    return screen
