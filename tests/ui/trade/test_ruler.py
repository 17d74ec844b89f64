"""The ounce ruler: which part is shown, and where weight, steps and band of doubt are."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from desk.ui.kit.palette import DARK, LIGHT, ColorSheet
from desk.ui.kit.scheme import choose_scheme
from desk.ui.trade.ruler import Pennant, RulerPicture, paint_ruler, paint_small_ruler
from desk.ui.trade.ruler_widget import RulerWidget
from tests.ui.kit.pictures import GROUND, colors, columns, grabbed, has, painted, rows

WIDE, HIGH, EDGE = 496, 160, 8  # 480 pixels between the edges
STEPS = (Pennant(1.0, "$0.82"), Pennant(2.0, "$1.11"), Pennant(3.0, "$1.40"))


def large(picture: RulerPicture, sheet: ColorSheet = LIGHT) -> QImage:
    return painted(WIDE, HIGH, lambda painter, box: paint_ruler(painter, picture, box, sheet))


def small(picture: RulerPicture, sheet: ColorSheet = LIGHT) -> QImage:
    return painted(100, 20, lambda painter, box: paint_small_ruler(painter, picture, box, sheet))


def x_of(value: float, picture: RulerPicture) -> float:
    low, high = picture.span()
    return EDGE + (value - low) * (WIDE - 2 * EDGE) / (high - low)


@pytest.mark.parametrize(
    ("weight", "steps", "span"),
    [
        (None, (), (0.0, 2.4)),
        (0.0, (), (0.0, 2.4)),
        (0.4, STEPS, (0.0, 2.4)),
        (2.5, STEPS, (0.0, 3.4)),
        (4.0, STEPS, (0.0, 4.4)),
        (4.1, STEPS, (2.4, 6.4)),
        (12.6, (Pennant(13.0, "$2"), Pennant(14.0, "$3")), (10.4, 14.4)),
        (0.5, (Pennant(8.0, "$5"), Pennant(16.0, "$6")), (-1.6, 2.4)),
    ],
)
def test_the_ruler_shows_the_range_around_the_weight(
    weight: float | None, steps: tuple[Pennant, ...], span: tuple[float, float]
) -> None:
    assert RulerPicture(weight, pennants=steps).span() == pytest.approx(span)


@pytest.mark.parametrize("tenths", range(1, 200, 7))
def test_the_weight_is_always_visible(tenths: int) -> None:
    weight = tenths / 10
    low, high = RulerPicture(weight, pennants=STEPS).span()
    assert low < weight < high


@pytest.mark.parametrize("weight", [0.3, 1.0, 1.7, 2.2])
def test_the_wedge_points_at_the_weight(weight: float) -> None:
    picture = RulerPicture(weight)
    bare = large(RulerPicture())
    image = large(picture)
    line = HIGH - 28 - 24
    above = [(x, line - 15) for x in range(WIDE) if image.pixelColor(x, line - 15) != bare.pixelColor(x, line - 15)]
    middle = (above[0][0] + above[-1][0]) / 2
    assert middle == pytest.approx(x_of(weight, picture), abs=1.5)


def test_a_heavier_weight_is_drawn_further_right() -> None:
    places = [columns(small(RulerPicture(weight)), LIGHT.ink) for weight in (0.5, 1.0, 1.5)]
    assert [max(place) for place in places] == sorted(max(place) for place in places)
    assert len({max(place) for place in places}) == 3


def test_without_a_weight_there_is_no_wedge() -> None:
    assert columns(small(RulerPicture()), LIGHT.ink) == []
    assert columns(small(RulerPicture(1.0)), LIGHT.ink) != []


@pytest.mark.parametrize(("low", "high"), [(0.9, 1.1), (1.25, 1.35), (0.0, 2.0)])
def test_the_band_of_doubt_reaches_from_low_to_high(low: float, high: float) -> None:
    picture = RulerPicture(None, low, high)
    band = columns(large(picture), LIGHT.doubt)
    assert band[0] == pytest.approx(x_of(low, picture), abs=1.5)
    assert band[-1] == pytest.approx(x_of(high, picture), abs=1.5)


def test_a_band_beyond_the_ruler_ends_at_its_edge() -> None:
    image = large(RulerPicture(1.0, 0.5, 90.0))
    assert columns(image, LIGHT.doubt)[-1] < WIDE - EDGE + 1


@pytest.mark.parametrize(("low", "high"), [(None, 1.0), (1.0, None), (None, None)])
def test_without_both_ends_there_is_no_band(low: float | None, high: float | None) -> None:
    assert not has(large(RulerPicture(1.0, low, high)), LIGHT.doubt)


@pytest.mark.parametrize("sheet", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("doubt", ["look", "stop"])
def test_an_uncertain_price_has_an_edge_in_its_color(doubt: str, sheet: ColorSheet) -> None:
    color = getattr(sheet, doubt)
    with_edge, without = RulerPicture(1.0, 0.8, 1.2, doubt=doubt), RulerPicture(1.0, 0.8, 1.2)
    assert has(large(with_edge, sheet), color)
    assert not has(large(without, sheet), color)


@pytest.mark.parametrize("step", STEPS[:2])
def test_a_price_flag_is_at_its_step(step: Pennant) -> None:
    picture = RulerPicture(0.5, pennants=(step,))
    teal = columns(large(picture), LIGHT.teal)
    assert teal[-1] == pytest.approx(x_of(step.at, picture), abs=2)


def test_a_price_flag_is_as_wide_as_its_price() -> None:
    short, long = (
        columns(large(RulerPicture(pennants=(Pennant(2.0, text),))), LIGHT.teal) for text in ("$1", "$100.00")
    )
    assert len(long) > len(short) + 20


def test_a_step_out_of_view_has_no_price_flag() -> None:
    seen = large(RulerPicture(1.0, pennants=(Pennant(1.0, "$0.82"), Pennant(2.0, "$1.11"))))
    more = large(RulerPicture(1.0, pennants=(Pennant(1.0, "$0.82"), Pennant(2.0, "$1.11"), Pennant(9.0, "$5"))))
    assert seen == more


def test_there_is_a_tick_for_each_tenth_and_longer_ones_for_halves_and_wholes() -> None:
    image = large(RulerPicture())
    line = HIGH - 28 - 24

    def reaches(value: float, down: int) -> bool:
        x = round(x_of(value, RulerPicture()))
        around = {image.pixelColor(at, line + down).name() for at in (x - 1, x, x + 1)}
        return around != {GROUND}

    assert [reaches(value, 5) for value in (0.1, 0.5, 1.0)] == [True, True, True]
    assert [reaches(value, 12) for value in (0.1, 0.5, 1.0)] == [False, True, True]
    assert [reaches(value, 22) for value in (0.1, 0.5, 1.0)] == [False, False, True]


def test_the_small_ruler_fits_into_a_row_of_a_list() -> None:
    image = small(RulerPicture(1.3, pennants=STEPS))
    assert rows(image, LIGHT.ink)[-1] < 20
    assert not has(image, LIGHT.teal)  # pennants have no room there
    line = {x for x in range(100) if image.pixelColor(x, 15).name() != GROUND}
    assert line >= set(range(5, 95))


@pytest.mark.parametrize("picture", [RulerPicture(), RulerPicture(1.3, 1.25, 1.35, STEPS, "look"), RulerPicture(70.0)])
def test_the_ruler_paints_nothing_outside_its_box(picture: RulerPicture) -> None:
    def paint(painter: object, _box: QRectF) -> None:
        paint_ruler(painter, picture, QRectF(0, 60, WIDE, 120), LIGHT)  # type: ignore[arg-type]

    image = painted(WIDE, 240, paint)
    seen = {y for y in range(240) for x in range(0, WIDE, 3) if image.pixelColor(x, y).name() != GROUND}
    assert min(seen) >= 59
    assert max(seen) <= 181


@pytest.fixture
def widget(qtbot: QtBot) -> RulerWidget:
    choose_scheme("light")
    made = RulerWidget("Ounce ruler")
    qtbot.addWidget(made)
    made.resize(WIDE, HIGH)
    return made


@pytest.mark.parametrize(
    ("picture", "words"),
    [
        (RulerPicture(1.3), "1.30 oz. "),
        (RulerPicture(1.0, pennants=STEPS[:2]), "1.00 oz. $0.82 up to 1 oz, $1.11 up to 2 oz"),
        (RulerPicture(pennants=(Pennant(3.5, "$1.69"),)), "$1.69 up to 3.5 oz"),
    ],
)
def test_screen_readers_get_the_weight_and_the_steps(widget: RulerWidget, picture: RulerPicture, words: str) -> None:
    widget.show_picture(picture)
    assert widget.accessibleName() == "Ounce ruler"
    assert widget.accessibleDescription() == words


def test_an_empty_ruler_does_not_describe_the_previous_piece(widget: RulerWidget) -> None:
    widget.show_picture(RulerPicture(1.3, pennants=STEPS))
    widget.show_picture(RulerPicture())
    assert widget.accessibleDescription() == ""
    assert not has(grabbed(widget), LIGHT.teal)


def test_the_ruler_follows_the_color_scheme(widget: RulerWidget) -> None:
    widget.show_picture(RulerPicture(1.3, 1.25, 1.35, STEPS, "look"))
    light = colors(grabbed(widget))
    choose_scheme("dark")
    dark = colors(grabbed(widget))
    assert light[LIGHT.teal.lower()] > 0
    assert dark[DARK.teal.lower()] > 0
    assert dark[LIGHT.teal.lower()] == 0


def test_the_ruler_has_room_for_its_prices_and_weights(widget: RulerWidget) -> None:
    assert widget.minimumSizeHint().height() >= 60
    assert widget.sizeHint().width() >= widget.minimumSizeHint().width()


@pytest.mark.parametrize(
    ("at", "text"), [(2.3, None), (2.4, None), (2.5, "$9.40 to 2.5 oz"), (15.999, "$9.40 to 15.999 oz")]
)
def test_the_applicable_price_is_at_the_edge_if_its_step_is_off_the_ruler(at: float, text: str | None) -> None:
    picture = RulerPicture(0.8, applies=Pennant(at, "$9.40"))
    beyond = picture.beyond()
    assert (beyond.text if beyond else None) == text
    assert beyond is None or beyond.at == picture.span()[1]


def test_a_price_flag_beyond_the_ruler_is_drawn_at_the_right_edge() -> None:
    without, drawn = RulerPicture(0.8), RulerPicture(0.8, applies=Pennant(16.0, "$9.40"))
    assert not has(large(without).copy(WIDE - 90, 0, 80, 30), LIGHT.teal)
    assert has(large(drawn).copy(WIDE - 90, 0, 80, 30), LIGHT.teal)
