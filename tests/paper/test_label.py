import time
from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest

from desk.paper.fonts import GlyphMissing
from desk.paper.label.address_block import AddressTooLong
from desk.paper.label.label import address_fits, address_room, write_labels
from desk.paper.label.label_content import PostageMark
from desk.paper.label.postage_corner import STAMP, corner_size, stamp_lines
from desk.paper.press import Calibration, Press
from desk.paper.proof import pages_in_dots
from desk.paper.stock import Stock, StockKind
from tests.paper.codes import codes_on_pages
from tests.paper.made import ADA, FONTS, LONG, PRESS, SENDER, STOCK, as_array, label, pages, pdf, places, proved

NAMES = ("1047", "7", "ORD-2026-0000123", LONG, "B-0017")
NO_TEN, SMALL_CARD = (9.5, 4.125), (5.0, 3.5)
SEVERAL = Press(FONTS, several=True)
ROLL_4X2 = Press(FONTS, stock=STOCK["roll-4x2"])


def drawn(*contents, press=PRESS):
    return pdf(write_labels, contents, press)


def find(document, words, number=0):
    """Return left, bottom, right and top of a line of the page."""
    return next(box[:4] for box in places(document, number) if " ".join(words.split()) in box[4])


def flat(document, number=0):
    return " ".join(pages(document)[number][2].split())


@pytest.mark.parametrize("changes", [{}, {"letter": True}, {"letter": True, "envelope": NO_TEN}])
def test_the_label_shows_all_of_its_content(changes):
    text = flat(drawn(label(**changes)))
    for words in (*SENDER, *ADA[:3], "DULUTH MN 55804", "1047", "2 oz", "1 of 1", "DO NOT BEND", "1 Forever",
                  "+ 1 additional ounce", "shop use 1047-1", "Letter, stamped"):  # fmt: skip
        assert words in text


def test_the_address_side_has_no_count_of_pieces():
    assert "of 60" not in flat(drawn(label()))


@pytest.mark.parametrize(
    ("press", "changes", "expected"),
    [
        (PRESS, {}, 1),
        (PRESS, {"letter": True, "envelope": SMALL_CARD}, 1),
        (PRESS, {"letter": True, "envelope": NO_TEN}, 1),
        (SEVERAL, {"letter": True}, 3),
        (SEVERAL, {}, 1),
        (ROLL_4X2, {}, 1),
        (Press(FONTS, stock=STOCK["letter"]), {"letter": True}, 10),
        (Press(FONTS, stock=STOCK["letter"]), {}, 2),
        (Press(FONTS, stock=STOCK["sheet-4x2"]), {"letter": True}, 10),
    ],
)
def test_labels_share_a_page_as_stock_and_shop_allow(press, changes, expected):
    records, found = proved(write_labels, [label(str(number), **changes) for number in range(expected + 1)], press)
    assert [len(record.references) for record in records] == [expected, 1]
    assert found.faults == ()


def test_a_letter_smaller_than_a_4x6_label_gets_the_small_form_at_the_top():
    small = drawn(label(letter=True, envelope=(5.99, 4.0)))
    assert min(box[1] for box in places(small)) > 432 - 144
    wide = drawn(label(letter=True, envelope=(6.0, 4.0)))
    assert min(box[1] for box in places(wide)) < 200


@pytest.mark.parametrize(("order", "dpi"), [*product(NAMES, (203, 300))])
@pytest.mark.parametrize("payment", list(PostageMark))
@pytest.mark.parametrize("letter", [False, True])
def test_every_label_passes_its_check_whatever_its_number(order, dpi, payment, letter):
    stamps = ((1, "Forever"), (3, "additional ounce"))
    sender = (*SENDER, "UNITED STATES")
    contents = [
        label(order, payment=payment, letter=letter, stamps=stamps[:count], sender=sender) for count in (0, 1, 2)
    ]
    contents.append(label(order, payment=payment, letter=letter, envelope=NO_TEN, billable="15.999 oz"))
    records, found = proved(write_labels, contents, Press(FONTS, dpi=dpi), dpi)
    assert found.faults == ()
    assert found.codes == len(contents) == len(records)


def test_a_label_has_only_one_barcode():
    assert [len(codes) for codes in codes_on_pages(drawn(label(), label(letter=True)))] == [1, 1]


def test_a_number_that_cannot_be_encoded_is_printed_in_digits_only():
    document = drawn(label("№ 1047"), label("№ 1047", letter=True))
    assert list(codes_on_pages(document)) == [(), ()]
    assert "№ 1047" in pages(document)[0][2]
    assert "№ 1047" in pages(document)[1][2]


