from io import BytesIO

import pytest

from desk.paper import label as paper
from desk.paper import small_label
from desk.paper.label_content import Payment, StampMark
from desk.paper.postage_frame import MOST_DRAWN, NOT_PAID, draw_frame, stamp_words
from tests.paper.made import ink_on, label, places

FRAMES = {"parcel": paper.FRAME, "letter": small_label.FRAME}
ONE = StampMark("forever", "1")
MORE = StampMark("additional ounce", "+1")


def framed(name, **changes):
    """The left edge of the frame, and the texts in it."""
    out = BytesIO()
    ink = ink_on(out)
    left = draw_frame(ink, label(**changes), FRAMES[name])
    ink.canvas.showPage()
    ink.canvas.save()
    return left, places(out.getvalue())


@pytest.mark.parametrize("name", FRAMES)
@pytest.mark.parametrize("payment", list(Payment))
@pytest.mark.parametrize("count", [0, 1, 2, 3, 5, 12, 13])
def test_everything_in_the_frame_stays_inside_it(name, payment, count):
    frame = FRAMES[name]
    edge, boxes = framed(name, payment=payment, stamps=(ONE, *(MORE,) * count)[:count])
    assert boxes
    for left, bottom, right, top, _ in boxes:
        assert left > edge
        assert right < frame.right
        assert bottom > frame.top - frame.height
        assert top < frame.top


@pytest.mark.parametrize("name", FRAMES)
@pytest.mark.parametrize("count", [1, 2, 7, MOST_DRAWN])
def test_each_stamp_is_drawn_once_and_apart_from_the_next(name, count):
    _, boxes = framed(name, stamps=(ONE,) * count)
    drawn = [box for box in boxes if box[4] == "1"]
    assert len(drawn) == count
    for place, one in enumerate(drawn):
        for other in drawn[place + 1 :]:
            assert one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]


@pytest.mark.parametrize("name", FRAMES)
def test_the_frame_grows_to_the_left_with_its_stamps(name):
    few, _ = framed(name, stamps=(ONE,))
    many, _ = framed(name, stamps=(ONE,) * MOST_DRAWN)
    assert many < few == FRAMES[name].right - FRAMES[name].width


def test_kinds_are_counted_in_the_order_they_are_stuck_on():
    assert stamp_words(()) == ""
    assert stamp_words((ONE,)) == "forever"
    assert stamp_words((ONE, MORE, MORE, ONE)) == "2 forever + 2 additional ounce"


def test_only_the_large_frame_has_room_for_the_kinds():
    parcel = " ".join(box[4] for box in framed("parcel")[1])
    letter = " ".join(box[4] for box in framed("letter")[1])
    assert "forever" in parcel
    assert "forever" not in letter


@pytest.mark.parametrize("name", FRAMES)
def test_the_unpaid_words_are_whole_on_either_label(name):
    _, boxes = framed(name, payment=Payment.COUNTER)
    assert " ".join(box[4] for box in boxes) == NOT_PAID


def test_payment_may_come_as_the_word_of_the_files():
    assert "NOT PAID" in " ".join(box[4] for box in framed("parcel", payment="counter")[1])
    assert "meter" in " ".join(box[4] for box in framed("parcel", payment="metered")[1])
