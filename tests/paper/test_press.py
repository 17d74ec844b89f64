from io import BytesIO

import pytest

from desk.paper.fonts import Fonts
from desk.paper.hand_over import write_hand_over
from desk.paper.keying_sheet import write_keying_sheets
from desk.paper.label import write_labels
from desk.paper.press import Press
from desk.paper.slip import write_slips
from tests.paper.made import FOLDER, FONTS, PRESS, hand_over, keying, label, pages, pdf, slip

WRITERS = [
    (write_labels, [label(), label(letter=True, recipient=("山田花子", "שרה (3)", "श्री"))]),
    (write_slips, [slip()]),
    (write_keying_sheets, [keying(20)]),
    (write_hand_over, hand_over(2, 40)),
]


@pytest.mark.parametrize(("write", "contents"), WRITERS)
def test_two_runs_give_the_same_bytes(write, contents):
    assert pdf(write, contents) == pdf(write, contents, Press(Fonts(FOLDER)))


@pytest.mark.parametrize(
    ("write", "nothing"),
    [(write_labels, []), (write_slips, []), (write_keying_sheets, ()), (write_hand_over, hand_over())],
)
def test_an_empty_run_is_one_page_that_says_so(write, nothing):
    press = Press(FONTS, empty="Nothing here goes by mail today, and that is so on purpose and not by mistake.")
    ((_, _, text),) = pages(pdf(write, nothing, press))
    assert " ".join(text.split()) == press.empty


@pytest.mark.parametrize(("write", "contents"), WRITERS)
def test_a_cancelled_run_writes_nothing(write, contents):
    out = BytesIO()
    assert write(contents, out, Press(FONTS, cancelled=lambda: True)) == 0
    assert out.getvalue() == b""


def test_progress_is_told_and_pages_are_counted():
    told = []
    assert write_labels([label()] * 3, BytesIO(), Press(FONTS, progress=told.append)) == 3
    assert told == [1, 2, 3]
    told.clear()
    write_hand_over(hand_over(2, 5), BytesIO(), Press(FONTS, progress=told.append))
    assert told == [2, 7]


def test_contents_may_come_one_by_one():
    assert write_slips((slip(str(number)) for number in range(4)), BytesIO(), PRESS) == 4


def test_a_paper_says_nothing_about_time_or_machine():
    document = pdf(write_labels, [label()])
    assert b"/CreationDate (D:20000101000000" in document
