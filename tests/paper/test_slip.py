from decimal import Decimal
from itertools import product

import pytest

from desk.paper.press import Press
from desk.paper.slip import write_slips
from desk.paper.stock import Stock, StockKind, checked
from tests.paper.made import FONTS, LONG, PRESS, STOCK, pages, pdf, places, proved, slip

NAMES = ("1047", "7", "ORD-2026-0000123", LONG, "123456789012")
SMALL = Press(FONTS, stock=STOCK["roll-4x2"])


@pytest.mark.parametrize("press", [PRESS, SMALL])
def test_a_slip_shows_what_was_mailed_and_its_contents(press):
    ((width, height, text),) = pages(pdf(write_slips, [slip()], press))
    assert (width, height) == press.stock.page
    for words in ("1047", "2 oz", "1047-1", "piece 1 of 1", "Ready", "Rigid 6 × 8", "Ada Quist", "GIFT · DO NOT BEND",
                  "2 × Pocket notebook, blue", "1 × Folder A5, marbled", "1 × Linen bookmark"):  # fmt: skip
        assert words in text


@pytest.mark.parametrize(("press", "shown"), [(PRESS, 12), (SMALL, 2)])
def test_items_that_do_not_fit_are_counted(press, shown):
    items = tuple(f"{number} × thing number {number}" for number in range(1, 61))
    text = pages(pdf(write_slips, [slip(items=items)], press))[0][2]
    more = int(next(line for line in text.split("\n") if line.startswith("+ ")).split()[1])
    assert text.count("thing number") == 60 - more >= shown


def test_number_and_ounces_are_in_large_type():
    boxes = {box[4]: box for box in places(pdf(write_slips, [slip()]))}
    assert boxes["1047"][3] - boxes["1047"][1] > 40
    assert boxes["2 oz"][3] - boxes["2 oz"][1] > 20


def test_an_unweighed_piece_has_a_box_for_the_ounces():
    from desk.paper.proof import pages_in_dots
    from tests.paper.made import as_array

    before, after = (as_array(next(pages_in_dots(pdf(write_slips, [slip(billable=words)])))) for words in ("", "2 oz"))
    top = slice(0, round(60 * 203 / 72))
    assert max((before[top] == 0).sum(axis=1)) > 200  # the level line of a frame
    assert max((after[top, 500:] == 0).sum(axis=1)) < 150
    assert "oz" in pages(pdf(write_slips, [slip(billable="")]))[0][2]


@pytest.mark.parametrize(("order", "press"), [*product((*NAMES, "№ 5", "X" * 38), (PRESS, SMALL))])
@pytest.mark.parametrize("billable", ["2 oz", "15.999 oz", ""])
def test_every_slip_passes_its_check(order, press, billable):
    marks, items = ("STAMP", "ABROAD", "CHECK", "DO NOT BEND"), tuple(f"1 × thing {number}" for number in range(9))
    content = slip(
        order, billable=billable, status="Needs a check", marks=marks, items=items, dimensions="dim. weight 4 lb"
    )
    _, found = proved(write_slips, [content], press)
    assert found.faults == ()
    assert found.codes == (0 if order in ("№ 5", "X" * 38) else 1)


@pytest.mark.parametrize("billable", ["2 oz", "15.999 oz", ""])
@pytest.mark.parametrize(("width", "height", "shown"), [
    ("1.5", "1", ()), ("2", "1", ()), ("2", "1.25", ("GIFT",)), ("2.25", "1.5", ("GIFT",)),
    ("3", "2", ("GIFT", "2 × Pocket notebook, blue")), ("5", "7", ("GIFT", "2 × Pocket notebook, blue")),
])  # fmt: skip
def test_a_small_label_of_your_own_shows_as_much_as_fits(width, height, shown, billable):
    own = Stock(id="own", words="own", kind=StockKind.ROLL, width=Decimal(width), height=Decimal(height))
    press = Press(FONTS, stock=checked(own))
    _, found = proved(write_slips, [slip(billable=billable)], press)
    assert found.faults == ()
    text = pages(pdf(write_slips, [slip(billable=billable)], press))[0][2]
    assert all(words in text for words in ("1047", billable or "oz", *shown))
