"""No key dies: wherever the focus is, after any click, the keys of the open screen work and digits find a piece."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QPushButton, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from desk.app.wiring import screens_of, words
from desk.ui.batch.importing.import_keys import import_keys
from desk.ui.bench.view import BenchScreen
from desk.ui.bridge import Desk, OngoingState
from desk.ui.kit.words import Word
from desk.ui.setup.view import SetupView
from desk.ui.window import Window


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Iterator[Window]:
    made = Window(words())
    qtbot.addWidget(made)
    made.seat(desk, screens_of(desk))
    made.resize(1366, 768)
    desk.state("demo", OngoingState("Demo shop. Nothing you do here is saved.", "note", (("More", lambda: None),)))
    made.show()
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    made.open_screen("Bench")
    yield made
    desk.closing.emit()


def bench_of(window: Window) -> BenchScreen:
    screen = window.screen_of("Bench")
    assert isinstance(screen, BenchScreen)
    return screen


def press(qtbot: QtBot, window: Window, text: str) -> None:
    for one in text:
        qtbot.keyClicks(QApplication.focusWidget() or window, one)


def opens_1043(qtbot: QtBot, window: Window) -> bool:
    """Type a number and Enter; return True if its piece opened on the bench."""
    press(qtbot, window, "1043")
    qtbot.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Return)
    return window.screen_open == "Bench" and bench_of(window).write.figure.figure.number == "1043"


def buttons(window: Window, kind: type[QAbstractButton]) -> list[QAbstractButton]:
    shown = [one for one in window.findChildren(kind) if one.isVisible() and one.isEnabled()]
    return [one for one in shown if one.accessibleName() not in ("Quit", "Import orders…")]


@pytest.mark.parametrize("kind", [Word, QPushButton, QToolButton])
def test_after_clicking_any_tab_jump_or_strip_digits_find_a_piece(
    qtbot: QtBot, window: Window, kind: type[QAbstractButton]
) -> None:
    for place in range(len(buttons(window, kind))):
        window.open_screen("Bench")
        here = buttons(window, kind)
        if place >= len(here):
            break
        name = here[place].accessibleName()
        qtbot.mouseClick(here[place], Qt.MouseButton.LeftButton)
        if isinstance(QApplication.focusWidget(), QLineEdit) and window.screen_open != "Batch":
            continue  # a field of a form has the focus there, and digits are its own
        assert opens_1043(qtbot, window), name
        window.screen_of("Bench").does.opening.open_piece(1)  # type: ignore[attr-defined]


@pytest.mark.parametrize("title", [title for title in words() if title not in ("Batch", "Setup")])
def test_digits_find_a_piece_from_every_screen(qtbot: QtBot, window: Window, title: str) -> None:
    window.open_screen(title)
    focus = QApplication.focusWidget()
    if isinstance(focus, QLineEdit):
        pytest.skip("a field has the focus there, and digits are its own")
    assert opens_1043(qtbot, window)


def test_keys_of_the_bench_work_with_the_focus_on_the_tabs(qtbot: QtBot, window: Window) -> None:
    bench = bench_of(window)
    bench.does.opening.open_piece(1)
    word = next(one for one in window.findChildren(Word) if one.text() == "Bench")
    word.setFocus()
    press(qtbot, window, "t")
    assert bench.weight_field.line.hasFocus()


def test_enter_and_space_click_the_focused_button(qtbot: QtBot, window: Window) -> None:
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Space):
        window.open_screen("Bench")
        word = next(one for one in window.findChildren(Word) if one.text() == "Papers")
        word.setFocus()
        qtbot.keyClick(word, key)
        assert window.screen_open == "Papers"


def test_a_click_moves_no_focus(qtbot: QtBot, window: Window) -> None:
    bench = bench_of(window)
    bench.does.opening.open_piece(1)
    before = QApplication.focusWidget()
    qtbot.mouseClick(bench.side.sounds, Qt.MouseButton.LeftButton)
    assert QApplication.focusWidget() is before


# --- one key, one meaning

SHARED = {"undo": "Z", "aside": "A", "mailer": "M", "size": "X", "service": "V", "find": "F", "history": "Ctrl+H"}
STEMS = {"undo": "Undo", "aside": "Set aside", "mailer": "Mailer", "size": "Size", "service": "Service"}
STEMS |= {"find": "Find", "history": "History"}


@pytest.mark.parametrize("what", SHARED)
def test_one_key_means_one_thing_on_batch_and_bench(window: Window, what: str) -> None:
    for title in ("Batch", "Bench"):
        acts = [*window.screen_of(title).acts(), *window.acts()]
        found = [act.words for act in acts if SHARED[what] in act.keys.split() and act.do]
        assert found, (title, what)
        assert all(one.startswith(STEMS[what]) for one in found), (title, found)


def test_no_key_means_two_things_on_any_screen_or_page(window: Window) -> None:
    batch, bench = window.screen_of("Batch"), bench_of(window)
    tables = [window.screen_of(title).acts() for title in words()]
    tables += [batch.ahead.acts(), batch.piece.acts(), import_keys(batch.importing), window.acts()]  # type: ignore[attr-defined]
    tables += [bench.acts_to_come(), bench.about.acts()]
    meanings: dict[str, set[str]] = {}
    for act in chain.from_iterable(tables):
        for keys in act.keys.split() if act.do else ():
            meanings.setdefault(keys, set()).add(act.words)
    twice = {keys: heard for keys, heard in meanings.items() if len(heard) > 1 and keys != "Escape"}
    twice = {keys: heard for keys, heard in twice.items() if len({one.split()[0] for one in heard}) > 1}
    assert twice == {
        "I": {"Details of this piece", "Back to where you were"}
    }  # one opens the page, the other closes it


def test_the_list_of_keys_includes_those_of_an_open_list(qtbot: QtBot, window: Window) -> None:
    bench = bench_of(window)
    bench.does.opening.open_piece(2)  # two items, which can be split
    press(qtbot, window, "m")
    press(qtbot, window, "?")
    assert headings(window)[:2] == ["Choose by number", "Choose another"]
    press(qtbot, window, "?")
    qtbot.keyClick(bench.mailers, Qt.Key.Key_Escape)
    press(qtbot, window, "/")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F1)
    assert "Next field; in the last one, save the packages" in headings(window)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    qtbot.keyClick(bench, Qt.Key.Key_Escape)
    press(qtbot, window, "t")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F1)
    assert headings(window)[0] == "Weight: use what is typed"


@pytest.mark.parametrize("title", [title for title in words() if title != "Batch"])
def test_find_is_the_same_key_everywhere_and_opens_the_bench(qtbot: QtBot, window: Window, title: str) -> None:
    window.open_screen(title)
    qtbot.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    assert window.screen_open == "Bench"
    assert bench_of(window).find_field.line.hasFocus()


def clickable(window: Window) -> list[QAbstractButton]:
    screen = window.screen_of(window.screen_open)
    shown = [one for one in screen.findChildren(QAbstractButton) if one.isVisible() and one.isEnabled()]
    return [one for one in shown if not one.accessibleName().endswith("…") and "…" not in one.text()]


WITH_MENU = ("Mailer", "Service")
REAL = pytest.param("Batch", id="Batch in a real window", marks=pytest.mark.window)


@pytest.mark.parametrize("title", [*words(), REAL])
def test_every_key_works_after_any_click_on_a_screen(
    qtbot: QtBot, window: Window, desk: Desk, weigh_demo: Callable[[], None], title: str
) -> None:
    """After each click the keys of the screen still come through: the list of keys opens, and Ctrl+2 goes to the bench."""
    weigh_demo()
    if title == "Bench":
        bench_of(window).does.opening.open_piece(3)
    window.open_screen(title)
    for place in range(len(clickable(window))):
        window.open_screen(title)
        here = clickable(window)
        if place >= len(here):
            break
        name = here[place].accessibleName()
        if name in WITH_MENU and QApplication.platformName() == "offscreen":
            continue  # without a screen no window is active after a menu: the real window's case has them
        qtbot.mouseClick(here[place], Qt.MouseButton.LeftButton)
        qtbot.keyClick(hears_keys(window), Qt.Key.Key_F1)
        qtbot.waitUntil(window.overlays.keys.isVisible)
        qtbot.keyClick(hears_keys(window), Qt.Key.Key_Escape)
        assert window.overlays.keys.isHidden(), name
        qtbot.keyClick(hears_keys(window), Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
        assert window.screen_open == "Bench", name


def hears_keys(window: Window) -> QWidget:
    """Return what a pressed key reaches first: an open menu, else what has the focus."""
    return QApplication.activePopupWidget() or window.focusWidget() or window


# --- the command finder


def open_finder(qtbot: QtBot, window: Window, text: str) -> None:
    qtbot.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_K, Qt.KeyboardModifier.ControlModifier)
    assert window.overlays.finder.isVisible()
    qtbot.keyClicks(window.overlays.finder.line, text)


def test_a_command_is_found_by_its_words_and_done(qtbot: QtBot, window: Window) -> None:
    bench_of(window).does.opening.open_piece(1)
    open_finder(qtbot, window, "type wei")
    shown = window.overlays.finder.shown
    assert [(one.screen, one.words, one.keys) for one in shown] == [("Bench", "Type a weight", "T")]
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Return)
    assert bench_of(window).weight_field.line.hasFocus()
    assert window.overlays.finder.isHidden()


def test_a_command_of_another_screen_opens_it_first(qtbot: QtBot, window: Window) -> None:
    open_finder(qtbot, window, "before weigh")
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Return)
    assert window.screen_open == "Batch"


def test_every_act_of_every_screen_is_in_the_finder(qtbot: QtBot, window: Window) -> None:
    open_finder(qtbot, window, "")
    listed = {(one.screen, one.words) for one in window.overlays.finder.shown}
    for title in words():
        assert {(title, act.words) for act in window.screen_of(title).acts() if act.do} <= listed
    assert {("", title) for title in words()} <= listed


def test_the_finder_handles_no_match_and_closes_with_escape(qtbot: QtBot, window: Window) -> None:
    before = QApplication.focusWidget()
    open_finder(qtbot, window, "zzz")
    assert window.overlays.finder.nothing.isVisible()
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Return)
    assert window.overlays.finder.isVisible()
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Escape)
    assert window.overlays.finder.isHidden()
    assert QApplication.focusWidget() is before


# --- the list of keys


def headings(window: Window) -> list[str]:
    return [act.words for _, acts in window.overlays.keys.shown() for act in acts]


def test_the_list_of_keys_is_that_of_the_page_in_front(qtbot: QtBot, window: Window) -> None:
    bench = bench_of(window)
    bench.does.opening.open_piece(1)
    bench.does.looking.open_page()
    window.overlays.toggle_keys()
    assert "Correct the order" in headings(window)
    assert "Type a weight" not in headings(window)
    window.overlays.toggle_keys()
    bench.does.looking.leave_page()
    window.overlays.toggle_keys()
    assert "Type a weight" in headings(window)


def test_a_page_of_setup_is_a_command(qtbot: QtBot, window: Window) -> None:
    open_finder(qtbot, window, "mailers")
    assert [(one.screen, one.words) for one in window.overlays.finder.shown] == [("Setup", "Mailers")]
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Return)
    setup = window.screen_of("Setup")
    assert isinstance(setup, SetupView)
    assert (window.screen_open, setup.page.name) == ("Setup", "Mailers")


def test_an_exact_name_comes_before_commands_that_contain_it(qtbot: QtBot, window: Window) -> None:
    open_finder(qtbot, window, "stamps")
    shown = window.overlays.finder.shown
    assert (shown[0].screen, shown[0].words) == ("Setup", "Stamps")
    assert len(shown) > 1


def test_a_button_of_a_strip_is_a_command(qtbot: QtBot, window: Window, desk: Desk) -> None:
    pressed: list[str] = []
    way = ("Start with my own orders", lambda: pressed.append("own"))
    desk.state("demo", OngoingState("Demo shop. Nothing you do here is saved.", "note", (way,)))
    open_finder(qtbot, window, "own orders")
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Return)
    assert pressed == ["own"]


def test_escape_closes_the_finder_even_if_the_screen_uses_escape(qtbot: QtBot, window: Window) -> None:
    window.open_screen("Batch")
    open_finder(qtbot, window, "zzz")
    qtbot.keyClick(window.overlays.finder.line, Qt.Key.Key_Escape)
    assert window.overlays.finder.isHidden()
