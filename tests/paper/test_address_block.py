from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desk.paper.label.address_block import LEAST, AddressTooLong, draw_address, fitted
from desk.paper.stock import Box
from tests.paper.made import ADA, ink_on, places

ROOM = (200.0, 70.0)
INK = ink_on(BytesIO())
LINES = st.lists(st.text("ABW 1", min_size=1, max_size=60).filter(str.strip), min_size=1, max_size=9)


def block(lines, *, low=False, most=13.0):
    """Return the position of each line in a box whose lower left corner is (20, 40)."""
    out = BytesIO()
    ink = ink_on(out)
    draw_address(ink, lines, Box(20.0, 40.0, *ROOM), most, low=low)
    ink.canvas.showPage()
    ink.canvas.save()
    return places(out.getvalue())


def test_lines_are_printed_below_each_other_in_order():
    boxes = block(ADA)
    assert [box[4] for box in boxes] == [" ".join(line.split()) for line in ADA]
    bottoms = [box[1] for box in boxes]
    assert bottoms == sorted(bottoms, reverse=True)


def test_a_block_begins_at_the_top_or_ends_at_the_bottom_of_its_box():
    assert max(box[3] for box in block(("HIH",))) == pytest.approx(110, abs=1)
    assert min(box[1] for box in block(("HIH",), low=True)) == pytest.approx(40, abs=5)


@settings(max_examples=40, deadline=None)
@given(LINES, st.booleans())
def test_a_block_stays_in_its_box_or_is_refused(lines, low):
    try:
        fitted(INK, lines, ROOM, 13.0)
    except AddressTooLong:
        with pytest.raises(AddressTooLong):
            block(lines, low=low)
        return
    printed = block(lines, low=low)
    assert len(printed) >= len(lines)
    for left, bottom, right, top, _ in printed:
        assert left >= 19
        assert right <= 221
        assert bottom >= 39
        assert top <= 111


def test_the_smallest_type_has_capitals_of_0_080_in_on_a_203_dpi_printer():
    # source: DMM 202.1 (archive of 2020-10-18): eight point at least, characters 0.080 in high at least
    from desk.paper.proof import pages_in_dots
    from tests.paper.made import as_array

    out = BytesIO()
    ink = ink_on(out)
    lines = ("H" * 40, *("HHH",) * 5)  # so wide that the smallest size is used
    draw_address(ink, lines, Box(20.0, 40.0, 300.0, 70.0), 13.0)
    ink.canvas.showPage()
    ink.canvas.save()
    dots = as_array(next(pages_in_dots(out.getvalue())))
    dark = (dots[:, 62:75] == 0).any(axis=1)  # the first letters of each line
    heights, run = [], 0
    for row in (*dark, False):
        if row:
            run += 1
        elif run:
            heights.append(run)
            run = 0
    assert len(heights) == 6
    assert min(heights) / 203 >= 0.080
    assert LEAST >= 8


def test_lines_too_wide_at_the_smallest_size_are_wrapped():
    size, _, lines = fitted(INK, ("WIDE " * 12,), ROOM, 13.0)
    assert (size, len(lines)) == (LEAST, 2)
    assert " ".join(lines).split() == ["WIDE"] * 12


def test_one_line_too_many_is_refused_and_named():
    fits = tuple(f"LINE {number}" for number in range(7))
    assert len(block(fits)) == 7
    with pytest.raises(AddressTooLong, match="LINE 0 / LINE 1"):
        block((*fits, "LINE 7"))
