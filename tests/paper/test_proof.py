from dataclasses import replace
from io import BytesIO

import pytest

from desk.paper import proof
from desk.paper.dots import Grid
from desk.paper.ink import PageRecord
from desk.paper.label.label import write_labels
from desk.paper.press import Calibration, Press
from desk.paper.proof import FaultKind, pages_in_dots, prove
from desk.paper.slip import write_slips
from desk.paper.stock import Box
from tests.paper.codes import codes_on_pages
from tests.paper.made import FONTS, PRESS, as_array, ink_on, label, pdf, proved, slip


def drawn(draw, size=(288, 144)):
    """Return a page drawn by `draw`, and its records."""
    out = BytesIO()
    record = PageRecord(size)
    ink = replace(ink_on(out, size), record=record)
    draw(ink)
    ink.canvas.showPage()
    ink.canvas.save()
    return out.getvalue(), record


def kinds(draw, **record_fields):
    document, record = drawn(draw)
    for name, value in record_fields.items():
        setattr(record, name, value)
    return [(fault.kind, fault.text) for fault in prove(document, [record]).faults]


def test_pages_are_rendered_at_the_printers_resolution():
    document = pdf(write_labels, [label()])
    assert [(dots.width, dots.height) for dots in pages_in_dots(document)] == [(812, 1218)]
    assert [(dots.width, dots.height) for dots in pages_in_dots(document, 300)] == [(1200, 1800)]
    assert set(next(pages_in_dots(document)).data) == {0, 255}


def test_correct_documents_have_no_fault():
    for write, contents in ((write_labels, [label(), label("B-0017", letter=True)]), (write_slips, [slip()])):
        records, found = proved(write, contents)
        assert found.faults == ()
        assert found.codes == len(contents) == len(records)


def test_a_code_with_scratched_bars_is_a_fault():
    def scratched(ink):
        ink.code("1047-1", Box(9, 60, 270, 40))
        ink.canvas.rect(60, 55, 12, 50, fill=1)

    assert kinds(scratched) == [(FaultKind.UNREAD, "1047-1")]


def test_a_code_with_other_content_is_a_fault():
    document, record = drawn(lambda ink: ink.code("1047-1", Box(9, 60, 270, 40)))
    record.codes[0] = ("1047-2", record.codes[0][1])
    assert [fault.kind for fault in prove(document, [record]).faults] == [FaultKind.UNREAD]


@pytest.mark.parametrize(
    ("x", "y", "expected"),
    [
        (20, 20, []),
        (-3, 20, [(FaultKind.EDGE, "HIH")]),
        (20, -3, [(FaultKind.EDGE, "HIH")]),
        (270, 20, [(FaultKind.EDGE, "HIH")]),
    ],
)
def test_words_over_the_edge_of_the_page_are_a_fault(x, y, expected):
    assert kinds(lambda ink: ink.left(x, y, "HIH", 12)) == expected


@pytest.mark.parametrize(("y", "expected"), [(80, []), (68, [(FaultKind.CUT, "HIH")])])
def test_words_over_a_cut_line_are_a_fault(y, expected):
    cells = [Box(0, 0, 288, 72), Box(0, 72, 288, 72)]
    assert kinds(lambda ink: ink.left(20, y, "HIH", 12), cells=cells) == expected


@pytest.mark.parametrize(("y", "expected"), [(60, []), (43, [(FaultKind.OVERLAP, "HIH")])])
def test_words_over_other_words_are_a_fault(y, expected):
    def two(ink):
        ink.left(20, y, "HIH", 12)
        ink.left(20, 40, "HIH", 12)

    assert kinds(two) == expected


@pytest.mark.parametrize(("y", "expected"), [(100, []), (55, [(FaultKind.OVERLAP, "HIH")])])
def test_words_over_a_code_are_a_fault(y, expected):
    def both(ink):
        ink.code("1047-1", Box(0, 40, 270, 40))
        ink.left(4, y, "HIH", 4)

    assert kinds(both) == expected


