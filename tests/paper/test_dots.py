import shutil
import subprocess
from io import BytesIO
from itertools import groupby

import numpy as np
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.graphics.barcode import code128
from reportlab.pdfgen.canvas import Canvas

from desk.paper.dots import LONGEST, Grid, bars, can_be_coded, code_width
from desk.paper.ink import Ink
from desk.paper.proof import pages_in_dots
from desk.paper.stock import Box
from tests.paper.codes import codes_on_pages
from tests.paper.made import FONTS, LONG, as_array

REFERENCES = ("1047-1", "7-1", "ORD-2026-0000123-1", "12345678", f"{LONG}-1", "B-0017-2", "99", "#A/b 3.x-12")
SHAPES = st.one_of(
    st.text("0123456789", min_size=1, max_size=14),
    st.builds("{}-{}".format, st.text("0123456789", min_size=1, max_size=10), st.integers(1, 12)),
    st.from_regex(r"[A-Z]{0,4}-?[0-9]{1,8}-[1-9]", fullmatch=True),
    st.text([chr(sign) for sign in range(33, 127)], min_size=1, max_size=10),
)


def coded(texts, dpi=203, room=270.0):
    """Return a PDF with one code per page."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(288, 144), invariant=1)
    for text in texts:
        assert Ink(canvas, FONTS, Grid(dpi), (288, 144)).code(text, Box(9, 60, room, 40))
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def theirs(text):
    """Return the widths of bars and spaces from the page library's own table of ISO/IEC 15417, where letters are
    widths.
    """
    code = code128.Code128(text)
    code.validate()
    code.encode()
    code.decompose()
    return [1 + "abcd".index(letter.lower()) for letter in code.decomposed]


@pytest.mark.parametrize("text", ["".join(map(chr, range(32, 72))), "".join(map(chr, range(72, 112))), "1047-1"])
def test_the_barcode_equals_that_of_an_independent_encoder(text):
    assert [width for _, width in bars(text)[0]] == theirs(text)[::2]


@pytest.mark.parametrize("text", REFERENCES)
def test_no_barcode_is_longer_than_that_of_an_independent_encoder(text):
    assert bars(text)[1] <= sum(theirs(text))


@pytest.mark.parametrize(
    ("text", "symbols"),
    [
        # source: worked by hand from ISO/IEC 15417: start, one symbol a character or pair, check, stop
        ("A", 4),
        ("1234", 5),
        ("12", 4),
        ("1047-1", 8),
        ("AB123456", 9),
        ("A1234B", 9),
    ],
)
def test_digits_are_paired_where_that_is_shorter(text, symbols):
    assert bars(text)[1] == 11 * symbols + 2  # the stop has 13 modules, every other symbol 11


@pytest.mark.parametrize("text", ["", "Ä12", "a\tb", "\x7f", "1" * (LONGEST + 1)])
def test_text_that_cannot_be_encoded_is_not_drawn(text):
    assert not can_be_coded(text)
    assert code_width(text, 5000, Grid()) is None
    assert not Ink(None, FONTS, Grid()).code(text, Box(0, 0, 5000, 10))
    with pytest.raises(ValueError, match="Code 128"):
        bars(text)


@pytest.mark.parametrize(
    ("modules", "room", "dpi", "dots"),
    [
        (90, 270, 203, 3),
        (189, 270, 203, 3),
        (240, 270, 203, 2),
        (400, 270, 203, None),
        (90, 270, 300, 4),
        (300, 270, 300, 3),
    ],
)
def test_the_narrowest_bar_is_three_dots_or_else_two_but_never_one(modules, room, dpi, dots):
    assert Grid(dpi).module(modules, room) == dots


def test_an_unknown_resolution_is_refused():
    with pytest.raises(ValueError, match="600"):
        Grid(600)


def test_a_barcode_too_long_for_its_place_is_not_drawn():
    assert code_width("X" * 40, 270, Grid()) is None
    assert not Ink(None, FONTS, Grid()).code("X" * 40, Box(0, 0, 270, 10))


@pytest.mark.parametrize("dpi", [203, 300])
def test_every_bar_is_exactly_whole_dots(dpi):
    for text, dots in zip(REFERENCES, pages_in_dots(coded(REFERENCES, dpi), dpi), strict=True):
        line = dots.row(dots.height - round(80 * dpi / 72))
        runs = [(level, len(list(group))) for level, group in groupby(line)]
        blacks = [length for level, length in runs if level == 0]
        module = Grid(dpi).module(bars(text)[1], 270)
        assert blacks == [width * module for _, width in bars(text)[0]]
        assert runs[0][1] >= 10 * module
        assert runs[-1][1] >= 10 * module


@pytest.mark.parametrize("dpi", [203, 300])
def test_codes_can_be_read_back(dpi):
    assert list(codes_on_pages(coded(REFERENCES, dpi), dpi)) == [(text,) for text in REFERENCES]


def test_a_code_made_for_203_dpi_can_be_read_at_300_dpi():
    # the default for an unknown printer
    assert list(codes_on_pages(coded(REFERENCES, 203), 300)) == [(text,) for text in REFERENCES]


@pytest.mark.parametrize("dpi", [203, 300])
def test_a_vertical_code_has_exact_whole_dots_too(dpi):
    out = BytesIO()
    canvas = Canvas(out, pagesize=(288, 432), invariant=1)
    ink = Ink(canvas, FONTS, Grid(dpi), (288, 432))
    with ink.within(Box(20.3, 30.7, 40, 380), turned=True) as part:
        assert part.code("1047-1", Box(3.3, 7.1, 200, 25))
    canvas.showPage()
    canvas.save()
    dots = as_array(next(pages_in_dots(out.getvalue(), dpi)))
    runs = [(level, len(list(group))) for level, group in groupby(dots[::-1, round(40 * dpi / 72)])]
    module = Grid(dpi).module(bars("1047-1")[1], 200)
    assert [length for level, length in runs if level == 0] == [width * module for _, width in bars("1047-1")[0]]


@settings(max_examples=25, deadline=None)
@given(st.lists(SHAPES, min_size=1, max_size=8))
def test_codes_of_any_order_number_can_be_read_back(texts):
    assert list(codes_on_pages(coded(texts))) == [(text,) for text in texts]


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="the second renderer is not on this machine")
def test_codes_can_be_read_back_with_a_second_renderer(tmp_path):
    """Renderers disagree about a bar that ends on the edge of a pixel; one alone would hide it."""
    file = tmp_path / "codes.pdf"
    file.write_bytes(coded(REFERENCES))
    subprocess.run(["pdftoppm", "-mono", "-r", "203", str(file), str(tmp_path / "page")], check=True)
    read = []
    for picture in sorted(tmp_path.glob("page*.pbm")):
        found = zxingcpp.read_barcodes(bitmap(picture.read_bytes()), formats=zxingcpp.BarcodeFormat.Code128)
        read.append([code.text for code in found])
    assert read == [[text] for text in REFERENCES]


def bitmap(pbm):
    """Return a P4 bitmap as rows of 0 and 255."""
    _, size, bits = pbm.split(b"\n", 2)
    width, height = map(int, size.split())
    rows = np.unpackbits(np.frombuffer(bits, np.uint8)).reshape(height, -1)[:, :width]
    return np.ascontiguousarray((1 - rows) * 255)


def test_a_code_has_at_most_forty_characters():
    assert can_be_coded("1" * 40)
    assert not can_be_coded("1" * 41)


@pytest.mark.parametrize(
    ("room", "dpi", "dots"),
    [
        (300, 203, 3),  # 80 modules and ten on each side
        (299, 203, 2),
        (200, 203, 2),
        (199, 203, None),
        (400, 300, 4),
        (399, 300, 3),
        (300, 300, 3),
        (299, 300, None),
    ],
)
def test_a_code_fits_into_exactly_the_dots_it_needs(room, dpi, dots):
    assert Grid(dpi).module(80, room * 72 / dpi) == dots
    assert Grid(dpi).module(80, room * 72 / dpi - 0.01) == Grid(dpi).module(80, (room - 1) * 72 / dpi)
