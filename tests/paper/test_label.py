import time

import pytest

from desk.paper import label as paper
from desk.paper import small_label
from desk.paper.address_block import AddressTooLong
from desk.paper.fonts import GlyphMissing
from desk.paper.label import address_fits, write_labels
from desk.paper.label_content import Payment, StampMark
from desk.paper.postage_frame import drawn_marks, stamp_words
from desk.paper.proof import codes_on_pages, pages_in_dots, unread
from tests.paper.made import ADA, LONG, PRESS, SENDER, label, pages, pdf, places

ONE = StampMark("additional ounce", "+1")
NAMES = ("1047", "7", "ORD-2026-0000123", LONG, "B-0017")


def drawn(*contents):
    return pdf(write_labels, contents)


def find(document, words, number=0):
    """Left, bottom, right, top of a line of the page."""
    return next(box[:4] for box in places(document, number) if " ".join(words.split()) in box[4])


def test_a_parcel_gets_four_by_six_and_a_letter_four_by_two():
    sizes = [page[:2] for page in pages(drawn(label(), label(letter=True), label()))]
    assert sizes == [(288, 432), (288, 144), (288, 432)]


@pytest.mark.parametrize("letter", [False, True])
def test_everything_handed_in_stands_on_the_label(letter):
    text = pages(drawn(label(letter=letter)))[0][2]
    for words in (
        *SENDER,
        *ADA[:3],
        "DULUTH MN 55804",
        "1047",
        "2 oz",
        "piece 1 of 1",
        "12 of 60",
        "DO NOT BEND",
        "stamps here",
        "+1",
    ):
        assert words in " ".join(text.split())
    assert ("letter, stamped" in text) is not letter


@pytest.mark.parametrize("letter", [False, True])
@pytest.mark.parametrize("payment", list(Payment))
def test_codes_read_back_whatever_the_number_is(letter, payment):
    contents = [label(order, letter=letter, payment=payment) for order in NAMES]
    assert unread(drawn(*contents), [f"{order}-1" for order in NAMES]) == []


def test_a_number_that_cannot_be_coded_stands_in_figures_alone():
    document = drawn(label("№ 1047"), label("№ 1047", letter=True), label("X" * 50), label("X" * 50, letter=True))
    assert list(codes_on_pages(document)) == [(), (), (), ()]
    assert "№ 1047" in pages(document)[0][2]
    assert "X" * 50 in pages(document)[3][2].replace("\n", "")


def test_on_a_letter_nothing_stands_below_the_address():
    # source: DMM 202.2.1 and Publication 28, Appendix A1: read area and barcode clear zone
    document = drawn(label(letter=True))
    last = find(document, ADA[-1])
    others = [box for box in places(document) if box[4] not in (*ADA, "DULUTH MN 55804")]
    assert min(box[1] for box in others) > find(document, ADA[0])[3]
    dots = next(pages_in_dots(document))
    below = dots[round((144 - last[1] + 3) * 203 / 72) :]
    assert below.min() == 255


@pytest.mark.parametrize("letter", [False, True])
@pytest.mark.parametrize("order", NAMES)
@pytest.mark.parametrize("payment", list(Payment))
def test_words_keep_clear_of_each_other_and_of_the_edge(letter, order, payment):
    stamps = (ONE,) * 12
    boxes = places(
        drawn(label(order, letter=letter, payment=payment, stamps=stamps, sender=(*SENDER, "UNITED STATES")))
    )
    height = 144 if letter else 432
    for place, (left, low, right, high, _) in enumerate(boxes):
        assert left >= 3
        assert right <= 285
        assert low >= 2
        assert high <= height - 3
        for other in boxes[place + 1 :]:
            apart = other[0] >= right - 0.5 or left >= other[2] - 0.5 or other[1] >= high - 1 or low >= other[3] - 1
            assert apart, (boxes[place], other)


@pytest.mark.parametrize(
    ("payment", "words", "others"),
    [
        (Payment.STAMPED, "stamps here", ("NOT PAID", "meter")),
        (Payment.METERED, "meter strip here", ("stamps", "NOT PAID", "+1")),
        (Payment.COUNTER, "POSTAGE NOT PAID YET", ("stamps", "meter", "+1")),
    ],
)
@pytest.mark.parametrize("letter", [False, True])
def test_the_frame_says_how_postage_comes_and_never_that_it_is_paid(payment, words, others, letter):
    text = pages(drawn(label(payment=payment, letter=letter)))[0][2]
    assert words in " ".join(text.split())
    for other in others:
        assert other not in text