def opened_pages(monkeypatch):
    """Return a list that gets the number of each page that is opened from now on."""
    opened, really = [], proof._open_pages

    def watched(document, only=None):
        for number, page in really(document, only):
            opened.append(number)
            yield number, page

    monkeypatch.setattr(proof, "_open_pages", watched)
    return opened


def test_only_changed_pages_are_checked_again(monkeypatch):
    opened = opened_pages(monkeypatch)
    _, first = proved(write_slips, [slip("8899"), slip("8900"), slip("8901")])
    assert (opened, first.seconds > 0) == ([0, 1, 2], True)
    _, again = proved(write_slips, [slip("8899"), slip("8900"), slip("8901")])
    assert (again.faults, again.codes, again.seconds) == ((), 3, 0.0)
    _, changed = proved(write_slips, [slip("8899"), slip("8902"), slip("8901")])
    assert (opened, changed.codes, changed.seconds > 0) == ([0, 1, 2, 1], 3, True)


def test_another_resolution_or_calibration_needs_another_check(monkeypatch):
    proved(write_slips, [slip("8903")])
    opened = opened_pages(monkeypatch)
    assert proved(write_slips, [slip("8903")], dpi=300)[1].seconds > 0
    assert proved(write_slips, [slip("8903")], replace(PRESS, calibration=Calibration(right=2.0)))[1].seconds > 0
    assert opened == [0, 0]


def test_faults_are_kept_with_their_page(monkeypatch):
    monkeypatch.setattr(proof, "decoded", lambda *_: "another")
    records, first = proved(write_slips, [slip("8904"), slip("8905")])
    assert [(one.page, one.kind) for one in first.faults] == [(0, FaultKind.UNREAD), (1, FaultKind.UNREAD)]
    monkeypatch.undo()
    assert proved(write_slips, [slip("8905"), slip("8906")])[1].faults == (
        replace(first.faults[1], page=0, references=tuple(records[1].references)),
    )
    proof._kept.clear()


def test_letters_with_the_same_glyph_number_are_different_pages():
    """A font is embedded with its used characters only, so the first special letter of a file has the first number."""
    seals = [write_slips([slip("7", items=(item,))], BytesIO(), PRESS)[0].seal for item in ("Œ", "Ž")]
    assert seals[0] != seals[1]


def test_the_oldest_pages_are_forgotten(monkeypatch):
    monkeypatch.setattr(proof, "KEPT", 2)
    proof._kept.clear()
    proved(write_slips, [slip("1"), slip("2"), slip("3")])
    opened = opened_pages(monkeypatch)
    proved(write_slips, [slip("1"), slip("2"), slip("3")])
    assert opened == [0]


def test_a_check_can_be_canceled():
    records = write_slips([slip("7788")], BytesIO(), PRESS)
    assert prove(pdf(write_slips, [slip("7788")]), records, canceled=lambda: True) is None


def test_codes_are_read_from_a_file_as_from_its_bytes(tmp_path):
    document = pdf(write_slips, [slip("12"), slip("13")])
    file = tmp_path / "slips.pdf"
    file.write_bytes(document)
    assert list(codes_on_pages(file)) == list(codes_on_pages(document)) == [("12-1",), ("13-1",)]


def test_an_unknown_grid_is_refused():
    with pytest.raises(ValueError, match="600"):
        Grid(600)


PAGE = (100.0, 100.0)


def misplaced(*boxes, codes=(), cells=()):
    """Return the kinds of fault of the first of these texts on a page of 100 by 100 points."""
    record = PageRecord(PAGE)
    record.codes.extend(("1", code) for code in codes)
    record.cells.extend(cells)
    return [kind for index, kind in proof._misplaced(record, boxes) if index == 0]


