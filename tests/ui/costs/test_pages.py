"""The other pages of Costs: money over time and what to charge, from handed over packages."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from desk.costs.charge_advice import advice
from desk.costs.charge_table import flat_or_table
from desk.costs.paid_difference import Cause, Reason
from desk.domain.money import Money
from desk.domain.status import PieceStatus
from desk.session.lists import ledger_list
from desk.session.lists.shipped_list import shipped_headers
from desk.session.money.charging import ABROAD, HOME, GroupAdvice
from desk.session.money.paid import enter_paid, match_text
from desk.session.papers.hand_over import hand_pieces_over, stamp_all
from desk.ui.bridge import Desk
from desk.ui.common_keys import NEXT_PAGE, PAGE_BEFORE
from desk.ui.costs.charge_page import WAYS
from desk.ui.costs.charge_words import charge_words
from desk.ui.costs.view import CHARGE, PAID, PILE, TIME, CostsView
from tests.ui.screens import show_screen


@pytest.fixture
def left(weighed_desk: Desk) -> Desk:
    """A desk that has handed over everything ready."""
    weighed_desk.do(stamp_all, weighed_desk.pile)
    ready = [
        n for n, one in weighed_desk.pile.verdicts.items() if one.status in (PieceStatus.READY, PieceStatus.LABELED)
    ]
    weighed_desk.do(hand_pieces_over, weighed_desk.pile, ready)
    return weighed_desk


pytestmark = pytest.mark.screen(CostsView, desk="left")


def test_two_keys_cycle_through_the_pages_in_both_directions(view: CostsView) -> None:
    run = {act.keys: act.do for act in view.acts() if act.do}
    for page in (view.time, view.paid, view.after, view.charge, view.stock_of, view.pictures, view.fees, view.pile):
        run[NEXT_PAGE]()
        assert view.stack.currentWidget() is page
    for page in (view.fees, view.pictures, view.stock_of, view.charge, view.after, view.paid):
        run[PAGE_BEFORE]()
        assert view.stack.currentWidget() is page


def test_the_totals_over_time_equal_those_of_the_pieces(view: CostsView, left: Desk) -> None:
    view.open_page(TIME)
    gone = [one for one in left.pile.verdicts.values() if one.case.handed_over]
    (row,) = view.time.model.rows
    assert row[1] == str(len(gone))
    charged = sum(one.money.charged.minor for one in gone if one.money)
    assert row[2] == f"${Money(charged).text()}"
    assert row[7] == "postage estimated"
    assert "(estimated), margin" in view.time.foot.text()


def test_the_sums_say_how_much_of_the_postage_is_an_estimate(view: CostsView, left: Desk) -> None:
    gone = [one.case.key.reference for one in left.pile.verdicts.values() if one.case.handed_over]
    said = []
    for some in (gone[:1], gone[1:]):
        left.do(enter_paid, match_text(left.sitting, "order,paid\n" + "".join(f"{one},1.00\n" for one in some)))
        view.open_page(TIME)
        view.time.refresh()
        (row,) = view.time.model.rows
        said.append((row[7], "estimated" in view.time.foot.text()))
    assert said == [("postage partly estimated", True), ("", False)]
    for place in range(view.time.by.count()):
        view.time.by.setCurrentIndex(place)
        assert sum(int(row[1]) for row in view.time.model.rows) >= len(gone)


def test_undoing_the_hand_over_clears_the_totals(view: CostsView, left: Desk) -> None:
    view.open_page(TIME)
    left.undo()
    assert {row[2] for row in view.time.model.rows} <= {"$0.00"}


def test_the_year_is_saved_in_the_background(qtbot: QtBot, view: CostsView, tmp_path) -> None:
    view.open_page(TIME)
    with qtbot.waitSignal(view.desk.happened):
        view.time.files.write(tmp_path / "year.xlsx", view.time.year.currentData())
    assert (tmp_path / "year.xlsx").stat().st_size > 5000


@pytest.mark.parametrize(("is_late", "words"), [(False, "Stopped. No file was saved."), (True, "Saved: totals.csv")])
def test_stopping_reports_whether_the_file_was_saved(
    qtbot: QtBot, view: CostsView, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, is_late: bool, words: str
) -> None:
    """Stop is pressed while the sums are read, or when the file is there already."""
    name, file, files = "write_whole" if is_late else "total_rows", tmp_path / "totals.csv", view.time.files
    work = getattr(ledger_list, name)

    def stopped(*facts: object) -> object:
        done = work(*facts)
        files.cancel()
        return done

    monkeypatch.setattr(ledger_list, name, stopped)
    with qtbot.waitSignal(view.desk.happened) as reported:
        files.write_totals(file, 2026)
    assert reported.args[0].words == words
    assert file.exists() is is_late


def test_a_year_that_cannot_be_written_says_why_and_what_to_do(qtbot: QtBot, view: CostsView, tmp_path: Path) -> None:
    view.open_page(TIME)
    file = tmp_path / "no such folder" / "year.xlsx"
    with qtbot.waitSignal(view.desk.happened) as reported:
        view.time.files.write(file, view.time.year.currentData())
    assert reported.args[0].mark == "stop"
    assert reported.args[0].words == f"Can't write {file}: no such file or directory. Choose another folder."


def test_a_typed_charge_says_how_many_orders_lose_money(view: CostsView) -> None:
    view.open_page(CHARGE)
    page = view.charge
    one = page.advice[0].advice
    for charge, losing in ((one.costs[-1], 0), (one.costs[0] - 1, len(one.costs))):
        page.charge.setText(Money(charge).text())
        page.show_charge()
        assert f" {losing} of {len(one.costs)} orders lose money." in page.sure.text()
    assert page.curve.accessibleDescription()


def test_a_typed_charge_stays_until_another_group_is_chosen(qtbot: QtBot, view: CostsView) -> None:
    view.open_page(CHARGE)
    page = view.charge
    filled = page.charge.text()
    page.charge.selectAll()
    qtbot.keyClicks(page.charge, "7.77")
    page.refresh()
    assert page.charge.text() == "7.77"
    page.advice.append(replace(page.advice[0], advice=replace(page.advice[0].advice, group="elsewhere")))
    page.group.addItem("elsewhere")
    page.group.setCurrentText("elsewhere")
    assert page.charge.text() == filled != "7.77"


@pytest.mark.parametrize("text", ["", "x", "1.005", "-1", "1e9"])
def test_an_invalid_amount_gets_a_sentence(view: CostsView, text: str) -> None:
    view.open_page(CHARGE)
    view.charge.charge.setText(text)
    view.charge.show_charge()
    assert view.charge.fault.text().startswith("Can't read")


def paste(page, text: str) -> None:
    QGuiApplication.clipboard().setText(text)
    page.paste_list()


def test_a_pasted_list_is_matched_shown_and_entered(view: CostsView, left: Desk) -> None:
    view.open_page(PAID)
    gone = next(one for one in left.pile.verdicts.values() if one.case.handed_over and not one.stamps)
    paste(view.paid, f"order\tpaid\n{gone.case.key.order}\t99.90\n9999\t1.00\n")
    assert [row[0] for row in view.paid.rows.rows] == ["9999", gone.case.number]
    assert view.paid.words.text() == "1 row matched to a package, 1 not."
    view.paid.enter_rows()
    ((service, _, _, count, difference, _),) = view.paid.differences.groups.rows
    assert service
    assert (count, difference) == ("1", f"${9990 / 100 - gone.money.postage.minor / 100:.2f}")
    left.undo()
    view.paid.refresh()
    assert view.paid.differences.groups.rows == ()


def test_a_list_that_cannot_be_read_says_why(view: CostsView) -> None:
    view.open_page(PAID)
    paste(view.paid, "order\tpaid\n1041\tseven\n")
    assert "seven" in view.paid.fault.text()
    assert not view.paid.enter.isEnabled()


def test_the_shipped_list_contains_handed_over_orders(view: CostsView, left: Desk, tmp_path) -> None:
    view.paid.save_shipped(tmp_path / "shipped.csv")
    lines = (tmp_path / "shipped.csv").read_text().splitlines()
    assert lines[0] == "order,tracking,mailed"
    assert len(lines) == 1 + sum(one.case.handed_over for one in left.pile.verdicts.values())


def test_nothing_handed_over_says_so(qtbot: QtBot, empty_desk: Desk) -> None:
    view = CostsView(empty_desk)
    qtbot.addWidget(view)
    view.show()
    for title, page in ((TIME, view.time), (CHARGE, view.charge)):
        view.open_page(title)
        assert page.nothing.isVisible()
    view.open_page(PILE)
    assert view.pile.nothing.isVisible()


def test_overcharged_orders_are_listed_only_once_a_limit_is_set(qtbot: QtBot, view: CostsView) -> None:
    view.open_page(CHARGE)
    assert view.charge.overpaid.isHidden()
    view.charge.over.setText("0.01")
    view.charge.set_over()
    assert view.charge.overpaid.text().startswith("Overcharged, the most first: ")
    view.charge.over.setText("lots")
    with qtbot.waitSignal(view.desk.happened) as reported:
        view.charge.set_over()
    assert reported.args[0].words == "Can't read \u201clots\u201d as an amount over 0."
    view.charge.over.setText("")
    view.charge.set_over()
    assert view.charge.overpaid.isHidden()


def test_the_limit_for_differences_is_saved(view: CostsView) -> None:
    view.open_page(PAID)
    assert view.paid.least.text() == "0.10"
    view.paid.least.setText("$0.50")
    view.paid.set_least()
    assert view.paid.least.text() == "0.50"


def test_the_columns_of_the_shipped_list_are_saved_and_a_missing_one_is_refused(view: CostsView, left: Desk) -> None:
    view.open_page(PAID)
    number, tracking, _ = view.paid.headers.fields
    number.setText("Order ID")
    view.paid.headers.save()
    assert shipped_headers(left.sitting).order == "Order ID"
    reported: list[str] = []
    left.happened.connect(lambda event: reported.append(event.words))
    tracking.setText(" ")
    view.paid.headers.save()
    assert reported == ["Type a name for each of the three columns."]
    assert shipped_headers(left.sitting).tracking == "tracking"


def differing(view: CostsView, left: Desk) -> int:
    """Enter a paid amount far from the estimate for one letter, and return its piece."""
    piece, verdict = next(
        (n, one)
        for n, one in left.pile.verdicts.items()
        if one.case.handed_over and one.offer and one.offer.key.isdigit()
    )
    view.open_page(PAID)
    QGuiApplication.clipboard().setText(f"order\tpaid\n{verdict.case.key.order}\t99.99\n")
    view.paid.paste_list()
    view.paid.enter_rows()
    return piece


def test_the_packages_of_a_difference_are_listed_and_open_on_the_bench(view: CostsView, left: Desk) -> None:
    piece = differing(view, left)
    groups = view.paid.differences
    groups.group_table.entered_row.emit(0)
    (row,) = groups.pieces.rows
    assert (row[0], row[3]) == (left.pile.verdicts[piece].case.number, "$99.99")
    view.paid.refresh()
    assert groups.stack.currentWidget() is groups.piece_table
    opened: list[int] = []
    left.piece_opened.connect(opened.append)
    groups.piece_table.entered_row.emit(0)
    assert opened == [piece]
    QTest.keyClick(groups.piece_table, Qt.Key.Key_Escape)
    assert groups.stack.currentWidget() is groups.group_table
    groups.show_pieces()
    groups.show_groups([*groups.found, *groups.found])
    assert groups.stack.currentWidget() is groups.group_table


def test_one_key_opens_the_list_or_the_zone_chart_of_a_difference(view: CostsView, left: Desk) -> None:
    piece = differing(view, left)
    asked: list[tuple[str, str]] = []
    left.screen_asked.connect(lambda *where: asked.append(where))
    act = next(one.do for one in view.acts() if one.keys == "Ctrl+Shift+O")
    act()
    offer = left.pile.verdicts[piece].offer
    assert asked == [("Setup", f"Price lists/{offer.service} {offer.chart.effective.isoformat()}")]
    groups = view.paid.differences
    groups.show_groups([replace(groups.found[0], causes=(Cause(Reason.ZONE_OFF, "5"),))])
    assert groups.fix.accessibleName() == "Open the zone chart"
    act()
    assert asked[1] == ("Setup", "Price lists/zone chart")


def test_the_charge_table_has_a_row_for_each_kind_and_the_flat_charge_last(view: CostsView) -> None:
    view.open_page(CHARGE)
    page = view.charge
    page.listed.setCurrentIndex(page.listed.findText(WAYS))
    rows = page.model.rows
    assert rows[-1][0] == "flat"
    assert sum(int(row[1]) for row in rows[:-1]) == int(rows[-1][1])
    assert rows[-1][2] == f"${page.advice[0].ways.flat.text()}"
    assert "Your costs differ from a flat charge by $" in page.ways.text()
    assert "to each order" in page.ways.text()


@pytest.mark.parametrize(
    ("group", "products", "words"),
    [
        (HOME, 40, "40 of your products, mailed to near and far zones. $1.00 covers 9 in 10 packages"),
        (HOME, 1, "one of your products, mailed to near and far zones. $1.00 covers 9 in 10 packages"),
        (ABROAD, 2, "2 of your products, mailed to several countries. $1.00 covers 9 in 10 packages"),
        (ABROAD, None, "2 orders: $1.00 covers 9 in 10 orders"),
    ],
)
def test_an_estimated_charge_says_what_it_is_estimated_from(group: str, products: int | None, words: str) -> None:
    costs = [Money(100)] * 2
    one = GroupAdvice(advice(group, costs), 2, flat_or_table(("zones 1 to 4", cost) for cost in costs), products)
    assert words in charge_words(one)


def test_before_any_hand_over_the_charge_is_from_the_catalog(qtbot: QtBot, weighed_desk: Desk) -> None:
    view = show_screen(qtbot, CostsView(weighed_desk))
    view.open_page(CHARGE)
    assert view.charge.what.text().startswith("No orders so far, so this is an estimate: ")
    assert "interval" not in view.charge.sure.text()
    assert "From 30 orders on, your own orders replace this estimate." in view.charge.sure.text()