def test_the_number_runs_up_the_edge_in_the_largest_type():
    boxes = places(drawn(label()))
    number = next(box for box in boxes if box[4] == "1047")
    assert number[3] - number[1] > 2 * (number[2] - number[0])  # it runs up
    assert number[2] < 61
    assert number[2] - number[0] > 35  # digits of 58 point
    assert all(box[3] - box[1] < 30 for box in boxes if box[0] > 61)


@pytest.mark.parametrize("changes", [{"letter": True}, {"letter": True, "envelope": NO_TEN}])
def test_a_letter_has_nothing_below_the_address(changes):
    # source: DMM 202.2.1 and Publication 28, Appendix A1: read area and barcode clear zone
    document = drawn(label(**changes), press=PRESS if "envelope" in changes else ROLL_4X2)
    dots = as_array(next(pages_in_dots(document)))
    if "envelope" in changes:
        lines = [box for box in places(document) if box[4] in ADA or box[4] == "DULUTH MN 55804"]
        right_of_strip = dots[: round((432 - 64) * 203 / 72), round(max(box[2] for box in lines) * 203 / 72) + 4 :]
        assert right_of_strip.min() == 255  # the page is rotated: below is to the right
        assert 288 - max(box[2] for box in lines) >= 0.625 * 72  # read area from 5/8 in above the bottom edge
        assert 288 - min(box[0] for box in lines) <= 2.75 * 72
        assert min(box[1] for box in lines) >= 0.5 * 72  # and half an inch from the side
        return
    last = find(document, ADA[-1])
    below = dots[round((144 - last[1] + 3) * 203 / 72) :, round(48 * 203 / 72) :]
    assert below.min() == 255
    others = [box for box in places(document) if box[0] > 48 and box[4] not in (*ADA, "DULUTH MN 55804")]
    assert min(box[1] for box in others) > find(document, ADA[0])[3]


@pytest.mark.parametrize(
    ("payment", "words", "others"),
    [
        (PostageMark.STAMPED, "1 Forever", ("NOT PAID", "meter")),
        (PostageMark.METERED, "meter strip here", ("Forever", "NOT PAID")),
        (PostageMark.COUNTER, "POSTAGE NOT PAID YET", ("Forever", "meter")),
        (PostageMark.PAID, "", ("Forever", "meter", "NOT PAID")),
    ],
)
@pytest.mark.parametrize("letter", [False, True])
def test_the_corner_names_the_kind_of_postage_and_never_that_it_is_paid(payment, words, others, letter):
    text = flat(drawn(label(payment=payment, letter=letter)))
    assert words in text
    for other in others:
        assert other not in text


@pytest.mark.parametrize(
    ("number", "across", "down"), [(0, 1, 1), (1, 1, 1), (2, 1, 2), (3, 2, 2), (4, 2, 2), (6, 2, 3), (9, 2, 3)]
)
def test_the_corner_is_as_large_as_its_stamps(number, across, down):
    # source: from memory, 0.87 x 0.98 in a stamp
    wide, high = corner_size(label(stamps=((number, "Forever"),)))
    assert wide >= across * 0.87 * 72
    assert high >= down * 0.98 * 72
    assert (wide, high) == pytest.approx((across * STAMP[0] + 12, down * STAMP[1] + 12))


@pytest.mark.parametrize("lines", [3, 4, 5])
@pytest.mark.parametrize("stamps", [((1, "Forever"),), ((1, "Forever"), (1, "additional ounce"))])
def test_on_a_small_label_the_stamp_corner_is_four_points_from_the_address(lines, stamps):
    content = label(recipient=tuple(f"HEDWIG ELISE HABERMANN-QUIST {row}" for row in range(lines)), stamps=stamps)
    wide, high = corner_size(content, columns=2)
    left, bottom = 288 - 6 - wide - 0.7, 144 - 6 - high - 0.7  # with half of the marks' width
    boxes = [box for box in places(drawn(content, press=ROLL_4X2)) if box[4].startswith("HEDWIG")]
    assert len(boxes) >= lines
    assert all(box[2] <= left - 4 or box[3] <= bottom - 4 for box in boxes)


@pytest.mark.parametrize("remarks", [(), ("DO NOT BEND",), ("SURFACE MAIL ONLY", "DO NOT BEND")])
@pytest.mark.parametrize("stamps", [1, 2])
def test_a_small_label_names_its_service_after_the_remarks(remarks, stamps):
    content = label(remarks=remarks, stamps=((1, "Forever"), (1, "additional ounce"))[:stamps])
    _, found = proved(write_labels, [content], ROLL_4X2)
    assert found.faults == ()
    text = flat(drawn(content, press=ROLL_4X2))
    assert all(words in text for words in (*remarks, "Letter, stamped"))


