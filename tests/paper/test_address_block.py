from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from desk.paper.address_block import LEAST, AddressTooLong, block_fits, draw_address
from tests.paper.made import ADA, ink_on, places

ROOM = (200.0, 70.0)
LINES = st.lists(st.text("ABW 1", min_size=1, max_size=60).filter(str.strip), min_size=1, max_size=9)


def block(lines, *, low=False, most=13.0):
    """Where each line lands in a place whose lower left corner is (20, 40)."""
    out = BytesIO()
    ink = ink_on(out)
    draw_address(ink, lines, (20.0, 40.0, *ROOM), most, low=low)
    ink.canvas.showPage()
    ink.canvas.save()
    return places(out.getvalue())


def test_lines_stand_under_each_other_in_their_order():
    boxes = block(ADA)
    assert [box[4] for box in boxes] == [" ".join(line.split()) for line in ADA]
    bottoms = [box[1] for box in boxes]
    assert bottoms == sorted(bottoms, reverse=True)


def test_a_block_begins_at_the_top_or_ends_at_the_bottom_of_its_place():
    assert max(box[3] for box in block(("HIH",))) == pytest.approx(110, abs=5)
    assert min(box[1] for box in block(("HIH",), low=True)) == pytest.approx(40, abs=5)


@settings(max_examples=40, deadline=None)
@given(LINES, st.booleans())
def test_a_block_stays_in_its_place_or_is_refused(lines, low):
    if not block_fits(ink_on(BytesIO()), lines, ROOM):
        with pytest.raises(AddressTooLong):
            block(lines, low=low)
        return
    for left, bottom, right, top, _ in block(lines, low=low):
        assert left >= 19
        assert right <= 221
        assert bottom >= 38
        assert top <= 111


def test_type_is_never_under_eight_point():
    # source: DMM 202 (from memory): eight point at least
    boxes = block(tuple(f"HLINE {number}" for number in range(8)))
    assert min(box[3] - box[1] for box in boxes) >= LEAST * 0.7  # a capital of Noto Sans is 0.714 of its size


def test_a_refused_address_is_named():
    with pytest.raises(AddressTooLong, match="LINE 0 / LINE 1"):
        block(tuple(f"LINE {number}" for number in range(20)))
