from io import BytesIO

import numpy as np

from desk.paper.label import write_labels
from desk.paper.proof import by_page_size, codes_on_pages, pages_in_dots, unread
from desk.paper.slip import write_slips
from tests.paper.made import ink_on, label, pages, pdf, slip


def test_pages_come_at_the_printer_s_own_dots():
    document = pdf(write_labels, [label(), label(letter=True)])
    shapes = [dots.shape for dots in pages_in_dots(document)]
    assert shapes == [(1218, 812), (406, 812)]
    assert [dots.shape for dots in pages_in_dots(document, 300)] == [(1800, 1200), (600, 1200)]
    assert set(np.unique(next(pages_in_dots(document)))) == {0, 255}


def test_what_does_not_read_back_is_named():
    document = pdf(write_slips, [slip("1"), slip("№ 2"), slip("3")])
    assert unread(document, ["1-1", "№ 2-1", "3-1"]) == ["№ 2-1"]
    assert unread(document, ["1-1", "№ 2-1", "4-1", "5-1"]) == ["№ 2-1", "4-1", "5-1"]


def test_reading_back_can_be_stopped():
    document = pdf(write_slips, [slip("1")])
    assert unread(document, ["other"], cancelled=lambda: True) == []


def test_a_file_is_read_like_its_bytes(tmp_path):
    document = pdf(write_slips, [slip("12"), slip("13")])
    file = tmp_path / "slips.pdf"
    file.write_bytes(document)
    assert list(codes_on_pages(file)) == list(codes_on_pages(document)) == [("12-1",), ("13-1",)]


def test_a_code_with_a_scratch_through_its_bars_is_not_taken_for_read():
    out = BytesIO()
    ink = ink_on(out, (288, 144))
    from desk.paper.dots import draw_code

    draw_code(ink.canvas, "1047-1", (9, 60, 270, 40), ink.grid)
    ink.canvas.rect(60, 55, 12, 50, fill=1)
    ink.canvas.showPage()
    ink.canvas.save()
    assert unread(out.getvalue(), ["1047-1"]) == ["1047-1"]


def test_pages_of_one_size_go_to_one_medium():
    document = pdf(write_labels, [label("1"), label("2", letter=True), label("3")])
    parts = by_page_size(document)
    assert {size: list(codes_on_pages(part)) for size, part in parts.items()} == {
        (288.0, 432.0): [("1-1",), ("3-1",)],
        (288.0, 144.0): [("2-1",)],
    }
    assert len(pages(parts[288.0, 144.0])) == 1
