"""HS codes that may fit: shown below the field, chosen with the arrows and Enter."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from desk.session.customs.product_goods import HsChoice, hs_choices
from desk.session.rulebook import Rulebook
from desk.ui.customs.hs_hints import MOST_CHARACTERS, HsHints


@pytest.fixture
def choices(rulebook: Rulebook) -> list[HsChoice]:
    return hs_choices(rulebook, "art print on paper")[:3]


@pytest.fixture
def field(qtbot: QtBot) -> Iterator[QLineEdit]:
    """A field with its hints below, in a window that the test keeps alive."""
    page, made = QWidget(), QLineEdit()
    column = QVBoxLayout(page)
    column.addWidget(made)
    column.addWidget(HsHints(made))
    qtbot.addWidget(page)
    page.show()
    page.activateWindow()
    with qtbot.waitActive(page):
        pass
    yield made
    page.close()


def hints_of(field: QLineEdit) -> HsHints:
    hints = field.parentWidget().findChild(HsHints)
    assert isinstance(hints, HsHints)
    return hints


def press(qtbot: QtBot, *keys: Qt.Key) -> None:
    for key in keys:
        qtbot.keyClick(QApplication.focusWidget(), key)


def test_a_code_is_chosen_with_the_arrows_and_enter(qtbot: QtBot, field: QLineEdit, choices: list[HsChoice]) -> None:
    hints = hints_of(field)
    hints.show_choices(choices)
    qtbot.waitUntil(hints.buttons[0].isVisible)
    taken: list[str] = []
    hints.chosen.connect(taken.append)
    field.setFocus()
    press(qtbot, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return)
    assert taken == [choices[1].code]
    press(qtbot, Qt.Key.Key_Up, Qt.Key.Key_Up)
    assert field.hasFocus()


def test_down_stays_in_the_field_where_no_code_is_offered(
    qtbot: QtBot, field: QLineEdit, choices: list[HsChoice]
) -> None:
    hints_of(field).show_choices(choices)
    hints_of(field).show_choices(())
    field.setFocus()
    press(qtbot, Qt.Key.Key_Down)
    assert field.hasFocus()


def test_a_long_heading_is_shortened_on_the_button_and_read_aloud_completely(
    field: QLineEdit, choices: list[HsChoice]
) -> None:
    hint = replace(choices[0], words="word & " * 40)
    hints = hints_of(field)
    hints.show_choices([hint])
    (button,) = hints.buttons
    cut = button.text().replace("&&", "&").partition("   (")[0]
    assert len(cut) == MOST_CHARACTERS
    assert cut.endswith("…")
    assert button.text().endswith(f"(matched: {', '.join(hint.matched)})")
    assert hint.words in button.accessibleName()
    assert hint.words.replace("&", "&amp;") in button.toolTip()


def test_hints_appear_and_disappear(field: QLineEdit, choices: list[HsChoice]) -> None:
    hints = hints_of(field)
    assert hints.isHidden()
    hints.show_choices(choices)
    buttons = hints.buttons
    hints.show_choices(choices)
    assert hints.buttons is buttons
    assert not hints.isHidden()
    hints.show_choices(())
    assert (hints.isHidden(), hints.buttons) == (True, [])
