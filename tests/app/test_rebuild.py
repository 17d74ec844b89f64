"""Another text size builds the window again, on the same data, with the same piece open."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from desk.app.wiring import Opening, words
from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import set_beside
from desk.ui.kit import type as typeface
from desk.ui.scale_bridge import ScaleBridge
from desk.ui.setup.view import SetupView
from desk.ui.window import Window
from tests.app.test_wiring import own_folders

__all__ = ["own_folders"]  # a fixture


@pytest.fixture
def opening(qapp: QApplication) -> Iterator[Opening]:
    made = Opening(Window(words()))
    yield made
    made.close()
    made.claim(None)
    made.window.close()


@pytest.fixture(autouse=True)
def usual_size(qapp: QApplication) -> Iterator[None]:
    before = qapp.font()
    yield
    QSettings().remove(typeface.KEY)
    qapp.setFont(before)


def choose(window: Window, size: str) -> None:
    window.open_page("Setup", "Appearance")
    setup = window.screen_of("Setup")
    assert isinstance(setup, SetupView)
    field = setup.page.form.fields["type"]  # type: ignore[attr-defined]
    field.put(size)
    field.commit()


def test_a_larger_text_size_applies_at_once_to_the_same_data(qtbot: QtBot, opening: Opening) -> None:
    opening.open(None)
    old, desk = opening.window, opening.desk
    assert desk is not None
    old.show()
    bench = old.screen_of("Bench")
    bench.does.opening.open_piece(3)  # type: ignore[attr-defined]
    wide = old._words.sizeHint().width()
    choose(old, "150")
    qtbot.waitUntil(lambda: opening.window is not old)
    new = opening.window
    assert opening.desk is desk
    assert new._words.sizeHint().width() > wide * 1.3
    assert (new.screen_open, new.screen_of("Bench").piece) == ("Setup", 3)  # type: ignore[attr-defined]
    assert new.isVisible()
    qtbot.waitUntil(lambda: not isValid(old))
    desk.do(set_beside, [3], PieceStatus.SET_ASIDE)  # nothing of the window before hears it, or what follows
    desk.number_typed.emit("1")
    assert new.screen_of("Bench").find_field.line.text() == "1"  # type: ignore[attr-defined]
    desk.piece_opened.emit(5)
    assert (new.screen_open, new.screen_of("Bench").piece) == ("Bench", 5)  # type: ignore[attr-defined]
    assert isinstance(desk.scale, ScaleBridge)
    desk.scale.finished.emit(5)
    for title in words():
        new.open_screen(title)
    assert new.screen_open == words()[-1]
    desk.closing.emit()


def test_the_default_text_size_can_be_restored(qtbot: QtBot, opening: Opening) -> None:
    opening.open(None)
    before = typeface.scale()
    for size, share in (("200", 2), ("100", 1)):
        old = opening.window
        choose(old, size)
        qtbot.waitUntil(lambda old=old: opening.window is not old)
        assert typeface.scale() == pytest.approx(before * share)
