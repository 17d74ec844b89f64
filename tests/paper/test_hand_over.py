from io import BytesIO

import pytest

from desk.paper.hand_over import HandOverGroup, write_hand_over
from desk.paper.press import Press
from tests.paper.made import FONTS, STOCK, hand_over, pages, pdf, places, proved, row

LETTER = Press(FONTS, stock=STOCK["letter"])


@pytest.mark.parametrize("press", [LETTER, Press(FONTS)])
def test_the_sheet_has_groups_rows_and_sums(press):
    content = hand_over(2, 1, signature="3 pieces received", notes=("Prices of July 12, 2026.",))
    ((width, height, text),) = pages(pdf(write_hand_over, content, press))
    assert (width, height) == press.stock.page
    for words in ("Hand-over", "Wednesday 2026-07-15", "Group 1", "Group 2", "2 pieces", "1 pieces", "3 pieces"):
        assert words in text
    for words in ("1000", "1001", "2000", "Buyer 1001", "Duluth MN", "0.78", "3 pieces received", "Prices of July"):
        assert words in text


def test_a_long_group_continues_with_its_heading_and_column_heads():
    found = [page[2] for page in pages(pdf(write_hand_over, hand_over(100), LETTER))]
    for number, text in enumerate(found, 1):
        assert "Group 1" in text
        assert "postage" in text
        assert f"page {number}" in text
        assert "Wednesday 2026-07-15" in text
    assert sum(f"Buyer {1000 + number}" in "".join(found) for number in range(100)) == 100


@pytest.mark.parametrize("press", [LETTER, Press(FONTS)])
def test_no_number_of_pieces_leaves_a_page_with_three_lines_or_fewer(press):
    for count in range(10, 46):
        content = hand_over(count, signature="signed")
        records = write_hand_over(content, BytesIO(), press)
        if len(records) > 1:
            last = pages(pdf(write_hand_over, content, press))[-1][2]
            assert last.count("Buyer") >= 2, count
    alone = [count for count in range(30, 40) if len(write_hand_over(hand_over(count), BytesIO(), LETTER)) == 1]
    assert max(alone) >= 38  # closer rows avoid a second page for the last few lines


@pytest.mark.parametrize("press", [LETTER, Press(FONTS)])
def test_nothing_overlaps_or_runs_into_the_footer(press):
    for count in (1, 14, 33, 41):
        _, found = proved(write_hand_over, hand_over(count, 3, signature="signed", notes=("A note.",)), press)
        assert found.faults == ()


def test_an_empty_group_is_left_out():
    assert "Group 2" not in pages(pdf(write_hand_over, hand_over(1, 0, 1)))[0][2]


def test_long_names_are_shortened_and_do_not_reach_the_destination():
    long = row(
        1, number="112-3456789-1234567-99", recipient="A name of very many parts " * 4, mark="9400 1234 5678 9012"
    )
    group = HandOverGroup(heading="One", rows=(long,), total="1 piece")
    boxes = places(pdf(write_hand_over, hand_over(groups=(group,)), LETTER))
    name = next(box for box in boxes if "…" in box[4])
    place = next(box for box in boxes if "Duluth" in box[4])
    assert name[2] < place[0]
    assert max(box[2] for box in boxes) <= 612 - 44
