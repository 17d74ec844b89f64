"""Words that can be pressed, keys with their words, and lines of them that wrap."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QMargins, QRect, Qt
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPushButton, QSizePolicy, QWidget
from pytestqt.qtbot import QtBot

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.palette import DARK, LIGHT
from desk.ui.kit.scheme import choose_scheme
from desk.ui.kit.strip import Strip
from desk.ui.kit.words import LineOfWords, Word
from desk.ui.kit.wrapping import FlowLayout, labeled
from tests.ui.kit.pictures import columns, grabbed, has, rows


@pytest.fixture
def double(qapp: QApplication) -> Iterator[None]:
    before, larger = qapp.font(), qapp.font()
    larger.setPointSizeF(before.pointSizeF() * 2)
    qapp.setFont(larger)
    yield
    qapp.setFont(before)


# --- a key with its words


@pytest.fixture
def stiff(qtbot: QtBot) -> KeyWord:
    choose_scheme("light")
    made = KeyWord("B", "stiff", can_hold=True)
    qtbot.addWidget(made)
    made.resize(made.sizeHint())
    return made


def test_a_key_word_is_named_by_what_it_does(stiff: KeyWord) -> None:
    assert (stiff.key, stiff.accessibleName()) == ("B", "stiff")
    before = stiff.sizeHint().width()
    stiff.say("stiff, or it bends")
    assert stiff.accessibleName() == "stiff, or it bends"
    assert stiff.sizeHint().width() > before


def test_clicking_requests_the_action_without_checking_it(qtbot: QtBot, stiff: KeyWord) -> None:
    asked: list[int] = []
    stiff.clicked.connect(lambda: asked.append(1))
    qtbot.mouseClick(stiff, Qt.MouseButton.LeftButton)
    qtbot.keyClick(stiff, Qt.Key.Key_Space)
    assert (asked, stiff.isChecked()) == ([1, 1], False)


def test_a_checked_key_word_has_a_line_below_it(stiff: KeyWord) -> None:
    foot = stiff.height() - 2
    assert foot not in rows(grabbed(stiff), LIGHT.teal)
    stiff.setChecked(True)
    assert foot in rows(grabbed(stiff), LIGHT.teal)
    assert has(grabbed(stiff), LIGHT.ink)


def test_a_key_word_that_cannot_be_checked_stays_unchecked(qtbot: QtBot) -> None:
    word = KeyWord("T", "type a weight")
    qtbot.addWidget(word)
    word.setChecked(True)
    assert not word.isChecked()


def test_the_key_letter_comes_before_the_words_in_teal(stiff: KeyWord) -> None:
    letter, words = columns(grabbed(stiff), LIGHT.teal), columns(grabbed(stiff), LIGHT.soft_ink)
    assert letter
    assert max(letter) < min(words)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_key_word_follows_the_scheme(stiff: KeyWord, scheme: str) -> None:
    choose_scheme(scheme)
    assert has(grabbed(stiff), {"light": LIGHT, "dark": DARK}[scheme].teal)


def test_the_focus_is_framed(qtbot: QtBot, stiff: KeyWord) -> None:
    stiff.show()
    bare = columns(grabbed(stiff), LIGHT.teal)
    stiff.setFocus()
    with qtbot.waitExposed(stiff):
        stiff.activateWindow()
    qtbot.waitUntil(stiff.hasFocus)
    assert len(columns(grabbed(stiff), LIGHT.teal)) > len(bare) + 10


@pytest.mark.usefixtures("double")
def test_key_words_grow_with_the_font(qtbot: QtBot) -> None:
    for made in (KeyWord("B", "stiff"), Word("Batch", typeface.STRONG)):
        qtbot.addWidget(made)
        assert made.sizeHint().height() >= 40


# --- the line of screens


@pytest.fixture
def line(qtbot: QtBot) -> LineOfWords:
    made = LineOfWords(("Batch", "Bench", "Customs"))
    qtbot.addWidget(made)
    made.resize(900, 60)
    made.show()
    return made


def words_of(line: LineOfWords) -> dict[str, Word]:
    return {word.text(): word for word in line.findChildren(Word)}


@pytest.mark.parametrize("title", ["Batch", "Bench", "Customs"])
def test_only_the_open_screen_is_marked(qtbot: QtBot, line: LineOfWords, title: str) -> None:
    with qtbot.waitSignal(line.chosen) as chosen:
        words_of(line)[title].click()
    assert chosen.args == [title]
    assert [word for word, button in words_of(line).items() if button.isChecked()] == [title]


def test_clicking_the_open_screen_again_keeps_it_marked(line: LineOfWords) -> None:
    for _ in range(2):
        words_of(line)["Bench"].click()
    assert words_of(line)["Bench"].isChecked()


def test_an_unknown_title_marks_no_screen(line: LineOfWords) -> None:
    line.mark("Bench")
    line.mark("Somewhere else")
    assert not any(word.isChecked() for word in words_of(line).values())


def test_a_tag_comes_before_what_is_left_to_do(line: LineOfWords) -> None:
    line.show_jumps([("3 to weigh", lambda: None)])
    line.tag("Demo")
    QApplication.processEvents()
    (tag,) = line.findChildren(QLabel)
    assert (tag.text(), tag.isHidden()) == ("Demo", False)
    assert tag.geometry().right() < line.jumps()[0].geometry().left()
    line.tag("")
    assert tag.isHidden()


def test_finished_jumps_are_hidden(line: LineOfWords) -> None:
    gone: list[str] = []
    line.show_jumps([("3 to weigh", lambda: gone.append("weigh")), ("1 needs a look", lambda: gone.append("look"))])
    line.show_jumps([("1 needs a look", lambda: gone.append("look"))])
    assert [jump.text() for jump in line.jumps()] == ["1 needs a look"]
    assert line.jumps()[0].accessibleName() == "1 needs a look"
    line.jumps()[0].click()
    assert gone == ["look"]
    line.show_jumps([])
    assert line.jumps() == []


# --- lines that wrap


def boxes(qtbot: QtBot, widths: list[int], wide: int, *, right: int = -1, gap: int = 10) -> list[QRect]:
    """Return the places of widgets of those widths, 20 high, in a line that wide; the one at `right` is at the right."""
    whole = QWidget()
    qtbot.addWidget(whole)
    flow = FlowLayout(whole, gap=gap)
    made = []
    for place, width in enumerate(widths):
        one = QWidget()
        one.setMinimumSize(width, 20)
        one.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        (flow.add_right if place == right else flow.addWidget)(one)
        made.append(one)
    flow.setGeometry(QRect(0, 0, wide, 400))
    return [one.geometry() for one in made]


def test_widgets_are_placed_from_left_to_right_with_gaps(qtbot: QtBot) -> None:
    found = boxes(qtbot, [50, 60, 70], 400)
    assert [(box.left(), box.top()) for box in found] == [(0, 0), (60, 0), (130, 0)]


@pytest.mark.parametrize(
    ("wide", "tops"),
    [(200, [0, 0, 0]), (199, [0, 0, 25]), (120, [0, 0, 25]), (119, [0, 25, 50]), (10, [0, 25, 50])],
)
def test_widgets_wrap_to_the_next_line(qtbot: QtBot, wide: int, tops: list[int]) -> None:
    assert [box.top() for box in boxes(qtbot, [50, 60, 70], wide)] == tops


def test_the_widget_at_the_right_ends_at_the_edge(qtbot: QtBot) -> None:
    found = boxes(qtbot, [50, 60, 70], 400, right=1)
    assert found[0].left() == 0
    assert found[2].right() == 399
    assert found[1].right() == 399 - 80


def test_the_height_is_that_of_the_wrapped_lines(qtbot: QtBot) -> None:
    whole = QWidget()
    qtbot.addWidget(whole)
    flow = FlowLayout(whole, gap=10, margins=QMargins(5, 7, 5, 9))
    for width in (50, 60, 70):
        one = QWidget()
        one.setMinimumSize(width, 20)
        flow.addWidget(one)
    flow.invalidate()
    assert flow.hasHeightForWidth()
    assert flow.heightForWidth(210) == 20 + 7 + 9
    assert flow.heightForWidth(209) == 20 + 5 + 20 + 7 + 9
    assert flow.sizeHint().width() == 210
    assert flow.minimumSize().width() == 70 + 10


def test_hidden_widgets_take_no_room(qtbot: QtBot) -> None:
    whole = QWidget()
    qtbot.addWidget(whole)
    flow = FlowLayout(whole, gap=10)
    first, second = QPushButton("one"), QPushButton("two")
    for one in (first, second):
        flow.addWidget(one)
    before = flow.sizeHint().width()
    first.hide()
    assert flow.sizeHint().width() == before - first.sizeHint().width() - 10


def test_widgets_are_counted_and_removed(qtbot: QtBot) -> None:
    whole = QWidget()
    qtbot.addWidget(whole)
    flow = FlowLayout(whole)
    one = QPushButton("one")
    flow.add_right(one)
    assert (flow.count(), flow.itemAt(1), flow.takeAt(5)) == (1, None, None)
    item = flow.takeAt(0)
    assert item is not None
    assert item.widget() is one
    assert flow.count() == 0


def test_a_widget_that_can_grow_takes_the_spare_room(qtbot: QtBot) -> None:
    whole = QWidget()
    qtbot.addWidget(whole)
    flow = FlowLayout(whole, gap=10)
    search, button = QLineEdit(), QPushButton("go")
    flow.addWidget(labeled("&Search", search, grows=True))
    flow.addWidget(button)
    flow.setGeometry(QRect(0, 0, 800, 40))
    assert button.geometry().right() == 799
    assert search.parentWidget().width() > 600
    assert search.accessibleName() == "Search"


def test_the_access_key_of_a_label_goes_to_its_field(qtbot: QtBot) -> None:
    search = QLineEdit()
    pair = labeled("&Search", search)
    qtbot.addWidget(pair)
    assert pair.findChildren(QLabel)[0].buddy() is search


def test_label_text_is_shown_as_written(qtbot: QtBot) -> None:
    """A name that contains markup characters has to be written on the piece as it is."""
    name = "<b>Ann</b> Quist"
    strip, inked = Strip(name, "look"), Inked(name)
    for widget in (strip, inked):
        qtbot.addWidget(widget)
    label = strip.findChild(QLabel)
    assert isinstance(label, QLabel)
    plain = Inked("Ann Quist")
    qtbot.addWidget(plain)
    assert label.textFormat() is Qt.TextFormat.PlainText
    assert inked.sizeHint().width() > plain.sizeHint().width()


def test_a_key_word_that_can_shrink_has_its_full_text_in_its_tooltip(qtbot: QtBot) -> None:
    word = KeyWord("M", "mailer", can_shrink=True)
    qtbot.addWidget(word)
    word.say("No. 10 envelope (the smallest that is thick enough)")
    assert word.minimumSizeHint().width() < word.sizeHint().width()
    assert word.toolTip() == word.accessibleName() == "No. 10 envelope (the smallest that is thick enough)"
    pictures = []
    for wide in (word.sizeHint().width(), 120):
        word.resize(wide, word.sizeHint().height())
        pictures.append(word.grab().toImage().copy(0, 0, 120, word.height()))
    assert pictures[0] != pictures[1]  # the end of what is left shows that there is more


def test_a_key_word_keeps_its_room_unless_it_can_shrink(stiff: KeyWord) -> None:
    assert stiff.minimumSizeHint() == stiff.sizeHint()
    assert stiff.toolTip() == ""
