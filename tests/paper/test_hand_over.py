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


def test_a_long_group_continues_with_its_heading_and_column_headers():
    found = [page[2] for page in pages(pdf(write_hand_over, hand_over(100), LETTER))]
    for number, text in enumerate(found, 1):
        assert "Group 1" in text
        assert "postage" in text
        assert f"page {number}" in text
        assert "Wednesday 2026-07-15" in text
    assert sum(f"Buyer {1000 + number}" in "".join(found) for number in range(100)) == 100


def rows_on(content, press):
    """Return the number of rows on each page."""
    return [page[2].count("Buyer") for page in pages(pdf(write_hand_over, content, press))]


@pytest.mark.parametrize(("press", "most"), [(LETTER, 50), (Press(FONTS), 40)])
def test_no_number_of_pieces_leaves_a_page_with_three_lines_or_fewer(press, most):
    for count in range(10, most):
        content = hand_over(count, signature="signed", acceptance="number", notes=("Not listed: 3.",))
        rows = rows_on(content, press)
        assert sum(rows) == count
        assert len(rows) == 1 or rows[-1] > 3, rows


def test_rows_are_set_closer_together_when_that_saves_a_page():
    alone = [count for count in range(30, 40) if len(rows_on(hand_over(count), LETTER)) == 1]
    assert max(alone) >= 38


@pytest.mark.parametrize("counts", [(9, 3), (11, 1), (9, 18, 3), (12, 15, 4, 2)])
def test_a_short_last_group_is_never_split_or_left_without_its_sums(counts):
    for press in (LETTER, Press(FONTS)):
        found = [page[2] for page in pages(pdf(write_hand_over, hand_over(*counts, signature="signed"), press))]
        assert found[-1].count("Buyer") >= counts[-1]
        assert f"Group {len(counts)}, continued" not in "".join(found)
        assert "signed" in found[-1]


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