def test_a_small_label_without_room_keeps_the_remarks_and_leaves_the_service_out():
    lines = tuple(f"HEDWIG HABERMANN {row}" for row in range(7))
    remarks, service = ("SURFACE MAIL ONLY", "DO NOT BEND"), "Ground package, paid at the counter"
    content = label(remarks=remarks, recipient=lines, stamps=((1, "Forever"),), service_words=service)
    text = flat(drawn(content, press=ROLL_4X2))
    assert "SURFACE MAIL ONLY · DO NOT BEND" in text
    assert "Ground" not in text


@pytest.mark.parametrize("press", [PRESS, ROLL_4X2])
@pytest.mark.parametrize("letter", [False, True])
def test_without_chosen_stamps_the_corner_shows_the_amount(press, letter):
    assert "$4.93 in stamps" in flat(drawn(label(stamps=(), postage="$4.93", letter=letter), press=press))
    assert "$4.93" not in flat(drawn(label(postage="$4.93", letter=letter), press=press))


def test_the_sender_is_set_smaller_before_it_is_wrapped():
    sender = ("A Bindery of Twenty-Three", "PO Box 99017")
    sizes = [find(drawn(label(sender=(name, sender[1]))), "PO Box")[3] for name in ("Ada", sender[0])]
    assert sender[0] in flat(drawn(label(sender=sender)))
    assert sizes[0] != sizes[1]


def test_stamps_are_named_in_words_and_never_drawn():
    # source: IMM 153 (archive of 2014): no drawings that look like stamps
    assert stamp_lines(((1, "Forever"), (2, "additional ounce"))) == ["1 Forever", "+ 2 additional ounce"]
    document = drawn(label(stamps=()))
    dots = as_array(next(pages_in_dots(document)))
    wide, high = corner_size(label(stamps=()))
    box = dots[
        round(28 * 203 / 72) : round(high * 203 / 72), round((278 - wide + 11) * 203 / 72) : round(267 * 203 / 72)
    ]
    assert box.size > 10_000
    assert box.min() == 255  # only the marks at its corners


def test_long_lines_are_printed_smaller_and_then_wrapped():
    short = find(drawn(label(recipient=("ADA",))), "ADA")
    longer = find(drawn(label(recipient=("ADA " * 8,))), "ADA ADA")
    assert short[3] - short[1] > longer[3] - longer[1] >= 5.5
    wrapped = places(drawn(label(recipient=("WORD " * 30, "DULUTH MN  55804"))))
    assert sum("WORD" in box[4] for box in wrapped) > 3
    assert max(box[2] for box in wrapped) < 288 - 9


def test_a_word_longer_than_the_line_is_split():
    boxes = places(drawn(label(recipient=("Q" * 100,))))
    assert sum(box[4].count("Q") for box in boxes if set(box[4]) == {"Q"}) == 100


@pytest.mark.parametrize("postage", ["", "$2.11"])
def test_stamps_without_room_above_a_long_address_give_way_to_their_amount(postage):
    stamps = ((1, "Forever"), (1, "additional ounce"), (2, "Postcard"), (1, "10 cents"))
    content = label(letter=True, stamps=stamps, postage=postage, recipient=(*ADA[:3], "UNIT 4", ADA[3]))
    roll = Stock(id="own", words="Own", kind=StockKind.ROLL, width=Decimal(3), height=Decimal(2))
    press = Press(FONTS, stock=roll)
    assert address_fits(content, press)
    _, found = proved(write_labels, [content], press)
    assert found.faults == ()
    text = flat(drawn(content, press=press))
    assert "DO NOT BEND" in text
    assert ("$2.11 in stamps" in text) is bool(postage)


@pytest.mark.parametrize(("letter", "most"), [(False, 16), (True, 9)])
def test_an_address_without_room_at_the_smallest_size_is_refused_before_printing(letter, most):
    stamps = ((1, "Forever"),)
    fits = label(recipient=tuple(f"LINE {number}" for number in range(most)), letter=letter, stamps=stamps)
    assert address_fits(fits, PRESS)
    assert len(pages(drawn(fits))) == 1
    over = label(recipient=(*fits.recipient, "ONE MORE"), letter=letter, stamps=stamps)
    assert not address_fits(over, PRESS)
    assert address_room(over, PRESS) > 0
    with pytest.raises(AddressTooLong):
        drawn(over)


def test_a_character_in_no_font_is_refused_and_nothing_is_written():
    with pytest.raises(GlyphMissing):
        drawn(label(), label(recipient=("🎈",)))


def test_the_address_is_large_enough_to_read_across_a_table():
    box = find(drawn(label()), ADA[1])
    assert 12 < box[3] - box[1] < 16  # capitals of 17.5 to 20 point


def test_lines_of_the_address_keep_a_straight_left_margin():
    # source: Publication 28, Appendix A1
    document = drawn(label(recipient=("HADA", "HKESTREL", "H41", "HDULUTH")))
    lefts = [find(document, words)[0] for words in ("HADA", "HKESTREL", "H41", "HDULUTH")]
    assert max(lefts) - min(lefts) < 0.1


