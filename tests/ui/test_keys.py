"""Acts become actions, the list of keys is made from them, and keys pressed early are kept."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from desk.ui.actions import Act, add_acts
from desk.ui.early_keys import MOST, EarlyKeys
from desk.ui.keys import COLUMNS, KeyList


def nothing() -> None:
    """What an act does that is only listed."""


@pytest.mark.parametrize(
    ("act", "shown"),
    [
        (Act("Ctrl+S", "Save", nothing), "Ctrl+S"),
        (Act("Return Enter", "Open", nothing), "Return"),
        (Act("0 – 9", "Find by number"), "0 – 9"),
    ],
)
def test_keys_as_they_are_written_on_screens(act: Act, shown: str) -> None:
    assert act.shown == shown


def test_an_act_becomes_an_action_with_all_its_keys(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    done: list[str] = []
    made = add_acts(widget, [Act("F F3", "Find", lambda: done.append("find")), Act("0 – 9", "Digits")])
    assert [action.text() for action in made] == ["Find"]
    assert [keys.toString() for keys in made[0].shortcuts()] == ["F", "F3"]
    assert widget.actions() == made
    made[0].trigger()
    assert done == ["find"]


@pytest.mark.parametrize(
    ("everywhere", "context"),
    [(False, Qt.ShortcutContext.WidgetWithChildrenShortcut), (True, Qt.ShortcutContext.WindowShortcut)],
)
def test_where_keys_work(qtbot: QtBot, everywhere: bool, context: Qt.ShortcutContext) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    (action,) = add_acts(widget, [Act("F", "Find", nothing)], everywhere=everywhere)
    assert action.shortcutContext() is context


# --- the list of keys


@pytest.fixture
def keys(qtbot: QtBot) -> KeyList:
    made = KeyList()
    qtbot.addWidget(made)
    made.show()
    return made


def texts(keys: KeyList) -> list[str]:
    layout = keys.layout()
    assert layout is not None
    found = [item.widget() for at in range(layout.count()) if (item := layout.itemAt(at)) is not None]
    return [label.text() for label in found if isinstance(label, QLabel)]


def test_each_place_has_a_heading_and_its_keys(keys: KeyList) -> None:
    keys.show_acts(
        [
            ("Bench", [Act("F F3", "Find", nothing), Act("0 – 9", "Digits")]),
            ("Everywhere", [Act("Ctrl+Q", "Quit", nothing)]),
        ]
    )
    assert texts(keys) == ["Bench", "F / F3", "Find", "0 – 9", "Digits", "Everywhere", "Ctrl+Q", "Quit"]
    assert keys.accessibleName() == "Keys"


@pytest.mark.parametrize("count", [1, COLUMNS, COLUMNS + 1, 3 * COLUMNS])
def test_places_do_not_stand_in_each_other(keys: KeyList, count: int) -> None:
    acts = [Act(f"Ctrl+{place}", f"Act {place}", nothing) for place in range(count)]
    keys.show_acts([("One", acts), ("Two", acts)])
    grid = keys._grid
    taken = [grid.getItemPosition(at)[:2] for at in range(grid.count())]  # type: ignore[index]
    assert len(taken) == len(set(taken)) == 2 * (1 + 2 * count)


def test_another_screen_takes_the_place_of_the_one_before(keys: KeyList) -> None:
    keys.show_acts([("Bench", [Act("F", "Find", nothing)])])
    keys.show_acts([("Costs", [Act("L", "Only what lost money", nothing)])])
    assert texts(keys) == ["Costs", "L", "Only what lost money"]


def test_a_place_without_keys_is_a_heading_alone(keys: KeyList) -> None:
    keys.show_acts([("Empty", []), ("Everywhere", [Act("Ctrl+Q", "Quit", nothing)])])
    assert texts(keys) == ["Empty", "Everywhere", "Ctrl+Q", "Quit"]


def test_names_of_steps_are_no_markup(keys: KeyList) -> None:
    keys.show_acts([("Everywhere", [Act("Ctrl+Z", "Undo Change mailer <b>", nothing)])])
    assert {label.textFormat() for label in keys.findChildren(QLabel)} == {Qt.TextFormat.PlainText}


# --- keys pressed early


def pressed(key: Qt.Key, text: str = "", held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> QKeyEvent:
    return QKeyEvent(QEvent.Type.KeyPress, key, held, text)


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    QVBoxLayout(made).addWidget(QLineEdit())
    made.show()
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    field(made).setFocus()
    return made


def field(window: QWidget) -> QLineEdit:
    return window.findChildren(QLineEdit)[0]


def test_early_keys_go_in_order_where_the_focus_is(window: QWidget) -> None:
    early = EarlyKeys()
    for sign in "1041":
        early.keep(pressed(Qt.Key(ord(sign)), sign))
    early.do_now(window, window)
    assert field(window).text() == "1041"


def test_early_keys_are_done_once(window: QWidget) -> None:
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_1, "1"))
    early.do_now(window, window)
    early.do_now(window, window)
    assert field(window).text() == "1"


def test_a_key_of_an_act_does_it_and_types_nothing(window: QWidget) -> None:
    done: list[str] = []
    add_acts(window, [Act("N", "Next", lambda: done.append("next"))])
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, window)
    assert (done, field(window).text()) == (["next"], "")


def test_an_act_that_is_switched_off_is_not_done(window: QWidget) -> None:
    done: list[str] = []
    (action,) = add_acts(window, [Act("N", "Next", lambda: done.append("next"))])
    action.setEnabled(False)
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, window)
    assert done == []


def test_held_keys_are_told_apart(window: QWidget) -> None:
    done: list[str] = []
    add_acts(window, [Act("Ctrl+N", "Add", lambda: done.append("add")), Act("N", "Next", lambda: done.append("next"))])
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "", Qt.KeyboardModifier.ControlModifier))
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, window)
    assert done == ["add", "next"]


def test_the_screen_comes_before_the_window(qtbot: QtBot, window: QWidget) -> None:
    screen, done = QWidget(window), []
    add_acts(window, [Act("N", "Next", lambda: done.append("window"))])
    add_acts(screen, [Act("N", "Next", lambda: done.append("screen"))])
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, screen)
    assert done == ["screen"]


def test_what_was_pressed_first_is_kept_when_it_is_too_much(window: QWidget) -> None:
    early = EarlyKeys()
    for place in range(MOST + 5):
        early.keep(pressed(Qt.Key.Key_A, "a" if place < MOST else "z"))
    early.do_now(window, window)
    assert field(window).text() == "a" * MOST
