"""A walk over all screens: every control has a name, access keys are used once, and nothing needs a larger window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import import_module

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLabel,
    QWidget,
)
from pytestqt.qtbot import QtBot

from desk.app.wiring import PLACES, words
from desk.ui.bridge import Desk
from desk.ui.kit.scheme import choose_scheme
from desk.ui.window import Window

WHOLE = (QComboBox, QAbstractSpinBox, QAbstractItemView)  # what they are made of is theirs
SMALLEST = (1024, 640)


@pytest.fixture
def double(qapp: QApplication) -> Iterator[None]:
    font = qapp.font()
    larger = qapp.font()
    larger.setPointSizeF(font.pointSizeF() * 2)
    qapp.setFont(larger)
    yield
    qapp.setFont(font)


@pytest.fixture
def walk(qtbot: QtBot, weighed_desk: Desk) -> Callable[[str], QWidget]:
    """Opens a screen of the window with the demo weighed, as small as the window may be."""

    def go(title: str) -> QWidget:
        window, view = Window(words()), import_module(PLACES[title])
        qtbot.addWidget(window)
        window.seat(weighed_desk, [(view.TITLE, view.SHORTCUT, view.build(weighed_desk))])
        window.resize(*SMALLEST)
        window.show()
        window.open_screen(title)
        QApplication.processEvents()
        return window.screen_of(title)

    return go


def parents(widget: QWidget) -> list[QWidget]:
    up = widget.parentWidget()
    return [] if up is None else [up, *parents(up)]


def controls(screen: QWidget) -> list[QWidget]:
    return [
        one
        for one in screen.findChildren(QWidget)
        if one.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not any(isinstance(up, WHOLE) for up in parents(one))
        and not one.objectName().startswith("qt_")
    ]


@pytest.mark.parametrize("title", words())
def test_every_control_has_a_name(walk: Callable[[str], QWidget], title: str) -> None:
    found = controls(walk(title))
    assert found
    assert [f"{type(one).__name__} {one.objectName()}" for one in found if not one.accessibleName()] == []


@pytest.mark.parametrize("title", words())
def test_no_access_key_is_used_twice(walk: Callable[[str], QWidget], title: str) -> None:
    screen = walk(title)
    shown = [one for kind in (QAbstractButton, QLabel) for one in screen.findChildren(kind) if one.isVisible()]
    texts = [one.text().replace("&&", "") for one in shown]
    keys = [text[text.index("&") + 1].lower() for text in texts if "&" in text[:-1] and "<" not in text]
    assert sorted(keys) == sorted(set(keys))


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("title", words())
@pytest.mark.usefixtures("double")
def test_every_screen_fits_the_smallest_window_at_200_percent(
    walk: Callable[[str], QWidget], title: str, scheme: str
) -> None:
    choose_scheme(scheme)
    screen = walk(title)
    assert (screen.window().width(), screen.window().height()) == SMALLEST
    cut = [
        f"{type(one).__name__} {one.accessibleName()!r} at {one.geometry().getRect()}"
        for one in screen.findChildren(QAbstractButton)
        if one.isVisible() and not any(isinstance(up, QAbstractScrollArea) for up in parents(one)) and is_cut(one)
    ]
    assert cut == []


def is_cut(button: QAbstractButton) -> bool:
    """Narrower than its words, or reaching out of its parent."""
    parent = button.parentWidget()
    room = parent.rect().adjusted(-1, -1, 1, 1)
    return button.width() + 1 < button.minimumSizeHint().width() or not room.contains(button.geometry())
