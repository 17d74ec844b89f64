"""Which pages and labels can be printed on, and where papers go on them. Sizes: common practice, no source."""

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.paper.stock import INCH, Box, DoesNotFit, Stock, StockKind, cells, checked
from tests.paper.made import STOCK


def page(width, height, kind=StockKind.ROLL):
    return Stock(id="own", words="own", kind=kind, width=Decimal(width), height=Decimal(height))


def label_sheet(width="4", height="2", across=2, **fields):
    sheet = replace(STOCK["sheet-4x2"], label_width=Decimal(width), label_height=Decimal(height), across=across)
    return replace(sheet, **fields)


@pytest.mark.parametrize(
    ("width", "height", "fits"),
    [
        ("1.5", "1", True),
        ("1.49", "1", False),
        ("1.5", "0.99", False),
        ("24", "24", True),
        ("24.01", "24", False),
        ("24", "24.01", False),
    ],
)
def test_a_page_is_between_one_and_a_half_by_one_inch_and_two_feet(width, height, fits):
    if fits:
        assert checked(page(width, height)).width == Decimal(width)
    else:
        with pytest.raises(DoesNotFit, match="A page must be between"):
            checked(page(width, height))


@pytest.mark.parametrize(
    ("sheet", "says"),
    [
        (label_sheet("1.5", "1"), ""),
        (label_sheet("1.49", "1"), "at least 1.5 × 1 in"),
        (label_sheet("1.5", "0.99"), "at least 1.5 × 1 in"),
        (label_sheet(down=0), "go over the edge"),
        (label_sheet(across=0), "go over the edge"),
        (label_sheet(across=1), ""),
        (label_sheet(left=Decimal("0.3125")), ""),  # the right edge of the second label is the page's
        (label_sheet(left=Decimal("0.3127")), "go over the edge"),
        (label_sheet(top=Decimal(1)), ""),
        (label_sheet(top=Decimal("1.001")), "go over the edge"),
    ],
)
def test_labels_are_on_the_page_and_large_enough(sheet, says):
    if not says:
        assert checked(sheet) is sheet
    else:
        with pytest.raises(DoesNotFit, match=says):
            checked(sheet)


def test_boxes_that_touch_do_not_overlap():
    one = Box(0, 0, 10, 10)
    assert not one.overlaps(Box(10, 0, 10, 10))
    assert one.overlaps(Box(9.9, 0, 10, 10))
    assert not one.overlaps(Box(0, 10, 10, 10))
    assert not one.overlaps(Box(9, 0, 10, 10), by=1)
    assert one.overlaps(Box(8.9, 0, 10, 10), by=1)
    assert not one.overlaps(Box(0, 9, 10, 10), by=1)


@pytest.mark.parametrize(
    ("other", "by", "is_held"),
    [
        (Box(0, 0, 10, 10), 0, True),
        (Box(-1, 0, 11, 10), 1, True),
        (Box(-1.1, 0, 11, 10), 1, False),
        (Box(0, -1, 10, 11), 1, True),
        (Box(0, -1.1, 10, 11), 1, False),
        (Box(0, 0, 11, 10), 1, True),
        (Box(0, 0, 11.1, 10), 1, False),
        (Box(0, 0, 10, 11), 1, True),
        (Box(0, 0, 10, 11.1), 1, False),
    ],
)
def test_a_box_holds_another_up_to_its_own_edges(other, by, is_held):
    assert Box(0, 0, 10, 10).holds(other, by) is is_held


@pytest.mark.parametrize(
    ("width", "height", "count"),
    [
        ("8.125", "10.25", 4),  # an eighth of an inch of the width and a quarter of the height is not printed on
        ("8.12", "10.25", 2),
        ("8.125", "10.24", 2),
        ("3", "3", 1),  # too small for one: it is cut
    ],
)
def test_documents_are_placed_only_within_the_printable_area(width, height, count):
    assert len(cells(page(width, height, StockKind.PLAIN), (4 * INCH, 5 * INCH))) == count


def test_documents_on_plain_paper_are_centered_in_reading_order():
    boxes = cells(page("9", "11", StockKind.PLAIN), (4 * INCH, 5 * INCH))
    assert [(box.left / INCH, box.bottom / INCH) for box in boxes] == [(0.5, 5.5), (4.5, 5.5), (0.5, 0.5), (4.5, 0.5)]


@pytest.mark.parametrize(
    ("height", "several", "count"), [("4", True, 2), ("3.99", True, 1), ("4", False, 1), ("1.5", True, 1)]
)
def test_two_documents_share_a_label_of_twice_the_height(height, several, count):
    boxes = cells(page("4", height), (4 * INCH, 2 * INCH), several=several)
    assert len(boxes) == count
    assert boxes[0].top == pytest.approx(float(height) * INCH)


def test_labels_of_a_sheet_are_a_gap_apart_in_reading_order():
    sheet = label_sheet(gap_down=Decimal("0.25"), down=2)
    corners = [(round(box.left / INCH, 4), round(box.top / INCH, 4)) for box in sheet.labels()]
    assert corners == [(0.1562, 10.5), (4.3438, 10.5), (0.1562, 8.25), (4.3438, 8.25)]
