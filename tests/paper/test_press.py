from io import BytesIO
from itertools import groupby

import pytest

from desk.paper.fonts import Fonts
from desk.paper.hand_over import write_hand_over
from desk.paper.keying.keying_sheet import write_keying_sheets
from desk.paper.label.label import write_labels
from desk.paper.packing_slip import write_packing_slips
from desk.paper.press import Calibration, Press
from desk.paper.slip import write_slips
from tests.paper.made import FOLDER, FONTS, PRESS, STOCK, hand_over, keying, label, packing, pages, pdf, slip

WRITERS = [
    (write_labels, [label(), label(letter=True, recipient=("山田花子", "שרה (3)", "श्री"))]),
    (write_slips, [slip()]),
    (write_packing_slips, [packing(), packing(lines=30)]),
    (write_keying_sheets, [keying(20)]),
    (write_hand_over, hand_over(2, 40)),
]


@pytest.mark.parametrize(("write", "contents"), WRITERS)
def test_two_runs_give_equal_bytes(write, contents):
    assert pdf(write, contents) == pdf(write, contents, Press(Fonts(FOLDER)))


@pytest.mark.parametrize(
    ("write", "nothing"),
    [(write_labels, []), (write_slips, []), (write_keying_sheets, ()), (write_hand_over, hand_over())],
)
def test_an_empty_document_is_one_page_that_says_so(write, nothing):
    press = Press(FONTS, empty="Nothing here goes by mail today, and that is so on purpose and not by mistake.")
    ((_, _, text),) = pages(pdf(write, nothing, press))
    assert " ".join(text.split()) == press.empty


@pytest.mark.parametrize(("write", "contents"), WRITERS)
def test_a_canceled_run_leaves_no_finished_document(write, contents):
    out = BytesIO()
    assert write(contents, out, Press(FONTS, canceled=lambda: True)) == ()
    assert b"%%EOF" not in out.getvalue()


def test_progress_is_reported_and_pages_are_counted():
    reported = []
    assert len(write_labels([label()] * 3, BytesIO(), Press(FONTS, progress=reported.append))) == 3
    assert reported == [1, 2, 3]
    reported.clear()
    write_hand_over(hand_over(2, 5), BytesIO(), Press(FONTS, progress=reported.append))
    assert reported == [2, 7]


def test_contents_may_come_from_a_generator():
    assert len(write_slips((slip(str(number)) for number in range(4)), BytesIO(), PRESS)) == 4


def test_a_document_contains_no_time_or_computer_name():
    document = pdf(write_labels, [label()])
    assert b"/CreationDate (D:20000101000000" in document


@pytest.mark.parametrize("stock", STOCK.values(), ids=STOCK)
@pytest.mark.parametrize(("write", "contents"), WRITERS)
def test_every_page_of_a_pdf_has_the_size_of_its_stock(write, contents, stock):
    found = {page[:2] for page in pages(pdf(write, contents, Press(FONTS, stock=stock)))}
    assert len(found) == 1
    assert found.pop() == pytest.approx(stock.page, abs=0.01)


@pytest.mark.parametrize("several", [False, True])
def test_many_small_papers_share_a_page_in_order_and_only_where_they_should(several):
    records = write_slips((slip(str(number)) for number in range(7)), BytesIO(), Press(FONTS, several=several))
    assert [record.references for record in records] == (
        [["0-1", "1-1", "2-1"], ["3-1", "4-1", "5-1"], ["6-1"]] if several else [[f"{number}-1"] for number in range(7)]
    )
    on_letter = write_slips((slip(str(number)) for number in range(11)), BytesIO(), Press(FONTS, stock=STOCK["letter"]))
    assert [len(record.references) for record in on_letter] == [10, 1]


def test_a_document_has_a_title_an_author_and_its_language():
    # source: ISO 32000-2, 14.3.3 (document information) and 14.9.2 (natural language)
    import pypdfium2

    document = pdf(write_labels, [label()], Press(FONTS, title="Labels, 2026-07-15", author="Sorrel Street Bindery"))
    opened = pypdfium2.PdfDocument(document)
    assert opened.get_metadata_dict(skip_empty=True) | {"CreationDate": "", "ModDate": ""} == {
        "Title": "Labels, 2026-07-15", "Author": "Sorrel Street Bindery", "Creator": "Tare & Tag",
        "Producer": "Tare & Tag", "Subject": "unspecified", "CreationDate": "", "ModDate": "",
    }  # fmt: skip
    opened.close()
    assert b"/Lang (en-US)" in document


def test_every_font_is_embedded_once_and_no_other_is_referenced():
    from pypdf import PdfReader

    document = pdf(write_labels, [label(str(number), recipient=("山田花子", f"A{number}")) for number in range(40)])
    faces = {}
    for page in PdfReader(BytesIO(document)).pages:
        for name, reference in page["/Resources"]["/Font"].items():
            faces[name] = reference.get_object()
    assert all("/FontFile2" in face["/FontDescriptor"] for face in faces.values())
    bases = [face["/BaseFont"].split("+")[1] for face in faces.values()]
    assert len(bases) == len(set(bases)) == 3
    assert document.count(b"/FontFile2") == 3


def test_a_calibrated_printer_moves_and_scales_words_but_never_the_dots_of_a_code():
    from desk.paper.proof import pages_in_dots, prove
    from tests.paper.made import as_array, places

    plain, moved = BytesIO(), BytesIO()
    write_labels([label()], plain, PRESS)
    by = Calibration(right=9.0, up=-7.0, scale=0.98)
    records = write_labels([label()], moved, Press(FONTS, calibration=by))
    before, after = places(plain.getvalue()), places(moved.getvalue())
    for (left, bottom, *_, words), (new_left, new_bottom, *_, new_words) in zip(before, after, strict=True):
        assert words == new_words
        assert (new_left, new_bottom) == pytest.approx((left * 0.98 + 9, bottom * 0.98 - 7), abs=1.5)
    assert prove(moved.getvalue(), records).faults == ()
    ((_, box),) = records[0].codes
    dots = as_array(next(pages_in_dots(moved.getvalue())))
    column = dots[:, round((box.left + box.width / 2) * 203 / 72)]
    top, bottom = (432 - box.top) * 203 / 72, (432 - box.bottom) * 203 / 72
    runs = [len(list(group)) for _, group in groupby(column[round(top) : round(bottom)])]
    assert [run % 3 for run in runs[1:-1]] == [0] * (len(runs) - 2), runs
