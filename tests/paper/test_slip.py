import pytest

from desk.paper.proof import unread
from desk.paper.slip import write_slips
from tests.paper.made import LONG, pages, pdf, places, slip

NAMES = ("1047", "7", "ORD-2026-0000123", LONG, "123456789012")


def test_a_slip_is_four_by_two_and_says_what_was_handed_in():
    ((width, height, text),) = pages(pdf(write_slips, [slip()]))
    assert (width, height) == (288, 144)
    for words in ("1047", "2 oz", "1047-1", "piece 1 of 1", "ready", "rigid 6 x 8", "Ada Quist", "DO NOT BEND"):
        assert words in text


def test_number_and_ounces_are_large():
    boxes = {box[4]: box for box in places(pdf(write_slips, [slip()]))}
    assert boxes["1047"][3] - boxes["1047"][1] > 40
    assert boxes["2 oz"][3] - boxes["2 oz"][1] > 20


def test_codes_read_back():
    document = pdf(write_slips, [slip(order) for order in NAMES])
    assert unread(document, [f"{order}-1" for order in NAMES]) == []


@pytest.mark.parametrize("order", [*NAMES, "№ 5", "X" * 45])
@pytest.mark.parametrize("billable", ["2 oz", "15.999 oz", "to weigh"])
def test_words_keep_clear_of_each_other(order, billable):
    remarks = ("BY STAMP", "DO NOT BEND", "too close to call")
    boxes = places(pdf(write_slips, [slip(order, billable=billable, stands="needs a look", remarks=remarks)]))
    assert any("needs a look" in box[4] for box in boxes)
    for place, (left, low, right, high, _) in enumerate(boxes):
        assert left >= 3
        assert right <= 285
        for other in boxes[place + 1 :]:
            assert other[0] >= right - 0.5 or left >= other[2] - 0.5 or other[1] >= high - 1 or low >= other[3] - 1


def test_empty_texts_leave_no_trace():
    text = pages(pdf(write_slips, [slip(mailer="", remarks=())]))[0][2]
    assert text.split("\n") == ["1047 2 oz", "ready", "1047-1 · piece 1 of 1 · Ada Quist, Duluth MN"]
