"""Texts on the screen and for screen readers: the message line, strips, empty views, reasons, costs."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from desk.ui.kit.card import Card, Heading, Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.message import MAKES_WAY_S, STAYS_LONGER_MS, STAYS_MS, MarkDot, MessageLine
from desk.ui.kit.palette import DARK, LIGHT
from desk.ui.kit.scheme import choose_scheme
from desk.ui.kit.strip import Strip
from desk.ui.kit.why_column import Fact, WhyColumn
from desk.ui.trade.cost_lines import CostLines
from tests.ui.kit.pictures import grabbed, has


def texts(widget: QWidget) -> list[str]:
    return [label.text() for label in widget.findChildren(QLabel) if label.text() and not label.isHidden()]


def button(widget: QWidget) -> QPushButton:
    return widget.findChildren(QPushButton)[0]


# --- the message line


@pytest.fixture
def line(qtbot: QtBot) -> MessageLine:
    made = MessageLine()
    qtbot.addWidget(made)
    made.resize(600, made.sizeHint().height())
    made.show()
    return made


@pytest.mark.parametrize("undo", [True, False])
@pytest.mark.parametrize("mark", ["fine", "note", "look", "stop"])
def test_a_message_has_its_mark_and_its_undo(line: MessageLine, mark: str, undo: bool) -> None:
    line.say("Set aside: 1 piece", mark, undo=undo)
    assert line.words == "Set aside: 1 piece"
    assert line.findChildren(MarkDot)[0].kind == mark
    assert line.findChildren(MarkDot)[0].isVisible()
    assert button(line).isVisible() is undo


@pytest.mark.parametrize(
    ("mark", "stays"),
    [("fine", STAYS_MS), ("note", STAYS_MS), ("look", STAYS_LONGER_MS), ("stop", STAYS_LONGER_MS)],
)
def test_a_message_disappears_after_some_seconds_and_a_refusal_later(line: MessageLine, mark: str, stays: int) -> None:
    line.say("Something", mark)
    assert (line._timer.isActive(), line._timer.isSingleShot()) == (True, True)
    assert line._timer.interval() == stays
    line._timer.timeout.emit()
    assert line.words == ""


def test_an_older_message_is_replaced_and_a_fresh_one_stays(line: MessageLine) -> None:
    line.say("Mailer set.", undo=True)
    line.make_way()
    assert (line.words, button(line).isVisible()) == ("Mailer set.", False)
    line._since -= MAKES_WAY_S + 0.1
    line.make_way()
    assert line.words == ""


def test_a_refusal_is_not_cleared_by_the_timer_of_an_earlier_message(line: MessageLine) -> None:
    line.say("Done.")
    line.say("Not now.", "stop")
    assert line._timer.interval() == STAYS_LONGER_MS
    line.say("Done after all.")
    line._timer.timeout.emit()
    assert line.words == ""
    assert not line.findChildren(MarkDot)[0].isVisible()
    assert not button(line).isVisible()


def test_the_message_line_keeps_its_height_when_empty(line: MessageLine) -> None:
    line.say("Done.")
    high = line.sizeHint().height()
    line.clear()
    assert line.sizeHint().height() == high


def test_a_message_reaches_screen_readers_and_moves_no_focus(
    line: MessageLine, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard: list[str] = []
    monkeypatch.setattr(QAccessible, "updateAccessibility", lambda event: heard.append(event.message()))
    line.say("Set aside: 1 piece", undo=True)
    assert heard == ["Set aside: 1 piece"]
    assert not button(line).hasFocus()


def test_undo_can_be_requested_by_mouse_and_by_key(qtbot: QtBot, line: MessageLine) -> None:
    asked: list[int] = []
    line.undo_asked.connect(lambda: asked.append(1))
    line.say("Set aside: 1 piece", undo=True)
    qtbot.mouseClick(button(line), Qt.MouseButton.LeftButton)
    qtbot.keyClick(button(line), Qt.Key.Key_Space)
    assert asked == [1, 1]
    assert button(line).accessibleName() == "Undo what just happened"


def test_a_long_message_is_wrapped_and_not_cut(line: MessageLine) -> None:
    label = line.findChildren(QLabel)[0]
    line.say("word " * 60)
    assert label.wordWrap()
    assert label.heightForWidth(400) > label.heightForWidth(4000)


# --- strips


@pytest.mark.parametrize("mark", ["fine", "note", "look", "stop"])
def test_a_strip_has_a_mark_a_text_and_a_name(qtbot: QtBot, mark: str) -> None:
    strip = Strip("The scale is lost.", mark)
    qtbot.addWidget(strip)
    assert texts(strip) == ["The scale is lost."]
    assert strip.accessibleName() == "The scale is lost."
    assert strip.findChildren(MarkDot)[0].kind == mark
    assert strip.findChildren(QPushButton) == []


def test_each_action_of_a_strip_has_its_own_button(qtbot: QtBot) -> None:
    gone: list[str] = []
    ways = [(name, lambda name=name: gone.append(name)) for name in ("Look again", "Set up the scale", "Cancel")]
    strip = Strip("The scale is lost.", "look", ways)
    qtbot.addWidget(strip)
    buttons = strip.findChildren(QPushButton)
    assert [one.accessibleName() for one in buttons] == ["Look again", "Set up the scale", "Cancel"]
    for one in reversed(buttons):
        one.click()
    assert gone == ["Cancel", "Set up the scale", "Look again"]


def test_a_strip_follows_the_scheme(qtbot: QtBot) -> None:
    strip = Strip("Words", "stop")
    qtbot.addWidget(strip)
    strip.resize(300, 40)
    for name, sheet in (("light", LIGHT), ("dark", DARK)):
        choose_scheme(name)
        assert has(grabbed(strip), sheet.stop)
        assert has(grabbed(strip), sheet.card)


# --- empty views


def test_an_empty_view_says_what_will_be_here_and_how_to_get_it(qtbot: QtBot) -> None:
    gone: list[str] = []
    ways = [("Take a file in", lambda: gone.append("file")), ("Open the demo", lambda: gone.append("demo"))]
    view = EmptyView("No orders yet", "A file of orders is taken in here.", ways)
    qtbot.addWidget(view)
    assert texts(view) == ["No orders yet", "A file of orders is taken in here."]
    assert view.accessibleName() == "No orders yet"
    for one in view.buttons:
        one.click()
    assert gone == ["file", "demo"]
    assert [one.accessibleName() for one in view.buttons] == ["Take a file in", "Open the demo"]


def test_an_empty_view_without_actions_has_no_buttons(qtbot: QtBot) -> None:
    view = EmptyView("Nothing is going abroad", "Declarations stand here.")
    qtbot.addWidget(view)
    assert view.findChildren(QPushButton) == []


# --- reasons


FULL = Fact("look", "Over one ounce", "It takes two stamps.", "Put another one on.", "Notice 123")
BARE = Fact("fine", "Letter", "Goes as a letter.")


@pytest.fixture
def why(qtbot: QtBot) -> WhyColumn:
    made = WhyColumn("Why")
    qtbot.addWidget(made)
    made.show()
    return made


def facts(why: WhyColumn) -> list[QWidget]:
    layout = why.layout()
    assert layout is not None
    return [item.widget() for at in range(layout.count()) if (item := layout.itemAt(at)) is not None]


def test_a_fact_shows_only_the_parts_it_has(why: WhyColumn) -> None:
    why.show_facts([FULL, BARE])
    assert [texts(fact) for fact in facts(why)] == [
        ["Over one ounce", "It takes two stamps.", "Put another one on.", "Notice 123"],
        ["Letter", "Goes as a letter."],
    ]


def test_the_severity_of_a_fact_is_read_aloud_too(why: WhyColumn) -> None:
    why.show_facts([FULL, BARE])
    assert [fact.accessibleName() for fact in facts(why)] == [
        "look: Over one ounce. It takes two stamps. Put another one on.",
        "fine: Letter. Goes as a letter.",
    ]
    assert [fact.findChildren(MarkDot)[0].kind for fact in facts(why)] == ["look", "fine"]


def test_showing_the_same_facts_again_creates_no_widgets(why: WhyColumn) -> None:
    why.show_facts([FULL, BARE])
    before = facts(why)
    why.show_facts([FULL, BARE])
    assert facts(why) == before
    why.show_facts([BARE])
    assert facts(why) != before
    assert len(facts(why)) == 1
    why.show_facts([])
    assert facts(why) == []


def test_text_from_buyers_is_not_markup(why: WhyColumn) -> None:
    why.show_facts([Fact("note", "<b>bold</b>", "<img src=x>")])
    labels = facts(why)[0].findChildren(QLabel)
    assert {label.textFormat() for label in labels} == {Qt.TextFormat.PlainText}
    assert labels[0].text() == "<b>bold</b>"


# --- costs


@pytest.fixture
def costs(qtbot: QtBot) -> CostLines:
    made = CostLines("Costs")
    qtbot.addWidget(made)
    made.resize(300, 200)
    made.show()
    return made


def test_amounts_are_aligned_right(qtbot: QtBot, costs: CostLines) -> None:
    costs.show_lines([("Postage", "0.82", False), ("Margin", "12.40", True)])
    QApplication.processEvents()  # the layout places what is new with the next turn of the loop
    amounts = [label for label in costs.findChildren(QLabel) if label.text() in ("0.82", "12.40")]
    assert len({label.geometry().right() for label in amounts}) == 1
    assert amounts[0].geometry().top() < amounts[1].geometry().top()


def test_only_the_strong_line_is_in_ink(costs: CostLines) -> None:
    costs.show_lines([("Postage", "0.82", False), ("Margin", "12.40", True)])
    words = {label.text(): label.role for label in costs.findChildren(Inked)}
    assert (words["Postage"], words["Margin"]) == ("soft_ink", "ink")


def test_removed_lines_are_not_shown(costs: CostLines) -> None:
    costs.show_lines([("Postage", "0.82", False), ("Margin", "12.40", True)])
    costs.show_lines([("Postage", "1.11", False)])
    QApplication.processEvents()
    assert texts(costs) == ["Postage", "1.11"]
    costs.show_lines([])
    assert texts(costs) == []


# --- cards


def test_a_card_has_a_name_and_a_heading_in_capitals(qtbot: QtBot) -> None:
    card = Card("Write on the package", "Write on the package")
    qtbot.addWidget(card)
    (heading,) = card.findChildren(Heading)
    assert (card.accessibleName(), heading.text()) == ("Write on the package", "Write on the package")
    assert heading.font().capitalization() == heading.font().Capitalization.AllUppercase
    bare = Card("Bare")
    qtbot.addWidget(bare)
    assert bare.findChildren(Heading) == []


def test_a_card_is_distinct_from_the_paper(qtbot: QtBot) -> None:
    card = Card("Card")
    qtbot.addWidget(card)
    card.resize(80, 60)
    choose_scheme("light")
    image = grabbed(card)
    assert image.pixelColor(40, 30).name() == LIGHT.card.lower()
    assert image.pixelColor(0, 0).name() == LIGHT.paper.lower()