def test_a_sender_of_many_lines_stays_readable_on_a_letter():
    boxes = places(drawn(label(letter=True, sender=("Sorrel", "Suite 2", "5 Sorrel St", "Duluth MN", "USA", "x"))))
    assert "Duluth MN, USA, x" in [box[4] for box in boxes]


def test_a_label_takes_at_most_two_milliseconds():
    """Three times the limit is 0.006 s."""
    contents = [label(str(number), recipient=(f"BUYER {number}", *ADA[1:])) for number in range(300)]
    drawn(label())
    began = time.process_time()
    drawn(*contents)
    assert (time.process_time() - began) / 300 < 0.006


@pytest.mark.parametrize("dpi", [203, 300])
@pytest.mark.parametrize("several", [False, True])
@pytest.mark.parametrize("letter", [False, True])
@pytest.mark.parametrize("stock", STOCK.values(), ids=STOCK)
def test_capitals_of_a_long_address_are_0_080_in_high_on_every_stock(stock, letter, several, dpi):
    # source: DMM 202.1 (archive of 2020-10-18): eight point at least, characters 0.080 in high at least
    press = Press(FONTS, stock=stock, several=several, dpi=dpi)
    document = drawn(label(recipient=("H" * 34, "HHH", "HHHH", "HHHHH"), letter=letter, envelope=NO_TEN), press=press)
    dots = as_array(next(pages_in_dots(document, dpi))) == 0
    lines = [box for box in places(document) if set(box[4]) == {"H"} and len(box[4]) > 2]
    assert len(lines) >= 4
    for box in lines:
        left, right = (round(x * dpi / 72) for x in (box[0] - 1, box[2] + 1))
        top, bottom = (dots.shape[0] - round(y * dpi / 72) for y in (box[3] + 1, box[1] - 1))
        letters = dots[top:bottom, left:right]
        upright = box[2] - box[0] > box[3] - box[1]
        assert letters.any(axis=1 if upright else 0).sum() / dpi >= 0.080


@pytest.mark.parametrize("stock", ["roll-4x6", "roll-100x150"])
@pytest.mark.parametrize("lines", [3, 8])
def test_a_wide_label_leaves_the_barcode_clear_zone_empty(stock, lines):
    # source: Publication 28, Appendix A1: lower right corner, 4 3/4 in wide, 5/8 in high
    recipient = tuple(f"HABERMANN {row}" for row in range(lines))
    content = label(recipient=recipient, letter=True, envelope=NO_TEN)
    dots = as_array(next(pages_in_dots(drawn(content, press=Press(FONTS, stock=STOCK[stock])))))
    zone = dots[: round(4.75 * 203), -round(0.625 * 203) :]  # the page is turned: below is to the right
    assert zone.size > 100_000
    assert zone.min() == 255


@pytest.mark.parametrize("payment", list(PostageMark))
@pytest.mark.parametrize(("width", "height"), [("2", "1.9"), ("2", "4"), ("3", "5"), ("3", "2")])
def test_a_narrow_label_of_your_own_cuts_neither_sender_nor_remarks(width, height, payment):
    own = Stock(id="own", words="own", kind=StockKind.ROLL, width=Decimal(width), height=Decimal(height))
    content = label(payment=payment, recipient=("ADA QUIST", "41 GLUEPOT RD", "DULUTH MN  55804"))
    press = Press(FONTS, stock=own, calibration=Calibration(2.8, -2.8, 0.98))
    _, found = proved(write_labels, [content], press)
    assert found.faults == ()
    text = flat(drawn(content, press=press))
    shown = {PostageMark.COUNTER: "POSTAGE NOT PAID YET", PostageMark.STAMPED: "1 Forever"}.get(payment, "")
    assert all(words in text for words in (*SENDER, *content.recipient[:2], "DO NOT BEND", "2 oz", shown))


@pytest.mark.parametrize("stock", ["roll-4x6", "roll-100x150"])
@pytest.mark.parametrize("kinds", [1, 3])
def test_a_wide_label_cuts_neither_remarks_nor_service(stock, kinds):
    stamps = ((1, "Forever"), (1, "additional ounce"), (1, "$0.10"))[:kinds]
    remarks, service = ("SURFACE MAIL ONLY", "DO NOT BEND"), "Letter, stamped, not for machines"
    content = label(remarks=remarks, service_words=service, stamps=stamps, letter=True, envelope=NO_TEN)
    content = replace(content, sender=(*SENDER, "Suite 4", "United States"))
    _, found = proved(write_labels, [content], Press(FONTS, stock=STOCK[stock]))
    assert found.faults == ()
    text = flat(drawn(content, press=Press(FONTS, stock=STOCK[stock])))
    assert all(words in text for words in (*remarks, *service.split(), *content.sender))
