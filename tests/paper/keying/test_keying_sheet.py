from itertools import pairwise

import pytest

from desk.paper.keying.keying_sheet import NO_FORM, write_keying_sheets
from desk.paper.press import Press
from tests.paper.codes import codes_on_pages
from tests.paper.made import FONTS, STOCK, goods, keying, pages, places, proved
from tests.paper.made import pdf as pdf_on

LETTER = Press(FONTS, stock=STOCK["letter"])


def pdf(write, contents, press=LETTER):
    return pdf_on(write, contents, press)


def texts(**changes):
    return [page[2] for page in pages(pdf(write_keying_sheets, [keying(**changes)]))]


@pytest.mark.parametrize("press", [LETTER, Press(FONTS)])
def test_every_required_answer_is_on_the_worksheet(press):
    found = pages(pdf(write_keying_sheets, [keying()], press))
    assert found[0][:2] == press.stock.page
    text = "".join(page[2] for page in found).replace("\n", " ")
    for words in (
        "Sorrel Street Bindery",
        "MUSTERSTRASSE 1",
        "GERMANY",
        "sale of goods · CN 22",
        "4820.10",
        "36.00 USD",
        "0 lb 11.3 oz",
        "0.320",
        "bindery@sorrel.example",
        "+49 30 555 0100",
        "NOEEI 30.37(a)",
        "IOSS, ends in 123",
        "The description is too vague.",
        "legal statement",
        NO_FORM,
    ):
        assert words in text


def test_groups_are_in_the_order_of_the_clerks_worksheet():
    # PS 2976-R instructions (read, weak): description; quantity, net weight, value; totals. Phone and email with the
    # addresses, as the online form asks: from memory
    (text,) = texts()
    order = (
        "From, and to",
        "Phone: ",
        "description",
        "quantity",
        "net lb oz",
        "value",
        "Total net",
        "Total weight",
        "Export filing",
    )
    found = [text.index(words) for words in order]
    assert found == sorted(found)


def test_empty_fields_have_no_line():
    (text,) = texts(export_citation="", tax_id="", findings=(), cautions=(), sender_email="")
    for words in ("Export filing", "Tax number", "Check first", "Before you sign", "Sender's email"):
        assert words not in text


def test_twenty_lines_continue_on_the_next_page_with_number_and_column_headers():
    first, second = texts(lines=20)
    assert "1052, page 2" in second
    assert "description" in second
    assert "Total net" in second
    assert "Total net" not in first
    both = first + second
    for number in range(1, 21):
        assert f"notebook {number}" in both.replace("\n", " ")


def test_every_page_carries_the_code():
    document = pdf(write_keying_sheets, [keying(20), keying(1, reference="7-2")])
    assert list(codes_on_pages(document)) == [("1052-1",), ("1052-1",), ("7-2",)]


@pytest.mark.parametrize("words", ["a very long description of goods " * 3, "W" * 60])
def test_long_descriptions_wrap_inside_their_column(words):
    document = pdf(write_keying_sheets, [keying(lines=(goods(description=words),))])
    described = [box for box in places(document) if "goods" in box[4] or "WW" in box[4]]
    assert len(described) > 1
    assert max(box[2] for box in described) < 45 + 165


def test_large_figures_are_made_smaller_and_do_not_touch():
    line = goods(quantity="10000", value="123456.00 USD", net_lb_oz="22 lb 15.9 oz", hs="4820.10.2010")
    document = pdf(write_keying_sheets, [keying(lines=(line,), total_value="1234567.00 USD")])
    boxes = places(document)
    for words in ("123456.00 USD", "22 lb 15.9 oz", "4820.10.2010", "1234567.00 USD"):
        assert any(words in box[4] for box in boxes)
    row = sorted(box for box in boxes if any(cell in box[4] for cell in ("10000", "22 lb", "123456.00", "4820.10.2")))
    for one, other in pairwise(row):
        assert one[2] <= other[0] + 0.5 or abs(one[1] - other[1]) > 8


def test_many_sentences_continue_on_the_next_page():
    found = texts(cautions=("A caution that is as long as a line and then some, to fill the page. " * 3,) * 30)
    assert len(found) == 2
    assert sum(text.count("A caution") for text in found) == 90


def test_text_is_large_enough_to_read_at_arms_length():
    boxes = places(pdf(write_keying_sheets, [keying()]))
    box = next(box for box in boxes if "MUSTERSTRASSE" in box[4])
    assert box[3] - box[1] > 9  # capitals of 13 point


def test_a_reference_that_cannot_be_encoded_is_printed_as_text():
    document = pdf(write_keying_sheets, [keying(reference="№ 5-1", order="№ 5")])
    assert list(codes_on_pages(document)) == [()]
    assert "№ 5-1" in pages(document)[0][2]


@pytest.mark.parametrize("press", [LETTER, Press(FONTS)])
@pytest.mark.parametrize("lines", [1, 20])
def test_nothing_overlaps_on_a_worksheet(press, lines):
    contents = [keying(lines, findings=("A long issue to check first. " * 4,) * 3)]
    assert proved(write_keying_sheets, contents, press)[1].faults == ()
