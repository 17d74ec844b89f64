from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.paper.ink import PartPlacement
from desk.paper.stock import Box
from tests.paper.made import ink_on, places

INK = ink_on(BytesIO())
WORDS = st.lists(st.text("abcdWM山@.", min_size=1, max_size=12), min_size=1, max_size=12).map(" ".join)


@given(WORDS, st.integers(30, 300))
def test_wrapping_keeps_every_letter_within_the_width(words, room):
    lines = INK.wrapped(words, room, 8)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert all(INK.width(line, 8) <= room for line in lines)


@given(WORDS, st.integers(20, 300))
def test_the_largest_type_size_that_fits_is_used(words, room):
    size = INK.size_for(words, room, (20, 4))
    assert size == 4 or INK.width(words, size) <= room
    assert size == 20 or INK.width(words, size + 0.5) > room


def test_a_long_email_is_split_after_punctuation():
    email = "wilhelmina.featherstonehaugh@bookbinders-of-the-north.example"
    assert INK.wrapped(email, 160, 9.5) == ["wilhelmina.featherstonehaugh@", "bookbinders-of-the-north.example"]
    assert INK.wrapped("x-" + "a" * 40, INK.width("x-aaaaaa", 8), 8)[0] == "x-aaaaaa"  # not "x-" alone on a line
    assert INK.wrapped("xxx-" + "a" * 40, INK.width("xxx-aaaa", 8), 8)[0] == "xxx-"
    assert INK.wrapped("x" * 12, INK.width("x" * 8, 8), 8) == ["x" * 8, "x" * 4]


def test_nothing_to_wrap_is_one_empty_line():
    assert INK.wrapped("", 10, 8) == [""]
    assert INK.wrapped("   ", 1, 8) == []


@pytest.mark.parametrize(("way", "edge", "x"), [("left", 0, 50), ("right", 2, 150)])
def test_text_starts_or_ends_at_its_position(way, edge, x):
    out = BytesIO()
    ink = ink_on(out)
    getattr(ink, way)(x, 100, "HIH", 20, bold=True)
    ink.canvas.showPage()
    ink.canvas.save()
    assert places(out.getvalue())[0][edge] == pytest.approx(x, abs=2.5)


def test_centered_text_is_centered():
    out = BytesIO()
    ink = ink_on(out)
    ink.middle(100, 100, "HIH", 20)
    ink.canvas.showPage()
    ink.canvas.save()
    left, _, right, _, _ = places(out.getvalue())[0]
    assert (left + right) / 2 == pytest.approx(100, abs=0.5)


@given(WORDS, st.integers(30, 200))
def test_a_line_is_made_smaller_first_and_then_shortened(words, room):
    written, size = INK.squeezed(words, room, (12, 6))
    assert INK.width(written, size) <= room
    assert written == words or (size == 6 and written.endswith("…") and words.startswith(written[:-1].rstrip()))
    assert (written == words) == (INK.width(words, 6) <= room)


def test_rotated_text_runs_upward_with_its_baseline_at_the_right():
    out = BytesIO()
    ink = ink_on(out)
    with ink.within(Box(100, 50, 40, 200), turned=True) as part:
        assert part.size == (200, 40)
        part.left(10, 5, "HIH", 12)
    ink.canvas.showPage()
    ink.canvas.save()
    left, bottom, right, top, _ = places(out.getvalue())[0]
    assert top - bottom > right - left  # it runs up
    assert bottom == pytest.approx(61, abs=1.5)
    assert right == pytest.approx(135, abs=1.5)


@pytest.mark.parametrize("scale", [0.98, 1.0, 1.02])
@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_the_position_of_a_part_on_the_page_is_exact(turns, scale):
    place = PartPlacement(30.0, 70.0, turns, scale)
    x, y = place.at(11.0, 17.0)
    a, b, c, d, e, f = place.back()
    assert (a * x + c * y + e, b * x + d * y + f) == pytest.approx((11.0, 17.0))
    box = place.box(Box(0, 0, 10, 20))
    assert (box.width, box.height) == pytest.approx(
        (10 * scale, 20 * scale) if turns % 2 == 0 else (20 * scale, 10 * scale)
    )
