"""The pages beside the pile: money over time and what to charge, from what was handed over."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from desk.domain.money import Money
from desk.domain.stands import Stand
from desk.session.papers.hand_over import hand_pieces_over, stamp_all
from desk.ui.bridge import Desk
from desk.ui.costs.view import CHARGE, PILE, TIME, CostsView


@pytest.fixture
def left(weighed_desk: Desk) -> Desk:
    """A desk that has handed over everything ready."""
    weighed_desk.do(stamp_all, weighed_desk.pile)
    ready = [n for n, one in weighed_desk.pile.verdicts.items() if one.stands in (Stand.READY, Stand.LABELED)]
    weighed_desk.do(hand_pieces_over, weighed_desk.pile, ready)
    return weighed_desk


@pytest.fixture
def view(qtbot: QtBot, left: Desk) -> CostsView:
    made = CostsView(left)
    qtbot.addWidget(made)
    made.add_keys()
    made.show()
    return made


def test_each_key_opens_its_page(qtbot: QtBot, view: CostsView) -> None:
    for key, page in (("T", view.time), ("C", view.charge), ("P", view.pile)):
        qtbot.keyClicks(view, key)
        assert view.stack.currentWidget() is page


def test_the_sums_over_time_are_those_of_the_pieces(view: CostsView, left: Desk) -> None:
    view.open_page(TIME)
    gone = [one for one in left.pile.verdicts.values() if one.case.handed_over]
    (row,) = view.time.model.rows
    assert row[1] == str(len(gone))
    charged = sum(one.money.charged.minor for one in gone if one.money)
    assert row[2] == f"${Money(charged).text()}"
    assert row[7] == "postage partly estimated"
    for place in range(view.time.by.count()):
        view.time.by.setCurrentIndex(place)
        assert sum(int(row[1]) for row in view.time.model.rows) >= len(gone)


def test_undo_of_the_hand_over_empties_the_sums(view: CostsView, left: Desk) -> None:
    view.open_page(TIME)
    left.undo()
    assert {row[2] for row in view.time.model.rows} <= {"$0.00"}


def test_the_year_is_saved_in_the_background(qtbot: QtBot, view: CostsView, tmp_path) -> None:
    view.open_page(TIME)
    with qtbot.waitSignal(view.desk.happened):
        view.time.write(tmp_path / "year.xlsx", view.time.year.currentData())
    assert (tmp_path / "year.xlsx").stat().st_size > 5000


def test_a_typed_charge_says_how_many_orders_lose_money(view: CostsView) -> None:
    view.open_page(CHARGE)
    page = view.charge
    one = page.advice[0]
    for charge, losing in ((one.costs[-1], 0), (one.costs[0] - 1, len(one.costs))):
        page.charge.setText(Money(charge).text())
        page.show_charge()
        assert f" {losing} of {len(one.costs)} orders lose money." in page.sure.text()
    assert page.curve.accessibleDescription()


@pytest.mark.parametrize("text", ["", "x", "1.005", "-1", "1e9"])
def test_what_is_no_amount_gets_a_sentence(view: CostsView, text: str) -> None:
    view.open_page(CHARGE)
    view.charge.charge.setText(text)
    view.charge.show_charge()
    assert view.charge.fault.text().startswith("Can't read")


def test_nothing_handed_over_says_so(qtbot: QtBot, empty_desk: Desk) -> None:
    view = CostsView(empty_desk)
    qtbot.addWidget(view)
    view.show()
    for title, page in ((TIME, view.time), (CHARGE, view.charge)):
        view.open_page(title)
        assert page.nothing.isVisible()
    view.open_page(PILE)
    assert view.pile.nothing.isVisible()