def test_stamps_are_drawn_one_by_one_until_they_are_many():
    assert drawn_marks((StampMark("forever", "1"), ONE)) == [("1", 1), ("+1", 1)]
    assert drawn_marks((ONE,) * 12) == [("+1", 1)] * 12
    assert drawn_marks((ONE,) * 13 + (StampMark("forever", "1"),)) == [("+1", 13), ("1", 1)]
    assert pages(drawn(label(stamps=(ONE,) * 12)))[0][2].count("+1") == 12
    assert stamp_words((StampMark("forever", "1"), ONE, ONE)) == "forever + 2 additional ounce"
    assert "13 × +1" in pages(drawn(label(stamps=(ONE,) * 13)))[0][2]


def test_long_lines_are_written_smaller_and_then_on_two():
    short = find(drawn(label(recipient=("ADA",))), "ADA")
    longer = find(drawn(label(recipient=("ADA " * 10,))), "ADA ADA")
    assert short[3] - short[1] > longer[3] - longer[1] >= 5
    wrapped = places(drawn(label(recipient=("WORD " * 30, "DULUTH MN  55804"))))
    assert sum("WORD" in box[4] for box in wrapped) == 4
    assert max(box[2] for box in wrapped) < 288 - 12


def test_a_word_longer_than_the_line_is_cut_and_not_lost():
    boxes = places(drawn(label(recipient=("Q" * 100,))))
    assert sum(box[4].count("Q") for box in boxes if set(box[4]) == {"Q"}) == 100


@pytest.mark.parametrize(("letter", "most"), [(False, 15), (True, 8)])
def test_an_address_with_no_room_at_eight_point_is_known_before_and_refused(letter, most):
    lines = tuple(f"LINE {number}" for number in range(most))
    assert address_fits(lines, PRESS, letter=letter)
    assert len(pages(drawn(label(recipient=lines, letter=letter)))) == 1
    more = (*lines, "ONE MORE")
    assert not address_fits(more, PRESS, letter=letter)
    with pytest.raises(AddressTooLong):
        drawn(label(recipient=more, letter=letter))


def test_a_glyph_nobody_has_is_refused_and_nothing_is_written():
    with pytest.raises(GlyphMissing):
        drawn(label(), label(recipient=("🎈",)))


def test_the_address_is_the_largest_thing_that_fits_its_place():
    box = find(drawn(label()), ADA[1])
    assert 12 < box[3] - box[1] < 16  # capitals of 19 point
    assert box[0] == pytest.approx(paper.ADDRESS[0], abs=3)
    small = find(drawn(label(letter=True)), ADA[1])
    assert 8 < small[3] - small[1] < 11  # of 13 point
    assert small[0] == pytest.approx(small_label.ADDRESS[0], abs=3)


def test_lines_of_the_address_keep_a_straight_left_margin():
    # source: Publication 28, Appendix A1
    document = drawn(label(recipient=("HADA", "HKESTREL", "H41", "HDULUTH")))
    lefts = [find(document, words)[0] for words in ("HADA", "HKESTREL", "H41", "HDULUTH")]
    assert max(lefts) - min(lefts) < 0.1


def test_three_milliseconds_a_label():
    """Three times the aim."""
    contents = [label(str(number), recipient=(f"BUYER {number}", *ADA[1:])) for number in range(300)]
    drawn(label())
    began = time.process_time()
    drawn(*contents)
    assert (time.process_time() - began) / 300 < 0.009


@pytest.mark.parametrize("letter", [False, True])
def test_the_stamps_to_take_from_the_drawer_are_named(letter):
    text = " ".join(pages(drawn(label(letter=letter)))[0][2].split())
    assert "forever + additional ounce" in text
    assert "forever" not in pages(drawn(label(letter=letter, payment=Payment.METERED)))[0][2]


def test_a_full_line_of_the_small_label_leaves_out_the_place_in_the_batch_first():
    remarks = ("DO NOT BEND", "BY HAND", "a rather long remark of the maker")
    text = " ".join(pages(drawn(label(letter=True, remarks=remarks)))[0][2].split())
    assert "a rather long remark of the maker · forever + additional ounce" in text
    assert "12 of 60" not in text


def test_a_sender_of_many_lines_stays_readable_on_a_letter():
    boxes = places(drawn(label(letter=True, sender=("Sorrel", "Suite 2", "5 Sorrel St", "Duluth MN", "USA", "x"))))
    assert "Duluth MN, USA, x" in [box[4] for box in boxes]
