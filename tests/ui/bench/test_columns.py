"""The columns of the bench and its card of stamps: what they show of one piece, and of none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from desk.session.bench.bench_view import BenchView, bench_view
from desk.ui.bench.columns import PieceColumn, WhyAndCosts, scrolled
from desk.ui.bench.model import LastRow, NextRow
from desk.ui.bench.stamps_card import MOST_DRAWN, StampsCard
from desk.ui.bridge import Desk
from desk.ui.kit.card import Heading

View = Callable[[str], BenchView]


@pytest.fixture
def view_of(weighed_desk: Desk) -> View:
    def view(number: str) -> BenchView:
        piece = weighed_desk.pile.find(number)
        assert piece is not None
        return bench_view(weighed_desk.pile.verdicts[piece], weighed_desk.pile.terms)

    return view


def headings(widget: QWidget) -> set[str]:
    return {heading.text() for heading in widget.findChildren(Heading) if heading.isVisibleTo(widget)}


# --- next and last


@pytest.fixture
def column(qtbot: QtBot) -> PieceColumn:
    made = PieceColumn()
    qtbot.addWidget(made)
    made.show()
    return made


SOON = [NextRow(7, "letter", "1043", "Wren, Aldermoor ME")]
DONE = [LastRow(9, "1045", "2 oz", "fine", "ready")]


@pytest.mark.parametrize(
    ("soon", "done", "has_orders", "words"),
    [
        ([], [], False, "No orders yet. Import orders on the Batch screen."),
        ([], DONE, True, "Everything is weighed."),
        (SOON, [], True, None),
        (SOON, DONE, True, None),
    ],
)
def test_empty_lists_say_why(
    column: PieceColumn, soon: list[NextRow], done: list[LastRow], has_orders: bool, words: str | None
) -> None:
    column.next.show_rows(soon)
    column.last.show_rows(done)
    column.show_state(has_orders=has_orders, step="Weighed 1045" if done else "")
    assert column.nothing_next.isHidden() is (words is None)
    if words is not None:
        assert column.nothing_next.text() == words
    assert column.take_back.isHidden() is not bool(done)
    assert ("Last" in headings(column)) is bool(done)


@pytest.mark.parametrize("step", ["Weighed 1043", "Orders imported", ""])
def test_the_step_to_undo_is_named(column: PieceColumn, step: str) -> None:
    column.last.show_rows(DONE)
    column.show_state(has_orders=True, step=step)
    assert (column.step.text(), column.step.isHidden()) == (step, not step)
    assert column.take_back.isHidden() is not bool(step)
    assert column.take_back.accessibleName() == f"Undo: {step}"


def test_the_actions_of_the_column_show_their_keys(column: PieceColumn) -> None:
    assert [word.key for word in (column.find_word, column.go_next, column.take_back)] == ["F", "N", "Z"]
    assert (column.next.accessibleName(), column.last.accessibleName()) == ("Next to weigh", "Weighed last")


# --- why and costs


@pytest.fixture
def side(qtbot: QtBot) -> WhyAndCosts:
    made = WhyAndCosts()
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.mark.parametrize("number", ["1041", "1043", "1049"])
def test_all_reasons_and_costs_of_a_piece_are_shown(side: WhyAndCosts, view_of: View, number: str) -> None:
    view = view_of(number)
    side.show_piece(view)
    assert [fact.head for fact in side.why.facts] == [why.head for why in view.why]
    assert [fact.source for fact in side.why.facts] == [why.source for why in view.why]
    assert list(side.costs.lines) == [cost.line for cost in view.costs]
    assert headings(side) == {"In the package", "Why", "Costs"}


def test_without_a_piece_the_column_is_empty(side: WhyAndCosts, view_of: View) -> None:
    side.show_piece(view_of("1043"))
    side.show_piece(None)
    assert (side.why.facts, side.costs.lines, headings(side)) == ((), (), set())
    assert (side.seen.isHidden(), side.aside.isHidden()) == (True, True)


@pytest.mark.parametrize(
    ("looks", "hidden"), [((), True), (("no-weight",), True), (("near-step",), False), (("no-weight", "x"), False)]
)
def test_the_key_for_right_is_offered_when_an_issue_can_be_answered(
    side: WhyAndCosts, view_of: View, looks: tuple[str, ...], hidden: bool
) -> None:
    side.show_piece(replace(view_of("1043"), looks=looks))
    assert side.seen.isHidden() is hidden


@pytest.mark.parametrize(("looks", "hidden"), [(("lighter-than-contents",), True), (("heavier-than-contents",), False)])
def test_extra_packing_is_offered_for_a_heavy_package(
    side: WhyAndCosts, view_of: View, looks: tuple[str, ...], hidden: bool
) -> None:
    side.show_piece(replace(view_of("1043"), looks=looks))
    assert side.packing.isHidden() is hidden


def test_only_settings_can_be_checked_and_actions_cannot(side: WhyAndCosts) -> None:
    words = (side.seen, side.aside, side.goes_on, side.sounds)
    assert [word.isCheckable() for word in words] == [False, False, True, True]


# --- stamps


@pytest.fixture
def stamps(qtbot: QtBot) -> StampsCard:
    made = StampsCard()
    qtbot.addWidget(made)
    made.show()
    return made


def test_without_a_billed_weight_there_is_no_stamps_card(stamps: StampsCard, view_of: View) -> None:
    stamps.show_piece(view_of("1043"))
    assert not stamps.isHidden()
    stamps.show_piece(replace(view_of("1043"), figure=""))
    assert stamps.isHidden()
    stamps.show_piece(None)
    assert stamps.isHidden()


@pytest.mark.parametrize("count", [1, MOST_DRAWN, MOST_DRAWN + 3])
def test_no_more_stamps_are_drawn_than_there_is_room_for(stamps: StampsCard, view_of: View, count: int) -> None:
    stamps.show_piece(replace(view_of("1043"), stamps=(("1", "Forever"),) * count))
    assert len(stamps.stamps._stamps) == min(count, MOST_DRAWN)
    assert stamps.stamps.accessibleDescription().count("Forever") == min(count, MOST_DRAWN)


@pytest.mark.parametrize(
    ("changes", "heading", "strong"),
    [
        ({"stamp_words": "2 Forever", "service": "letter, stamped"}, "Stamps", "Letter, stamped"),
        ({"stamp_words": "", "service": "ground parcel", "stamps": ()}, "Postage", "Ground parcel"),
        ({"stamp_words": "", "service": "", "stamps": ()}, "Postage", "No service can carry it."),
    ],
)
def test_the_payment_is_stated_in_words(
    stamps: StampsCard, view_of: View, changes: dict[str, object], heading: str, strong: str
) -> None:
    stamps.show_piece(replace(view_of("1043"), **changes))  # type: ignore[arg-type]
    assert (stamps.heading.text(), stamps.strong.text()) == (heading, strong)
    assert stamps.soft.isHidden() is not bool(changes["stamp_words"])
    assert stamps.stamps.isHidden() is ("stamps" in changes)


@pytest.mark.parametrize(("words", "hidden"), [("2 Forever left for 14 pieces.", False), ("", True)])
def test_stamps_that_run_low_are_reported_on_one_line(stamps: StampsCard, words: str, hidden: bool) -> None:
    stamps.show_low("before")
    stamps.show_low(words)
    assert (stamps.low.text(), stamps.low.isHidden()) == (words, hidden)


# --- room


def test_a_column_scrolls_only_vertically_and_takes_no_focus(qtbot: QtBot) -> None:
    inside = QWidget()
    inside.setMinimumSize(500, 2000)
    area = scrolled(inside, "Why and costs")
    qtbot.addWidget(area)
    area.resize(200, 300)
    area.show()
    assert area.verticalScrollBar().maximum() > 0
    assert not area.horizontalScrollBar().isVisible()
    assert area.accessibleName() == "Why and costs"
    assert area.focusPolicy() is area.focusPolicy().NoFocus
