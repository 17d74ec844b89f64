"""The parts of the bench, each separately: the two fields, the billed weight and the mailers."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF
from pytestqt.qtbot import QtBot

from desk.ui.bench.fields import READER_KEY_S, OneLine
from desk.ui.bench.figure import LARGE, MOST, SMALLEST, Figure, FigureBox
from desk.ui.bench.numbered_list import NumberedList
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import DARK, LIGHT
from desk.ui.kit.scheme import choose_scheme
from tests.ui.kit.pictures import grabbed, has, rows

# --- the fields


class Ticks:
    """A clock that advances by the same step at each call."""

    def __init__(self, step: float) -> None:
        self.now, self.step = 0.0, step

    def __call__(self) -> float:
        self.now += self.step
        return self.now


@pytest.fixture
def one_line(qtbot: QtBot) -> Callable[[float], OneLine]:
    def make(step: float) -> OneLine:
        made = OneLine("Number", "1066 or 1066-2", Ticks(step))
        qtbot.addWidget(made)
        return made

    return make


@pytest.mark.parametrize(
    ("step", "keys", "by_reader"),
    [
        (0.004, "1045", True),
        (READER_KEY_S * 0.9, "1045", True),
        (READER_KEY_S * 1.1, "1045", False),
        (0.15, "1045", False),
        (0.004, "10", False),  # two keys at once are a hand that slipped
        (0.004, "104", True),
    ],
)
def test_a_barcode_reader_is_distinguished_from_typing(
    qtbot: QtBot, one_line: Callable[[float], OneLine], step: float, keys: str, by_reader: bool
) -> None:
    field = one_line(step)
    field.open()
    qtbot.keyClicks(field.line, keys)
    assert field.by_reader() is by_reader


def test_reopening_clears_the_text_and_its_fault(qtbot: QtBot, one_line: Callable[[float], OneLine]) -> None:
    field = one_line(0.001)
    field.open("1")
    qtbot.keyClicks(field.line, "045")
    field.say("No piece has the number 1045.")
    field.open("9")
    assert (field.line.text(), field.by_reader(), field.fault.isHidden()) == ("9", False, True)


def test_the_character_that_opens_the_field_is_typed_in_it(qtbot: QtBot, one_line: Callable[[float], OneLine]) -> None:
    field = one_line(0.001)
    field.open("1")
    qtbot.keyClicks(field.line, "04")
    assert (field.line.text(), field.by_reader()) == ("104", True)


def test_enter_sends_the_typed_text_and_escape_nothing(qtbot: QtBot, one_line: Callable[[float], OneLine]) -> None:
    field, entered, left = one_line(0.1), [], []
    field.entered.connect(entered.append)
    field.left.connect(lambda: left.append(1))
    field.open("10")
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert (entered, left, field.isHidden()) == (["10"], [], False)
    qtbot.keyClick(field.line, Qt.Key.Key_Escape)
    assert (entered, left, field.isHidden(), field.line.text()) == (["10"], [1], True, "")


def test_a_fault_disappears_at_the_next_character(qtbot: QtBot, one_line: Callable[[float], OneLine]) -> None:
    field = one_line(0.1)
    field.open("9")
    field.say("No piece has the number 9.")
    assert not field.fault.isHidden()
    qtbot.keyClicks(field.line, "1")
    assert field.fault.isHidden()
    assert field.line.accessibleName() == "Number"
    assert field.line.placeholderText() == "1066 or 1066-2"


# --- the figure


@pytest.fixture
def figure(qtbot: QtBot) -> FigureBox:
    choose_scheme("light")
    made = FigureBox()
    qtbot.addWidget(made)
    made.resize(500, 300)
    return made


@pytest.mark.parametrize(
    ("shown", "heard"),
    [
        (Figure("1043", "2 oz", "", "$1.11", "1.3 oz"), "1043: 1.3 oz, bills as 2 oz, $1.11"),
        (Figure("1043", "", "Put it on the scale"), "1043 Put it on the scale"),
        (Figure("", "", "Type a number, or N for the next"), "Type a number, or N for the next"),
    ],
)
def test_the_billed_weight_is_read_aloud(figure: FigureBox, shown: Figure, heard: str) -> None:
    figure.show_figure(shown)
    assert figure.accessibleName() == "What to write on the package"
    assert figure.accessibleDescription() == heard


def test_the_ounces_are_below_the_number_in_teal(figure: FigureBox) -> None:
    figure.show_figure(Figure("1043", "2 oz"))
    image = grabbed(figure)
    number, ounces = rows(image, LIGHT.ink), rows(image, LIGHT.teal)
    assert max(number) < min(ounces)
    assert max(number) - min(number) > max(ounces) - min(ounces)


def test_the_postage_is_as_large_as_the_billed_weight(figure: FigureBox) -> None:
    figure.show_figure(Figure("1043", "2 oz", postage="$1.11", reading="1.3 oz"))
    words = [part[0] for part in figure.parts()]
    fonts = figure.amount_fonts(figure.boxes()[1])
    assert words == ["1.3 oz, bills as", "2 oz", "$1.11"]
    assert fonts[1].pixelSize() == fonts[2].pixelSize() > fonts[0].pixelSize()


def test_a_hint_is_not_in_the_color_of_a_weight(figure: FigureBox) -> None:
    figure.show_figure(Figure("1043", "", "Put it on the scale"))
    assert not has(grabbed(figure), LIGHT.teal)
    assert has(grabbed(figure), LIGHT.soft_ink)


def test_the_billed_weight_follows_the_color_scheme(figure: FigureBox) -> None:
    figure.show_figure(Figure("1043", "2 oz", "", "$1.11", "1.3 oz"))
    choose_scheme("dark")
    assert has(grabbed(figure), DARK.teal)
    assert not has(grabbed(figure), LIGHT.teal)


@pytest.mark.parametrize("words", ["1043", "1066-12", "2 lb 11.5 oz", "W" * 30])
@pytest.mark.parametrize("box", [QRectF(0, 0, 500, 180), QRectF(0, 0, 200, 78)])
def test_text_fits_its_box_or_has_the_smallest_size(figure: FigureBox, words: str, box: QRectF) -> None:
    font = figure.font_for(words, typeface.NUMBER, box)
    metrics = QFontMetricsF(font)
    assert metrics.horizontalAdvance(words) <= box.width() or font.pixelSize() == SMALLEST
    assert metrics.capHeight() <= box.height() or font.pixelSize() == SMALLEST


@pytest.mark.parametrize(("height", "times"), [(LARGE, 1.0), (LARGE * 1.5, 1.5), (LARGE * 5, MOST)])
def test_the_billed_weight_grows_on_a_large_screen_up_to_a_limit(
    figure: FigureBox, height: float, times: float
) -> None:
    figure.resize(2000, round(height * typeface.scale()))
    font = figure.font_for("1043", typeface.NUMBER, QRectF(0, 0, 5000, 5000))
    assert font.pixelSize() == pytest.approx(typeface.font(typeface.NUMBER).pixelSize() * times, abs=1)


def test_number_and_ounces_share_the_height_three_to_two(figure: FigureBox) -> None:
    above, below = figure.boxes()
    assert above.height() / below.height() == pytest.approx(1.5)
    assert above.bottom() == below.top()
    assert above.width() == below.width() == figure.width()


# --- the mailers

NAMES = ["A7", "No. 10", "Card", "Bubble", "Box S", "Box M", "Box L", "Tube", "Flat", "Sack", "Crate"]


@pytest.fixture
def mailers(qtbot: QtBot) -> NumberedList:
    made = NumberedList("Mailers", "M")
    qtbot.addWidget(made)
    return made


def pairs(names):
    return [(name, name) for name in names]


def chosen_in(mailers: NumberedList) -> list[str]:
    heard: list[str] = []
    mailers.chosen.connect(heard.append)
    return heard


@pytest.mark.parametrize("place", range(1, 10))
def test_a_number_chooses_its_mailer(qtbot: QtBot, mailers: NumberedList, place: int) -> None:
    heard = chosen_in(mailers)
    mailers.open(pairs(NAMES), "")
    qtbot.keyClicks(mailers, str(place))
    assert (heard, mailers.isHidden()) == ([NAMES[place - 1]], True)


@pytest.mark.parametrize(("names", "key"), [(NAMES, "0"), (NAMES[:3], "4"), ([], "1")])
def test_a_number_without_a_mailer_chooses_none(
    qtbot: QtBot, mailers: NumberedList, names: list[str], key: str
) -> None:
    heard = chosen_in(mailers)
    mailers.open(pairs(names), "")
    qtbot.keyClicks(mailers, key)
    assert (heard, mailers.isHidden()) == ([], False)


def test_entries_beyond_nine_have_no_number_and_are_chosen_by_enter(qtbot: QtBot, mailers: NumberedList) -> None:
    heard = chosen_in(mailers)
    mailers.open(pairs(NAMES), "Flat")
    assert [mailers.item(row).text().split()[0] for row in (0, 8)] == ["1", "9"]
    assert mailers.item(9).text().strip() == "Sack"
    qtbot.keyClick(mailers, Qt.Key.Key_Down)
    qtbot.keyClick(mailers, Qt.Key.Key_Return)
    assert heard == ["Sack"]


@pytest.mark.parametrize(("current", "row"), [("Box M", 5), ("", 0), ("one that is gone", 0)])
def test_the_current_mailer_is_marked(mailers: NumberedList, current: str, row: int) -> None:
    mailers.open(pairs(NAMES), current)
    assert mailers.currentRow() == row


@pytest.mark.parametrize("key", [Qt.Key.Key_Escape, Qt.Key.Key_M])
def test_leaving_the_list_chooses_nothing(qtbot: QtBot, mailers: NumberedList, key: Qt.Key) -> None:
    heard = chosen_in(mailers)
    mailers.open(pairs(NAMES), "")
    with qtbot.waitSignal(mailers.left):
        qtbot.keyClick(mailers, key)
    assert (heard, mailers.isHidden()) == ([], True)


def test_a_click_chooses_a_mailer_too(qtbot: QtBot, mailers: NumberedList) -> None:
    heard = chosen_in(mailers)
    mailers.open(pairs(NAMES), "")
    where = mailers.visualItemRect(mailers.item(2)).center()
    qtbot.mouseClick(mailers.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert heard == ["Card"]
