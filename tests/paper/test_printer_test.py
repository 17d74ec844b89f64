from decimal import Decimal
from io import BytesIO
from itertools import groupby

import pytest

from desk.paper.press import Press
from desk.paper.printer_test import CODE, CROSS, PrinterTestContent, write_printer_test
from desk.paper.proof import pages_in_dots, prove
from desk.paper.stock import Stock, StockKind, checked
from tests.paper.codes import codes_on_pages
from tests.paper.made import FONTS, STOCK, as_array, places

CONTENT = PrinterTestContent("Label printer", "4 × 6 in labels, 203 dots an inch")


def page(stock="roll-4x6", dpi=203):
    out = BytesIO()
    records = write_printer_test(CONTENT, out, Press(FONTS, stock=STOCK[stock], dpi=dpi))
    return out.getvalue(), records


@pytest.mark.parametrize("stock", ["roll-4x6", "roll-4x2", "roll-100x150", "letter", "a4"])
def test_nothing_overlaps_on_the_test_page_and_its_codes_can_be_read(stock):
    document, records = page(stock)
    fine = [fault for fault in prove(document, records).faults if fault.text != CODE]
    assert fine == []  # a code of one dot per module may fail, which this page is there to show


@pytest.mark.parametrize(
    ("width", "height", "codes"),
    [
        ("1.5", "1", 0),
        ("2.25", "1.25", 0),
        ("2", "1.9", 0),
        ("4", "2", 0),
        ("3", "5", 4),
        ("4", "4.5", 3),
        ("5", "7", 4),
    ],
)
def test_nothing_overlaps_on_the_test_page_of_a_size_of_your_own(width, height, codes):
    own = Stock(id="own", words="own", kind=StockKind.ROLL, width=Decimal(width), height=Decimal(height))
    out = BytesIO()
    content = PrinterTestContent(
        "Label printer", "3 × 5 in labels, 203 dots an inch, moved 2 mm right and -1 mm up, 98%"
    )
    records = write_printer_test(content, out, Press(FONTS, stock=checked(own)))
    assert [fault for fault in prove(out.getvalue(), records).faults if fault.text != CODE] == []
    assert len(records[0].codes) == codes


def test_type_of_the_test_page_has_the_size_it_names():
    boxes = {
        box[4].split(" point")[0]: box[3] - box[1] for box in places(page("roll-100x150")[0]) if " point:" in box[4]
    }
    heights = [boxes[size] for size in ("10", "8.5", "8", "7", "6", "5", "4")]
    assert heights == sorted(heights, reverse=True)
    assert boxes["10"] / boxes["5"] == pytest.approx(2, rel=0.03)


def test_codes_of_two_to_four_dots_can_be_read_back():
    assert next(codes_on_pages(page()[0])).count(CODE) >= 3


@pytest.mark.parametrize("dpi", [203, 300])
def test_the_ladder_has_bars_of_one_to_four_dots(dpi):
    document, (record,) = page(dpi=dpi)
    dots = as_array(next(pages_in_dots(document, dpi)))
    assert len(record.codes) == 4
    for module, (_, box) in enumerate(record.codes, 1):
        row = dots[dots.shape[0] - round((box.bottom + box.height / 2) * dpi / 72)]
        row = row[round(box.left * dpi / 72) : round(box.right * dpi / 72)]
        runs = [len(list(group)) for level, group in groupby(row) if level == 0]
        assert min(runs) == module


def test_the_cross_and_the_ruler_are_where_they_are_measured_from():
    document, _ = page()
    dots = as_array(next(pages_in_dots(document)))
    x, y = round(CROSS * 203 / 72), dots.shape[0] - round(CROSS * 203 / 72)
    assert (dots[y - 1 : y + 2, x - 20 : x + 20] == 0).any(axis=0).all()
    assert (dots[y - 20 : y + 20, x - 1 : x + 2] == 0).any(axis=1).all()
    marks = {box[4]: (box[0] + box[2]) / 2 for box in places(document) if box[4] in ("10", "50")}
    assert (marks["50"] - marks["10"]) * 25.4 / 72 == pytest.approx(40, abs=0.3)
