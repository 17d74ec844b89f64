"""Acts become actions, the list of keys is made from them, and keys pressed early are kept."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from desk.ui.actions import Act, add_acts
from desk.ui.early_keys import MOST, EarlyKeys
from desk.ui.keys import KeyList, in_columns
from desk.ui.kit import type as typeface


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
def test_keys_are_written_as_on_the_screen(act: Act, shown: str) -> None:
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


def test_keys_work_in_the_whole_window(qtbot: QtBot) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    (action,) = add_acts(widget, [Act("F", "Find", nothing)])
    assert action.shortcutContext() is Qt.ShortcutContext.WindowShortcut


# --- the list of keys


@pytest.fixture
def keys(qtbot: QtBot) -> Iterator[KeyList]:
    """A list over the whole of a screen of 960 x 520 pixels."""
    window = QWidget()
    window.resize(960, 520)
    over = QWidget(window)
    over.resize(960, 520)
    made = KeyList(over)
    qtbot.addWidget(window)
    window.show()
    yield made
    window.hide()  # and until now the list's parent is held here


def texts(keys: KeyList) -> list[str]:
    return [label.text() for label in keys._area.widget().findChildren(QLabel)]


def acts(count: int, words: str = "Act") -> list[Act]:
    return [Act(f"Ctrl+{place}", f"{words} {place}", nothing) for place in range(count)]


def test_each_group_has_a_heading_and_its_keys(keys: KeyList) -> None:
    keys.show_acts(
        [
            ("Bench", [Act("F F3", "Find", nothing), Act("0 – 9", "Digits")]),
            ("Everywhere", [Act("Ctrl+Q", "Quit", nothing)]),
        ]
    )
    assert texts(keys) == ["Bench", "F / F3", "Find", "0 – 9", "Digits", "Everywhere", "Ctrl+Q", "Quit"]
    assert keys.accessibleName() == "Keys"


def test_the_keys_of_another_screen_replace_the_list(keys: KeyList) -> None:
    keys.show_acts([("Bench", [Act("F", "Find", nothing)])])
    keys.show_acts([("Costs", [Act("L", "Only what loss", nothing)])])
    assert texts(keys) == ["Costs", "L", "Only what loss"]


def test_a_group_without_keys_is_a_heading_alone(keys: KeyList) -> None:
    keys.show_acts([("Empty", []), ("Everywhere", [Act("Ctrl+Q", "Quit", nothing)])])
    assert texts(keys) == ["Empty", "Everywhere", "Ctrl+Q", "Quit"]


def test_names_of_steps_are_not_markup(keys: KeyList) -> None:
    keys.show_acts([("Everywhere", [Act("Ctrl+Z", "Undo Change mailer <b>", nothing)])])
    assert {label.textFormat() for label in keys.findChildren(QLabel)} == {Qt.TextFormat.PlainText}


@pytest.mark.parametrize(
    ("highs", "count", "expected"),
    [
        ([], 3, []),
        ([5], 3, [[0]]),
        ([5, 5, 5], 1, [[0, 1, 2]]),
        ([5, 5, 5], 2, [[0, 1], [2]]),
        ([9, 2, 2, 2, 3], 2, [[0], [1, 2, 3, 4]]),
        ([1, 1, 9, 1, 1], 3, [[0, 1], [2], [3, 4]]),
    ],
)
def test_groups_are_laid_out_whole_and_in_order_in_columns(
    highs: list[int], count: int, expected: list[list[int]]
) -> None:
    assert in_columns(highs, count) == expected


@pytest.mark.parametrize(("many", "columns"), [(4, 1), (9, 2), (14, 3)])
def test_the_list_of_keys_uses_as_many_columns_as_needed_at_the_right(keys: KeyList, many: int, columns: int) -> None:
    keys.show()
    keys.show_acts([("One", acts(many)), ("Two", acts(many)), ("Three", acts(many))])
    QApplication.processEvents()
    lefts = {block.x() for block in keys._blocks}
    assert len(lefts) == columns
    assert keys.geometry().right() == keys._over.geometry().right()
    assert keys.height() <= keys._over.height()
    assert keys._area.verticalScrollBar().maximum() == 0


def test_keys_that_do_not_fit_are_scrolled_by_keyboard(qtbot: QtBot, keys: KeyList) -> None:
    keys._over.resize(300, 200)
    keys.show()
    keys.show_acts([("One", acts(40))])
    QApplication.processEvents()
    assert (keys.width() <= 300, keys.height()) == (True, 200)
    qtbot.keyClick(keys, Qt.Key.Key_PageDown)
    assert keys._area.verticalScrollBar().value() > 0


def test_long_words_wrap(keys: KeyList) -> None:
    keys.show_acts([("One", acts(2, "Take the weight that is asked about, or else open the next piece of the list"))])
    words = [label for label in keys.findChildren(QLabel) if label.text().startswith("Take")]
    assert {(label.wordWrap(), label.width() <= 250 * typeface.scale() + 1) for label in words} == {(True, True)}


def test_the_list_of_keys_follows_the_size_of_its_screen(keys: KeyList) -> None:
    keys.show()
    keys.show_acts([("One", acts(3))])
    keys._over.setGeometry(10, 20, 700, 400)
    assert (keys.geometry().right(), keys.geometry().top()) == (709, 20)


def test_escape_closes_the_list_of_keys_and_other_keys_are_passed_on(qtbot: QtBot, keys: KeyList) -> None:
    heard: list[str] = []
    keys.left.connect(lambda: heard.append("left"))
    keys.handed_on.connect(lambda event: heard.append(event.text()))
    keys.show()
    for key in (Qt.Key.Key_N, Qt.Key.Key_Down, Qt.Key.Key_Tab, Qt.Key.Key_7, Qt.Key.Key_Escape):
        qtbot.keyClick(keys, key)
    assert heard == ["n", "7", "left"]


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


def test_early_keys_go_to_the_focused_field_in_order(window: QWidget) -> None:
    early = EarlyKeys()
    for sign in "1041":
        early.keep(pressed(Qt.Key(ord(sign)), sign))
    early.do_now(window, window)
    assert field(window).text() == "1041"


def test_early_keys_are_processed_once(window: QWidget) -> None:
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


def test_a_disabled_act_is_not_done(window: QWidget) -> None:
    done: list[str] = []
    (action,) = add_acts(window, [Act("N", "Next", lambda: done.append("next"))])
    action.setEnabled(False)
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, window)
    assert (done, field(window).text()) == ([], "n")


def test_early_keys_with_and_without_ctrl_are_distinguished(window: QWidget) -> None:
    done: list[str] = []
    add_acts(window, [Act("Ctrl+N", "Add", lambda: done.append("add")), Act("N", "Next", lambda: done.append("next"))])
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "", Qt.KeyboardModifier.ControlModifier))
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, window)
    assert done == ["add", "next"]


def test_an_early_key_does_the_act_of_the_screen_before_that_of_the_window(qtbot: QtBot, window: QWidget) -> None:
    screen, done = QWidget(window), []
    add_acts(window, [Act("N", "Next", lambda: done.append("window"))])
    add_acts(screen, [Act("N", "Next", lambda: done.append("screen"))])
    early = EarlyKeys()
    early.keep(pressed(Qt.Key.Key_N, "n"))
    early.do_now(window, screen)
    assert done == ["screen"]


def test_of_too_many_early_keys_the_first_are_kept(window: QWidget) -> None:
    early = EarlyKeys()
    for place in range(MOST + 5):
        early.keep(pressed(Qt.Key.Key_A, "a" if place < MOST else "z"))
    early.do_now(window, window)
    assert field(window).text() == "a" * MOST
