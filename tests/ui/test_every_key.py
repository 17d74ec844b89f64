"""Each key of each screen reaches its act, from wherever the focus is on it; no two acts of a window share a key."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from importlib import import_module

import pytest
from PySide6.QtCore import QKeyCombination
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.app.wiring import PLACES, words
from desk.session.papers import printing
from desk.ui.actions import Act
from desk.ui.bridge import Desk
from desk.ui.screen import Screen
from desk.ui.window import Window

MadePaper = tuple[Window, Screen, list[str]]


@pytest.fixture(autouse=True)
def no_queues(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(printing, "queue_names", tuple)


@pytest.fixture
def seated(qtbot: QtBot, weighed_desk: Desk) -> Callable[[str], MadePaper]:
    """A window with one screen whose acts only note that they were asked for."""

    def seat(title: str) -> MadePaper:
        view, done = import_module(PLACES[title]), []
        screen: Screen = view.build(weighed_desk)
        real = list(screen.acts())

        def noted() -> list[Act]:
            return [replace(act, do=act.do and (lambda keys=act.keys: done.append(keys))) for act in real]

        screen.acts = noted  # type: ignore[method-assign]
        window = Window(words())
        qtbot.addWidget(window)
        window.seat(weighed_desk, [(view.TITLE, view.SHORTCUT, screen)])
        window.show()
        window.activateWindow()
        with qtbot.waitActive(window):
            pass
        window.open_screen(title)
        return window, screen, done

    return seat


@pytest.fixture(autouse=True)
def ended(weighed_desk: Desk) -> Iterator[None]:
    yield
    weighed_desk.closing.emit()


def press(qtbot: QtBot, receiver: object, keys: str) -> None:
    pressed: QKeyCombination = QKeySequence(keys)[0]
    qtbot.keyClick(receiver, pressed.key(), pressed.keyboardModifiers())


@pytest.mark.parametrize("title", words())
def test_every_key_of_a_screen_does_only_its_act(qtbot: QtBot, seated: Callable[[str], MadePaper], title: str) -> None:
    window, screen, done = seated(title)
    wanted = [(act.keys, keys) for act in screen.acts() if act.do for keys in act.keys.split()]
    for _act, keys in wanted:
        press(qtbot, window.focusWidget() or screen, keys)
    assert done == [act for act, _keys in wanted]


@pytest.mark.parametrize("title", words())
def test_the_focus_is_on_the_screen_as_soon_as_it_is_opened(seated: Callable[[str], MadePaper], title: str) -> None:
    _window, screen, _done = seated(title)
    focus = QApplication.focusWidget()
    assert focus is not None
    assert focus is screen or screen.isAncestorOf(focus)


@pytest.mark.parametrize("title", words())
def test_no_key_of_a_screen_is_a_key_of_the_window(seated: Callable[[str], MadePaper], title: str) -> None:
    window, screen, _done = seated(title)
    here = [keys for act in screen.acts() if act.do for keys in act.keys.split()]
    everywhere = [keys for act in (*window.acts(), *window._places) for keys in act.keys.split()]
    assert len(here + everywhere) == len(set(here + everywhere))


@pytest.mark.parametrize("title", words())
def test_every_key_can_be_spelled_and_has_a_description(seated: Callable[[str], MadePaper], title: str) -> None:
    _window, screen, _done = seated(title)
    acts = [act for act in screen.acts() if act.do]
    nameless = [act.keys for act in screen.acts() if not act.words.strip()]
    unknown = [keys for act in acts for keys in act.keys.split() if not QKeySequence(keys).toString()]
    assert (nameless, unknown) == ([], [])
    assert len({act.words for act in screen.acts()}) == len(screen.acts())


@pytest.mark.parametrize("title", words())
def test_an_arriving_change_does_not_move_the_focus(seated: Callable[[str], MadePaper], title: str) -> None:
    from desk.domain.status import PieceStatus
    from desk.session.pile.bulk_changes import set_beside

    window, _screen, _done = seated(title)
    assert window.desk is not None
    before = QApplication.focusWidget()
    window.desk.do(set_beside, [1], PieceStatus.SET_ASIDE)
    assert QApplication.focusWidget() is before


def test_screens_have_keys_of_their_own_in_their_order(weighed_desk: Desk) -> None:
    shortcuts = [import_module(PLACES[title]).SHORTCUT for title in words()]
    assert shortcuts == [f"Ctrl+{place}" for place in range(1, len(shortcuts) + 1)]
    assert [import_module(PLACES[title]).TITLE for title in words()] == list(words())