@pytest.mark.parametrize(
    ("box", "is_misplaced"),
    [
        (Box(1, 1, 98, 98), False),
        (Box(0.99, 1, 98, 98), True),
        (Box(1, 0.99, 98, 98), True),
        (Box(1, 1, 98.01, 98), True),
        (Box(1, 1, 98, 98.01), True),
        (Box(-9, 1, 0, 98), False),  # a blank
        (Box(-9, 1, 98, 0), False),
    ],
)
def test_text_is_at_least_a_point_from_the_edge_of_the_page(box, is_misplaced):
    assert misplaced(box) == ([FaultKind.EDGE] if is_misplaced else [])


def test_text_ends_at_the_edge_of_its_part_of_the_page():
    cells = [Box(0, 0, 100, 50), Box(0, 50, 100, 50)]
    assert misplaced(Box(10, 50, 50, 10), cells=cells) == []
    assert misplaced(Box(10, 49.9, 50, 10), cells=cells) == [FaultKind.CUT]


@pytest.mark.parametrize(("bottom", "kinds"), [(49, []), (48.9, [FaultKind.OVERLAP])])
def test_text_overlaps_a_code_by_at_most_a_point(bottom, kinds):
    assert misplaced(Box(10, bottom, 50, 10), codes=[Box(10, 20, 60, 30)]) == kinds


@pytest.mark.parametrize(
    ("bottom", "height", "kinds"),
    [
        (37, 10, []),  # 3 of 10 points
        (36.99, 10, [FaultKind.OVERLAP]),
        (37.9, 5, [FaultKind.OVERLAP]),  # of the lower text's height
        (38.5, 5, []),
        (39, 1, []),  # not more than a point
    ],
)
def test_text_overlaps_the_next_line_by_at_most_three_tenths_of_its_height(bottom, height, kinds):
    assert misplaced(Box(10, 30, 50, 10), Box(10, bottom, 50, height)) == kinds


@pytest.mark.parametrize(("left", "kinds"), [(59, []), (58.9, [FaultKind.OVERLAP])])
def test_texts_next_to_each_other_overlap_by_at_most_a_point(left, kinds):
    assert misplaced(Box(10, 30, 50, 10), Box(left, 30, 30, 10)) == kinds


@pytest.mark.parametrize(("bottom", "kinds"), [(49.5, []), (49.4, [(FaultKind.CUT, "1")])])
def test_a_code_is_over_a_cut_line_by_at_most_half_a_point(monkeypatch, bottom, kinds):
    monkeypatch.setattr(proof, "decoded", lambda *_: "1")
    record = PageRecord(PAGE)
    record.cells.append(Box(0, 50, 100, 50))
    record.codes.append(("1", Box(10, bottom, 50, 20)))
    assert list(proof._code_faults(record, None, 203)) == kinds


@pytest.mark.parametrize("turned_round", [False, True])
def test_covered_text_is_found_anywhere_on_the_page(turned_round):
    rows = [Box(10, 5 + 12 * row, 80, 10) for row in range(7)]
    boxes = [*rows, Box(10, 34, 80, 10), Box(60, 70, 20, 10)]  # the last two cover rows 2 and 5
    boxes = boxes[::-1] if turned_round else boxes
    found = [index for index, kind in proof._misplaced(PageRecord(PAGE), boxes) if kind is FaultKind.OVERLAP]
    assert found == ([0, 1] if turned_round else [2, 5])


@pytest.mark.parametrize("dpi", [203, 300])
def test_a_code_is_read_from_the_same_dots_as_the_whole_page(dpi):
    out = BytesIO()
    (record,) = write_labels([label("48-1")], out, Press(FONTS, dpi=dpi))
    whole = as_array(next(pages_in_dots(out.getvalue(), dpi)))
    height, width = whole.shape
    sides = (record.codes[0][1].left, record.codes[0][1].bottom, record.codes[0][1].right, record.codes[0][1].top)
    left, bottom, right, top = (round(side * dpi / 72) for side in sides)
    pages = proof._open_pages(out.getvalue())
    part = as_array(proof._rendered(next(pages)[1], dpi, (left, bottom, width - right, height - top)))
    assert (part == whole[height - top : height - bottom, left:right]).all()
    assert (part == 0).any()
