from dataclasses import replace
from io import BytesIO
from itertools import pairwise

import pytest

from desk.paper.dots import QUIET, bars
from desk.paper.ink import PageRecord
from desk.paper.label.label import write_labels
from desk.paper.press import Calibration, Press
from desk.paper.proof import pages_in_dots
from desk.paper.slip import write_slips
from desk.paper.stock import Box
from tests.paper.made import FONTS, LONG, ink_on, label, slip
from tests.paper.symbol_grade import LineGrade, SymbolGrade, _decodability, grade

NUMBERS = ("1047", "7", "ORD-2026-0000123", LONG)


def grades(write, contents, press):
    """Return the grade of every code on a paper."""
    out, found = BytesIO(), []
    records = write(contents, out, press)
    for record, dots in zip(records, pages_in_dots(out.getvalue(), press.dpi), strict=True):
        for text, box in record.codes:
            module = round(max(box.width, box.height) * press.dpi / 72 / (bars(text)[1] + 2 * QUIET))
            found.append(grade(dots, box, press.dpi, module))
    return found


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize(("right", "up", "scale"), [(0, 0, 1), (3.3, -2.2, 0.98), (-1.1, 2.7, 1.02)])
def test_every_code_has_grade_b_or_better_even_when_moved_and_scaled(dpi, right, up, scale):
    press = Press(FONTS, dpi=dpi, calibration=Calibration(right, up, scale))
    contents = [label(number, letter=letter) for number in NUMBERS for letter in (False, True)]
    found = [*grades(write_labels, contents, press), *grades(write_slips, [slip(number) for number in NUMBERS], press)]
    assert len(found) == 12
    assert min(one.value for one in found) >= 2.5


def graded(draw):
    """Return the grade of a code changed by `draw`."""
    out, record = BytesIO(), PageRecord((288, 144))
    ink = replace(ink_on(out, (288, 144)), record=record)
    ink.code("1047-1", Box(9, 60, 270, 40), 2)
    draw(ink.canvas)
    ink.canvas.showPage()
    ink.canvas.save()
    return grade(next(pages_in_dots(out.getvalue())), record.codes[0][1], 203, 2)


def test_spots_and_voids_lower_the_grade_of_their_scan_lines():
    def void(canvas):
        canvas.setFillGray(1)
        canvas.rect(9, 78, 270, 4, stroke=0, fill=1)  # across all bars, a tenth of their height

    assert graded(lambda _canvas: None).letter == "A"
    hurt = graded(void)
    assert 0 < sum(line.points < 4 for line in hurt.lines) <= 3
    assert hurt.value < 4


def test_bars_that_are_half_a_module_wider_have_a_lower_grade():
    def grown(canvas):
        for at, width in bars("1047-1")[0]:
            dot = 72 / 203
            start = round(9 / dot) + (QUIET + at) * 2
            canvas.rect((start + width * 2 - 0.1) * dot, 60, 1.2 * dot, 40, stroke=0, fill=1)

    assert graded(grown).value < 4


@pytest.mark.parametrize(
    ("line", "points"),
    [
        # source: thresholds of ISO/IEC 15416 as coded in public programs: a case on either side of each
        (LineGrade(70, 70, 15, 62), 4),
        (LineGrade(69.9, 70, 15, 62), 3),
        (LineGrade(70, 69.9, 15, 62), 3),
        (LineGrade(70, 70, 15.1, 62), 3),
        (LineGrade(70, 70, 15, 61.9), 3),
        (LineGrade(55, 60, 20, 50), 3),
        (LineGrade(54.9, 60, 20, 50), 2),
        (LineGrade(55, 59.9, 20, 50), 2),
        (LineGrade(55, 60, 20.1, 50), 2),
        (LineGrade(55, 60, 20, 49.9), 2),
        (LineGrade(40, 50, 25, 37), 2),
        (LineGrade(39.9, 50, 25, 37), 1),
        (LineGrade(40, 49.9, 25, 37), 1),
        (LineGrade(40, 50, 25.1, 37), 1),
        (LineGrade(40, 50, 25, 36.9), 1),
        (LineGrade(20, 40, 30, 25), 1),
        (LineGrade(20, 40, 30, 24.9), 0),
        (LineGrade(19.9, 40, 30, 25), 0),
        (LineGrade(20, 39.9, 30, 25), 0),
        (LineGrade(20, 40, 30.1, 25), 0),
    ],
)
def test_the_grade_of_a_scan_line_is_that_of_its_worst_parameter(line, points):
    assert line.points == points


@pytest.mark.parametrize(
    ("value", "letter"),
    [(3.5, "A"), (3.49, "B"), (2.5, "B"), (2.4, "C"), (1.5, "C"), (1.49, "D"), (0.5, "D"), (0.4, "F")],
)
def test_the_mean_of_ten_scan_lines_gives_the_letter(value, letter):
    assert SymbolGrade(value, ()).letter == letter


def elements(text):
    """Return the widths of a code's bars and spaces in modules, without the quiet zones."""
    drawn, modules = bars(text)
    edges = [edge for at, width in drawn for edge in (at, at + width)]
    assert edges[-1] == modules
    return [float(end - start) for start, end in pairwise(edges)]


def test_only_a_code_with_a_valid_number_of_elements_is_decodable():
    widths = elements("1")
    assert len(widths) == 25  # start, one character, check and stop (ISO/IEC 15417)
    assert _decodability(widths) == 1
    assert _decodability(widths[6:]) == 1  # the fewest: start, check and stop
    for fewer in (widths[12:], widths[:-1], [*widths, 1.0], []):
        assert _decodability(fewer) == 0


@pytest.mark.parametrize("moved", [0.05, 0.1, 0.2])
def test_a_moved_edge_lowers_decodability_by_twice_its_share_of_a_module(moved):
    """Half a module is the reference threshold (ISO/IEC 15417, from memory)."""
    widths = elements("1047-1")
    widths[0], widths[1] = widths[0] + moved, widths[1] - moved
    assert _decodability(widths) == pytest.approx(1 - 2 * moved)


def test_ten_scan_lines_are_graded():
    assert len(graded(lambda _canvas: None).lines) == 10
