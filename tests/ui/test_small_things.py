"""Small obstacles, each tried as a user would: typed, clicked, and read from the screen."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.app.wiring import screens_of, words
from desk.domain.finding import Severity
from desk.domain.money import Money
from desk.session.bench.bench_view import bench_view
from desk.session.lists.postage_list import save_postage_list
from desk.session.papers.hand_over import hand_everything_over
from desk.session.pile.mailing_date import post_on
from desk.session.verdict.price_age import age_of
from desk.ui.batch.view import BatchView
from desk.ui.bench.view import BenchScreen
from desk.ui.bridge import Desk, Event
from desk.ui.costs.view import CostsView
from desk.ui.kit.table import PlainTable
from desk.ui.setup.records import RecordsPage
from desk.ui.setup.view import SetupView
from desk.ui.window import Window


def windowed(qtbot: QtBot, desk: Desk) -> Window:
    made = Window(words())
    qtbot.addWidget(made)
    made.seat(desk, screens_of(desk))
    made.resize(1366, 768)
    made.show()
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    return made


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Iterator[Window]:
    yield windowed(qtbot, desk)
    desk.closing.emit()


@pytest.fixture
def weighed(qtbot: QtBot, weighed_desk: Desk) -> Iterator[Window]:
    yield windowed(qtbot, weighed_desk)
    weighed_desk.closing.emit()


def press(qtbot: QtBot, window: Window, text: str, *, enter: bool = False) -> None:
    for one in text:
        qtbot.keyClicks(QApplication.focusWidget() or window, one)
    if enter:
        qtbot.keyClick(QApplication.focusWidget() or window, Qt.Key.Key_Return)


def bench_of(window: Window) -> BenchScreen:
    screen = window.screen_of("Bench")
    assert isinstance(screen, BenchScreen)
    return screen


def batch_of(window: Window) -> BatchView:
    screen = window.screen_of("Batch")
    assert isinstance(screen, BatchView)
    return screen


# --- typed weights


@pytest.mark.parametrize(
    ("typed", "echo", "bills"),
    [
        ("1lb3oz", "1 lb 3 oz", "2 lb"),
        ("1 lb 3", "1 lb 3 oz", "2 lb"),
        ("19.5", "19.5 oz", "2 lb"),
        ("540g", "540 g", "2 lb"),
        ("3 1/2 oz", "3.5 oz", "4 oz"),
    ],
)
def test_a_typed_weight_is_shown_in_its_own_unit(
    qtbot: QtBot, window: Window, typed: str, echo: str, bills: str
) -> None:
    window.open_screen("Bench")
    press(qtbot, window, "1060", enter=True)  # a notebook in a padded mailer or box
    press(qtbot, window, "t" + typed, enter=True)
    figure = bench_of(window).write.figure.figure
    assert (figure.reading, figure.ounces) == (echo, bills)


def test_an_unreadable_weight_clears_older_messages(qtbot: QtBot, window: Window) -> None:
    window.open_screen("Bench")
    press(qtbot, window, "1060", enter=True)
    window.tell(Event("Mailer saved: A7 envelope"))
    press(qtbot, window, "t3 apples", enter=True)
    assert bench_of(window).weight_field.fault.text().startswith("Can't read")
    assert window._message.words == ""


def test_a_typed_tenth_of_an_ounce_stays_exact_in_the_list_of_postage(weighed: Window, tmp_path: Path) -> None:
    pile = weighed.desk.pile  # type: ignore[union-attr]
    save_postage_list(pile.batch(), pile.terms, tmp_path / "list.csv")
    rows = list(csv.DictReader((tmp_path / "list.csv").read_text(encoding="utf-8").splitlines()))
    assert rows
    for row in rows:
        shown = pile.verdicts[pile.find(row["reference"])].case.weighing.shown  # type: ignore[index,union-attr]
        assert "E" not in row["ounces"]
        if shown.unit in ("oz", "lb-oz"):
            assert int(row["pounds"]) * 16 + float(row["ounces"]) == pytest.approx(float(shown.value), abs=1e-9)


# --- Setup


@pytest.mark.parametrize("typed", ["USA", "US", "United States", "usa", "U.S.A."])
def test_the_country_of_the_sender_is_read_as_on_the_customs_screen(window: Window, typed: str) -> None:
    window.open_page("Setup", "Sender")
    page = window.screen_of("Setup").page  # type: ignore[attr-defined]
    field = page.form.fields["country"]
    field.put(typed)
    field.commit()
    assert window.desk.pile.terms.shop.sender.country == "US"  # type: ignore[union-attr]


@pytest.mark.parametrize(("code", "is_said"), [("4820", True), ("482010", False)])
def test_an_hs_code_of_four_digits_is_reported_where_it_is_typed(window: Window, code: str, *, is_said: bool) -> None:
    window.open_page("Setup", "Products")
    setup = window.screen_of("Setup")
    assert isinstance(setup, SetupView)
    assert isinstance(setup.page, RecordsPage)
    field = setup.page.form.fields["hs"]
    field.put(code)
    field.commit()
    assert bool(field.fault.label.text()) is is_said  # type: ignore[attr-defined]


# --- lists, messages, days


@pytest.mark.parametrize("title", ["Batch", "Hand-over", "Costs"])
def test_enter_opens_the_piece_of_a_row(qtbot: QtBot, weighed: Window, title: str) -> None:
    weighed.open_screen(title)
    table = next(one for one in weighed.screen_of(title).findChildren(PlainTable) if one.isVisible())
    table.setFocus()
    table.selectRow(1)
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert weighed.screen_open == "Bench"
    assert bench_of(weighed).piece is not None


def test_the_search_field_shows_its_whole_hint(window: Window) -> None:
    window.open_screen("Batch")
    search = batch_of(window).list.bar.search
    room = search.width() - 2 * search.textMargins().left() - 8
    assert QFontMetrics(search.font()).horizontalAdvance(search.placeholderText()) <= room
    window.resize(1024, 640)
    QApplication.processEvents()
    assert QFontMetrics(search.font()).horizontalAdvance(search.placeholderText()) <= search.width() - 8


def test_the_import_preview_lists_its_own_keys(
    qtbot: QtBot, window: Window, resources: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    batch = batch_of(window)
    window.open_screen("Batch")
    batch.look_into(resources / "demo" / "orders.csv")
    qtbot.waitUntil(lambda: batch.importing.outcome is not None)
    window.overlays.toggle_keys()
    shown = [act.words for _, acts in window.overlays.keys.shown() for act in acts]
    assert "Next status" not in shown
    assert any(one.startswith("Import") for one in shown)


def test_a_message_about_one_piece_is_not_shown_with_the_next(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = [100.0]
    monkeypatch.setattr("desk.ui.kit.message.time.monotonic", lambda: now[0])
    window.open_screen("Bench")
    press(qtbot, window, "1041", enter=True)
    press(qtbot, window, "b")
    window.tell(Event("Something about 1041", Severity.FINE))
    for number in ("1042", "1043"):
        now[0] += 3
        press(qtbot, window, number, enter=True)
        press(qtbot, window, "t0.8", enter=True)
        assert "1041" not in window._message.words


def test_costs_are_only_of_this_batch(qtbot: QtBot, weighed_desk: Desk) -> None:
    window = windowed(qtbot, weighed_desk)
    costs = window.screen_of("Costs")
    assert isinstance(costs, CostsView)
    window.open_screen("Costs")
    before = len(costs.pile.model.rows)
    weighed_desk.do(hand_everything_over, weighed_desk.pile)
    assert len(costs.pile.model.rows) == before  # what left today is of this batch
    weighed_desk.do(post_on, weighed_desk.pile.terms.on + timedelta(days=1))
    weighed_desk.read_all()
    assert 0 < len(costs.pile.model.rows) < before
    weighed_desk.closing.emit()


def test_costs_show_what_stamps_overpay(weighed: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    costs = weighed.screen_of("Costs")
    assert isinstance(costs, CostsView)
    weighed.open_screen("Costs")
    pile = weighed.desk.pile  # type: ignore[union-attr]
    whole = sum(verdict.money.overpaid.minor for verdict in pile.batch().verdicts if verdict.money)
    assert ("overpaid with stamps" in costs.pile.foot.text()) is bool(whole)
    piece = pile.find("1041")
    over = replace(pile.verdicts[piece], money=replace(pile.verdicts[piece].money, overpaid=Money(7)))
    lines = [cost.line[:2] for cost in bench_view(over, pile.terms).costs]
    assert ("Overpaid with stamps (not in the margin)", "$0.07") in lines


@pytest.mark.parametrize("title", ["Batch", "Bench"])
def test_the_date_beside_a_postage_is_explained(qtbot: QtBot, weighed: Window, title: str) -> None:
    pile = weighed.desk.pile  # type: ignore[union-attr]
    old = next(piece for piece, one in pile.verdicts.items() if age_of(one.offer, pile.terms.on).short)
    weighed.open_screen(title)
    if title == "Bench":
        bench_of(weighed).does.opening.open_piece(old)
        shown_text = bench_of(weighed).side.costs.lines[0][0]
    else:
        batch = batch_of(weighed).list
        batch.table.selectRow(batch.model.place_of(old) or 0)
        shown_text = batch.many._count.text()
        QApplication.processEvents()
        assert batch.many._count.width() >= batch.many._count.sizeHint().width()
    assert "valid through October 3, 2026" in shown_text
