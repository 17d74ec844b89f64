"""Marks, pieces and stamps are distinguished by shape; color only helps."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from desk.ui.kit.mark import ROLE_OF, paint_mark
from desk.ui.kit.message import MarkDot
from desk.ui.kit.palette import DARK, LIGHT, ColorSheet
from desk.ui.kit.scheme import choose_scheme
from desk.ui.trade.shapes import paint_shape, shape_path
from desk.ui.trade.stamp import StampPicture, StampRow
from tests.ui.kit.pictures import colors, grabbed, has, painted

SIDE = 40
GRAY = ColorSheet(*["#808080"] * 10)._replace(card="#ffffff")


def mark(kind: str, sheet: ColorSheet = GRAY, side: int = SIDE) -> QImage:
    return painted(side, side, lambda painter, box: paint_mark(painter, kind, box, sheet))


def inked(image: QImage) -> set[tuple[int, int]]:
    """Where something was painted."""
    ground = QColor("#ff00ff")
    width = range(image.width())
    return {(x, y) for y in range(image.height()) for x in width if image.pixelColor(x, y) != ground}


def at(image: QImage, across: float, down: float) -> str:
    return image.pixelColor(int(image.width() * across), int(image.height() * down)).name()


@pytest.mark.parametrize(("one", "other"), list(combinations(ROLE_OF, 2)))
@pytest.mark.parametrize("side", [14, 28, SIDE])
def test_two_marks_of_one_color_have_different_shapes(one: str, other: str, side: int) -> None:
    first, second = mark(one, side=side), mark(other, side=side)
    unlike = sum(first.pixelColor(x, y) != second.pixelColor(x, y) for x in range(side) for y in range(side))
    assert unlike > side * side / 12  # a twelfth of the box is seen without looking twice


def test_round_marks_are_round_and_square_ones_have_corners() -> None:
    corner = 3 / SIDE
    assert at(mark("stop"), corner, corner) == GRAY.stop
    assert at(mark("fine"), corner, corner) == "#ff00ff"


def test_a_triangle_points_up() -> None:
    look = mark("look")
    assert (at(look, 0.15, 0.2), at(look, 0.85, 0.2)) == ("#ff00ff", "#ff00ff")
    assert (at(look, 0.15, 0.92), at(look, 0.85, 0.92)) == (GRAY.look, GRAY.look)


def test_a_ring_is_hollow() -> None:
    assert at(mark("note"), 0.5, 0.5) == GRAY.card
    assert at(mark("fine"), 0.5, 0.5) == GRAY.fine


@pytest.mark.parametrize("sheet", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("kind", list(ROLE_OF))
def test_each_mark_has_the_color_of_its_role(kind: str, sheet: ColorSheet) -> None:
    assert has(mark(kind, sheet), getattr(sheet, ROLE_OF[kind]))


@pytest.mark.parametrize("kind", list(ROLE_OF))
def test_a_mark_stays_in_its_box(kind: str) -> None:
    image = painted(60, 60, lambda painter, _box: paint_mark(painter, kind, QRectF(20, 20, 20, 20), GRAY))
    out = [place for place in inked(image) if not (17 <= place[0] <= 43 and 17 <= place[1] <= 43)]
    assert out == []


def test_an_unknown_severity_is_a_bug() -> None:
    with pytest.raises(KeyError):
        mark("sort of")


def test_a_dot_can_show_another_mark(qtbot: QtBot) -> None:
    dot = MarkDot("fine")
    qtbot.addWidget(dot)
    dot.resize(dot.sizeHint())
    choose_scheme("light")
    before = grabbed(dot)
    dot.kind = "stop"
    assert has(before, LIGHT.fine)
    assert has(grabbed(dot), LIGHT.stop)
    assert not has(grabbed(dot), LIGHT.fine)


# --- pieces


def shape(name: str) -> QImage:
    return painted(
        SIDE, SIDE, lambda painter, box: paint_shape(painter, name, box.adjusted(3, 3, -3, -3), QColor("#000"))
    )


@pytest.mark.parametrize(("one", "other"), list(combinations(("letter", "flat", "parcel"), 2)))
def test_pieces_are_drawn_by_their_shape(one: str, other: str) -> None:
    first, second = inked(shape(one)), inked(shape(other))
    assert len(first ^ second) > len(first & second)


@pytest.mark.parametrize("name", ["parcel", "roll", ""])
def test_anything_but_a_letter_or_large_envelope_is_drawn_as_a_box(name: str) -> None:
    box = QRectF(0, 0, 40, 40)
    assert shape_path(name, box) == shape_path("parcel", box)


@pytest.mark.parametrize(
    ("name", "proportion"),
    [("letter", 1 / 0.7), ("flat", 0.7), ("parcel", 0.9)],  # how wide to how high
)
def test_an_envelope_is_wide_and_a_sheet_is_high(name: str, proportion: float) -> None:
    outline = shape_path(name, QRectF(0, 0, 100, 100)).boundingRect()
    assert outline.width() / outline.height() == pytest.approx(proportion, abs=0.01)


@pytest.mark.parametrize("name", ["letter", "flat", "parcel"])
@pytest.mark.parametrize("box", [QRectF(10, 20, 40, 40), QRectF(0, 0, 80, 30)])
def test_a_shape_stays_in_its_box(name: str, box: QRectF) -> None:
    assert box.adjusted(-0.01, -0.01, 0.01, 0.01).contains(shape_path(name, box).boundingRect())


def test_painting_restores_the_painter() -> None:
    def paint(painter: QPainter, box: QRectF) -> None:
        painter.setPen(Qt.GlobalColor.red)
        paint_shape(painter, "letter", box, QColor("#000"))
        paint_mark(painter, "stop", box, LIGHT)
        assert painter.pen().color() == QColor(Qt.GlobalColor.red)
        assert not painter.testRenderHint(QPainter.RenderHint.Antialiasing)

    painted(20, 20, paint)


# --- stamps

ONE = StampPicture("1", "Forever")
MORE = StampPicture("+1", "additional ounce")


@pytest.fixture
def row(qtbot: QtBot) -> StampRow:
    made = StampRow()
    qtbot.addWidget(made)
    choose_scheme("light")
    return made


@pytest.mark.parametrize("count", [1, 2, 5])
def test_a_row_of_stamps_is_as_long_as_its_stamps(row: StampRow, count: int) -> None:
    row.show_stamps([ONE] * count)
    side, gap = row._side(), row._gap()
    assert (row.sizeHint().width(), row.sizeHint().height()) == (count * side + (count - 1) * gap, side)


def test_a_row_without_stamps_takes_no_room(row: StampRow) -> None:
    row.show_stamps([])
    assert row.sizeHint().width() == 0
    assert row.accessibleDescription() == ""


def test_screen_readers_get_the_stamps_in_order(row: StampRow) -> None:
    row.show_stamps([ONE, MORE])
    assert row.accessibleName() == "Stamps"
    assert row.accessibleDescription() == "1 Forever, +1 additional ounce"
    row.show_stamps([MORE])
    assert row.accessibleDescription() == "+1 additional ounce"


def test_each_stamp_has_its_square_with_a_gap_between(row: StampRow) -> None:
    row.show_stamps([ONE, MORE])
    row.resize(row.sizeHint())
    image, side = grabbed(row), row._side()
    ground = image.pixelColor(side + row._gap() // 2, side // 2)
    between = {image.pixelColor(side + 2, y).name() for y in range(side)}
    assert between == {ground.name()}
    assert colors(image)[LIGHT.ink.lower()] > 0


def test_the_edge_is_perforated(row: StampRow) -> None:
    row.show_stamps([StampPicture("", "")])
    row.resize(row.sizeHint())
    image = grabbed(row)
    edge = [image.pixelColor(x, 1).lightness() < 128 for x in range(4, row.width() - 4)]
    turns = sum(one != other for one, other in pairwise(edge))
    assert turns > 10  # dots, not a line


@pytest.mark.parametrize("words", ["Forever", "additional ounce", "non-machinable surcharge", "W" * 40])
def test_words_on_a_stamp_fit_into_it(row: StampRow, words: str) -> None:
    row.show_stamps([StampPicture("1", words)])
    row.resize(row.sizeHint())
    image = grabbed(row)
    soft = [
        x
        for x in range(image.width())
        for y in range(image.height())
        if image.pixelColor(x, y) == QColor(LIGHT.soft_ink)
    ]
    assert soft == [] or (min(soft) >= 2 and max(soft) <= row.width() - 3)
