from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.domain.money import Money
from desk.session.bench.piece_page import size_hints
from desk.session.money.cost_list import cost_list
from desk.session.papers.hand_over import hand_everything_over
from desk.session.pile.mailing_date import post_on
from desk.session.words.figures import sum_in_words
from desk.ui.bridge import Desk
from desk.ui.costs.pile_page import POSTAGE
from desk.ui.costs.view import CostsView
from desk.ui.kit.table import ACCESSIBLE, BESIDE
from tests.ui.conftest import ON

pytestmark = pytest.mark.screen.with_args(CostsView)


def cents(text: str) -> int:
    return Money.of(text.replace("$", "")).minor


def test_without_a_weighed_piece_there_are_no_costs(view: CostsView) -> None:
    assert view.pile.nothing.isVisible()
    assert view.pile.foot.text() == ""


def test_every_row_and_the_totals_add_up(view: CostsView, desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    rows = view.pile.model.rows
    assert len(rows) > 40
    for _, _, charged, refund, postage, materials, margin, _ in rows:
        assert cents(charged) - cents(refund) - cents(postage) - cents(materials) == cents(margin)
    margin = sum_in_words(Money(sum(cents(row[6]) for row in rows)).amount, "USD")
    assert view.pile.foot.text().startswith(f"{len(rows)} pieces: ")
    assert f"margin {margin}." in view.pile.foot.text()
    asked = sum_in_words(cost_list(desk.pile).asked.amount, "USD")  # the demo has a request nobody answered yet
    assert f", refunds {asked} ({asked} requested), " in view.pile.foot.text()
    ages = "Includes prices that may be out of date (valid through October 3, 2026)."
    assert view.pile.foot.text().endswith(f". {ages} {len(desk.pile.verdicts) - len(rows)} more have no postage yet.")


def test_a_price_past_its_list_shows_the_last_day_beside_it(
    view: CostsView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    past = {v.case.number for v in desk.pile.verdicts.values() if v.offer and v.offer.chart.is_past(ON)}
    shown = {view.pile.model.rows[at][0]: remark for at, remark in view.pile.model.remarks.items()}
    assert shown.keys() == past
    newer = "Oct 3", "price list of July 12, 2026, valid through October 3, 2026"
    assert set(shown.values()) == {newer}
    cell = view.pile.model.index(next(at for at, remark in view.pile.model.remarks.items() if remark == newer), POSTAGE)
    assert cell.data(BESIDE) == "Oct 3"
    assert cell.data(ACCESSIBLE) == f"{cell.data()}, {newer[1]}"
    assert view.pile.model.index(cell.row(), POSTAGE + 1).data(BESIDE) is None


def test_losses_are_named_and_can_be_shown_alone(qtbot: QtBot, view: CostsView, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    every = view.pile.model.rows
    losing = [row for row in every if cents(row[6]) < 0]
    assert losing
    assert [row for row in every if row[7] == "loss"] == losing
    view.arrive()
    qtbot.keyClick(view.pile.table, Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier)
    assert list(view.pile.model.rows) == losing
    qtbot.keyClick(view.pile.table, Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier)
    assert view.pile.model.rows == every


def test_a_stopped_piece_without_a_service_has_no_costs(desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    found = cost_list(desk.pile)
    without = {v.case.key for v in desk.pile.verdicts.values() if v.offer is None}
    assert without
    assert not without & {row.number for row in found.rows}
    assert found.open == len(without)


def test_sizes_for_the_next_order_of_mailers_are_calculated_on_request(
    qtbot: QtBot, view: CostsView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    assert view.pile.hints.isHidden()
    view.arrive()
    found = size_hints(desk.pile.batch(), desk.pile.terms)
    qtbot.keyClick(view.pile.table, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
    assert view.pile.hints.isVisible()
    lines = view.pile.hints.text().splitlines()
    if found:
        assert lines[1] == (
            f"{found[0].mailer}: {found[0].words} would save ${found[0].saves.text()} on {found[0].pieces} of these pieces"
        )
    else:
        assert lines == ["No other mailer size would save anything on this batch."]
    qtbot.keyClick(view.pile.table, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
    assert view.pile.hints.isHidden()


def test_the_pile_leaves_out_what_was_handed_over_for_an_earlier_day(
    qtbot: QtBot, view: CostsView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    before = len(view.pile.model.rows)
    assert (done := desk.do(hand_everything_over, desk.pile)) is not None
    assert len(view.pile.model.rows) == before
    desk.do(post_on, desk.pile.terms.on + timedelta(days=1))
    assert len(view.pile.model.rows) == before - done.count


def test_enter_opens_the_piece_of_a_row_on_the_bench(
    qtbot: QtBot, view: CostsView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    opened: list[int] = []
    desk.piece_opened.connect(opened.append)
    view.pile.table.selectRow(0)
    qtbot.keyClick(view.pile.table, Qt.Key.Key_Return)
    assert opened == [desk.pile.find(view.pile.model.rows[0][0])]
