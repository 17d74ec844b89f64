"""The pictures: drawn in light and dark, with a sentence and a table that has the same figures."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtGui import QColor, QFont, QFontMetrics, QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.domain.places.states import STATE_NAMES
from desk.session.money import pictures
from desk.session.papers.hand_over import hand_everything_over
from desk.ui.bridge import Desk
from desk.ui.costs.pictures import bar_list, tile_map
from desk.ui.costs.pictures.page import COUNTRIES, PAID, STATES, WEIGHTS, PicturesPage
from desk.ui.costs.pictures.paid_chart import PaidChart
from desk.ui.costs.pictures.state_tiles import COLUMNS, ROWS, TILES
from desk.ui.costs.pictures.tile_map import DARK_FROM, SHADES, colors_of, shade_of
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import CHOSEN, DARK, LIGHT
from tests.ui.kit.test_palette import contrast


@pytest.fixture
def page(qtbot: QtBot, weighed_desk: Desk) -> PicturesPage:
    weighed_desk.do(hand_everything_over, weighed_desk.pile)
    return shown(qtbot, weighed_desk)


def shown(qtbot: QtBot, desk: Desk) -> PicturesPage:
    page = PicturesPage(desk)
    qtbot.addWidget(page)
    page.resize(1300, 600)
    page.refresh()
    page.show()
    return page


def choose(page: PicturesPage, name: str) -> None:
    page.which.setCurrentIndex(page.which.findText(name))


def test_every_state_has_its_own_tile() -> None:
    assert TILES.keys() == STATE_NAMES.keys()
    assert len(set(TILES.values())) == len(TILES)
    assert all(0 <= column < COLUMNS and 0 <= row < ROWS for column, row in TILES.values())


@pytest.mark.parametrize(("count", "shade"), [(0, 0), (1, 1), (10, 1), (11, 2), (30, 2), (31, 3), (60, 3), (61, 4)])
def test_a_tile_is_darker_where_more_packages_went(count: int, shade: int) -> None:
    assert shade_of(count, 100) == shade


@pytest.mark.parametrize("sheet", [LIGHT, DARK])
@pytest.mark.parametrize("shade", range(len(SHADES)))
def test_each_number_can_be_read_on_its_shade(sheet, shade: int) -> None:
    """At least 4.5 to 1 (WCAG 2.2, 1.4.3)."""
    fill, ink = colors_of(sheet, shade)
    assert contrast(fill.name(), ink.name()) >= 4.5
    assert shade < DARK_FROM or ink == QColor(sheet.card)


def test_the_map_and_its_table_have_the_packages_that_left(page: PicturesPage) -> None:
    gone = [one.case.order.address for one in page.desk.pile.verdicts.values() if one.case.handed_over]
    states = [address.region for address in gone if address.country == "US"]
    assert sum(page.map.counts.values()) == len(states)
    assert {row[0]: row[1] for row in page.model.rows} == {
        STATE_NAMES[code]: str(states.count(code)) for code in set(states)
    }
    assert page.map.accessibleDescription() == page.words.text()
    choose(page, COUNTRIES)
    assert sum(number for _, number in page.bars.bars) == len(gone)


def test_the_price_steps_include_every_weighed_package(page: PicturesPage) -> None:
    choose(page, WEIGHTS)
    service = page.service.currentData()
    weighed = [one for one in page.desk.pile.verdicts.values() if one.offer and one.offer.service == service]
    assert sum(int(row[2]) for row in page.model.rows) == len(weighed)


def test_two_prices_of_one_kind_are_two_services(page: PicturesPage, monkeypatch: pytest.MonkeyPatch) -> None:
    pair = ("priority-flat-small-box-commercial", "priority-flat-small-box-retail")
    monkeypatch.setattr(pictures, "services_weighed", lambda _pile: pair)
    page.refresh()
    assert [page.service.itemData(row) for row in range(page.service.count())] == list(pair)


@pytest.fixture(params=["light", "dark"])
def scheme(request: pytest.FixtureRequest) -> Iterator[str]:
    app = QGuiApplication.instance()
    assert app is not None
    app.setProperty(CHOSEN, request.param)
    yield request.param
    app.setProperty(CHOSEN, None)


@pytest.mark.parametrize("name", [STATES, COUNTRIES, WEIGHTS])
def test_each_picture_is_drawn_in_the_colors_of_the_scheme(page: PicturesPage, name: str, scheme: str) -> None:
    choose(page, name)
    image = page.pictures[name].grab().toImage()
    found = {image.pixelColor(x, y).name() for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)}
    assert (DARK if scheme == "dark" else LIGHT).teal.lower() in found
    assert page.pictures[name].accessibleName()
    assert page.pictures[name].accessibleDescription()


def test_a_package_that_cost_more_is_drawn_above_the_line(qtbot: QtBot, page: PicturesPage) -> None:
    choose(page, PAID)
    assert page.words.text() == ""  # nothing was paid yet
    assert page.nothing.isVisible()
    chart = PaidChart()
    qtbot.addWidget(chart)
    chart.show_points([(100, 160), (200, 200)], "USD", "two packages")
    chart.resize(400, 300)
    image = chart.grab().toImage()
    red = [
        (x, y)
        for x in range(image.width())
        for y in range(30, image.height())
        if image.pixelColor(x, y) == QColor(LIGHT.stop)
    ]
    assert red
    assert all(y < image.height() / 2 for _, y in red)  # 1.60 of 2.00 is in the upper half


def test_a_narrow_page_shows_the_picture_or_its_table(page: PicturesPage) -> None:
    assert page.table.isVisible()
    assert page.stack.isVisible()
    page.resize(700, 600)
    assert (page.stack.isVisible(), page.table.isVisible()) == (True, False)
    page.swap.click()
    assert (page.stack.isVisible(), page.table.isVisible()) == (False, True)
    page.swap.click()
    assert page.stack.isVisible()


def test_nothing_mailed_says_so(qtbot: QtBot, desk: Desk) -> None:
    page = shown(qtbot, desk)
    assert page.nothing.isVisible()
    assert not page.beside.isVisible()


def test_bars_that_do_not_fit_are_counted_in_the_last_one(page: PicturesPage) -> None:
    bars = [(f"place {n}", 30 - n) for n in range(30)]
    page.bars.show_bars(bars, "thirty places")
    shown_bars = page.bars._fitting(5)
    assert len(shown_bars) == 5
    assert shown_bars[-1] == ("26 others", sum(number for _, number in bars[4:]))
    assert page.bars._fitting(30) == bars


def test_large_numbers_are_grouped(page: PicturesPage, monkeypatch: pytest.MonkeyPatch) -> None:
    written: list[str] = []
    for module in (bar_list, tile_map):
        monkeypatch.setattr(module, "write", lambda *facts: written.append(facts[2]))
    page.map.show_counts({"OH": 1234}, "")
    page.map.resize(1300, 900)
    page.map.grab()
    assert "1,234" in written
    written.clear()
    page.bars.show_bars([("Canada", 5678)], "")
    page.bars.grab()
    assert written == ["Canada", "5,678"]


@pytest.mark.parametrize("points", [10, 20])
def test_the_map_is_never_too_small_to_read_its_codes(qtbot: QtBot, weighed_desk: Desk, points: int) -> None:
    """At 1024 x 640 the page scrolls when the type is large; every tile has room for a code in the type of pictures."""
    before = QGuiApplication.font()
    larger = QFont(before)
    larger.setPointSizeF(points)
    QApplication.setFont(larger)
    try:
        weighed_desk.do(hand_everything_over, weighed_desk.pile)
        page = shown(qtbot, weighed_desk)
        page.resize(960, 320)
        QApplication.processEvents()
        metrics = QFontMetrics(typeface.font(typeface.SMALL))
        assert page.map.height() / ROWS >= 1.5 * metrics.height()
        assert page.map.width() / COLUMNS >= 1.2 * metrics.horizontalAdvance("MW")
    finally:
        QApplication.setFont(before)
