"""Pages as pictures: the window asks here and gets pixels, whatever reads the PDF."""

from io import BytesIO

import pytest
from reportlab.pdfgen.canvas import Canvas

from desk.session.papers.pictures import PagePictures, Picture, open_pages


def pdf(*sizes):
    out = BytesIO()
    page = Canvas(out)
    for width, height in sizes:
        page.setPageSize((width, height))
        page.rect(0, 0, width / 2, height, stroke=0, fill=1)  # the left half is black
        page.showPage()
    page.save()
    return out.getvalue()


@pytest.fixture
def opened():
    pages = open_pages(pdf((288, 432), (144, 72)))
    yield pages
    pages.close()


def test_pages_are_counted_and_measured_in_points(opened):
    assert isinstance(opened, PagePictures)
    assert (len(opened), opened.sizes) == (2, ((288, 432), (144, 72)))


@pytest.mark.parametrize(("dpi", "size"), [(72, (144, 72)), (144, (288, 144)), (203, (406, 203))])
def test_a_page_is_drawn_at_the_requested_resolution(opened, dpi, size):
    drawn = opened.picture(1, dpi)
    assert isinstance(drawn, Picture)
    assert (drawn.width, drawn.height) == size
    assert len(drawn.rgb) == drawn.stride * drawn.height
    assert drawn.stride >= 3 * drawn.width


def test_what_is_black_on_the_page_is_black_in_the_picture(opened):
    drawn = opened.picture(1, 72)
    middle = drawn.stride * (drawn.height // 2)
    left, right = middle + 3 * 10, middle + 3 * (drawn.width - 10)
    assert (drawn.rgb[left : left + 3], drawn.rgb[right : right + 3]) == (b"\x00\x00\x00", b"\xff\xff\xff")


@pytest.mark.parametrize("number", [-1, 2, 99])
def test_a_missing_page_gives_no_picture(opened, number):
    with pytest.raises(IndexError):
        opened.picture(number, 72)


@pytest.mark.parametrize("bytes_of", [b"", b"no PDF at all", pdf((10, 10))[:40]])
def test_a_file_that_is_not_a_pdf_is_refused(bytes_of):
    with pytest.raises(ValueError, match="not a PDF"):
        open_pages(bytes_of)
