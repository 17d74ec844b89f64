from dataclasses import replace

import pytest

from desk.paper.packing_slip import write_packing_slips
from desk.paper.press import Press
from tests.paper.codes import codes_on_pages
from tests.paper.made import ADA, FONTS, PRESS, STOCK, packing, pages, pdf, proved

LETTER = Press(FONTS, stock=STOCK["letter"])


@pytest.mark.parametrize("press", [PRESS, LETTER])
def test_the_buyers_copy_shows_items_sums_and_thanks(press):
    ((width, height, text),) = pages(pdf(write_packing_slips, [packing()], press))
    assert (width, height) == press.stock.page
    for words in ("Sorrel Street Bindery", "Order 1047", "July 3, 2026", ADA[0], "Pocket notebook 1, blue", "$18.00",
                  "Shipping", "$4.00", "$40.00", "Thank you for your order!"):  # fmt: skip
        assert words in text


def test_a_gift_has_no_price_on_it():
    content = packing(lines=3, sums=())
    gift = replace(content, lines=tuple(replace(line, price="") for line in content.lines))
    assert "$" in pages(pdf(write_packing_slips, [content]))[0][2]
    assert "$" not in pages(pdf(write_packing_slips, [gift]))[0][2]


def test_many_items_continue_on_the_next_page_with_number_and_code():
    document = pdf(write_packing_slips, [packing(lines=40)])
    found = pages(document)
    assert len(found) == 3
    assert "Order 1047, page 2" in found[1][2]
    assert list(codes_on_pages(document)) == [("1047-1",)] * 3
    assert sum(page[2].count("Pocket notebook") for page in found) == 40


@pytest.mark.parametrize("press", [PRESS, LETTER])
@pytest.mark.parametrize("lines", [1, 9, 40])
def test_nothing_overlaps_on_a_packing_slip(press, lines):
    content = packing("ORD-2026-0000123", lines, more="This order ships in 2 packages.", package_of="package 1 of 2")
    assert proved(write_packing_slips, [content], press)[1].faults == ()
