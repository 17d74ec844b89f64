from io import BytesIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.paper.made import ink_on, places

INK = ink_on(BytesIO())
WORDS = st.lists(st.text("abcdWM山", min_size=1, max_size=12), min_size=1, max_size=12).map(" ".join)


@given(WORDS, st.integers(30, 300))
def test_wrapping_keeps_every_letter_and_the_room(words, room):
    lines = INK.wrapped(words, room, 8)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert all(INK.width(line, 8) <= room for line in lines)


@given(WORDS, st.integers(20, 300))
def test_a_size_is_the_largest_that_fits(words, room):
    size = INK.size_for(words, room, (20, 4))
    assert size == 4 or INK.width(words, size) <= room
    assert size == 20 or INK.width(words, size + 0.5) > room


def test_a_block_uses_the_width_and_the_height_of_its_place():
    assert INK.fitted(["A"], (200, 100), (19, 8)) == (19, ["A"])
    assert INK.fitted(["A"] * 8, (200, 100), (19, 8))[0] == 10
    size, lines = INK.fitted(["wide words " * 12], (100, 300), (19, 8))
    assert size == 8
    assert len(lines) > 3
    assert INK.fitted([], (10, 10), (19, 8)) == (10 / 1.25, [])


def test_nothing_to_wrap_is_one_empty_line():
    assert INK.wrapped("", 10, 8) == [""]
    assert INK.wrapped("   ", 1, 8) == []


@pytest.mark.parametrize(("way", "edge", "x"), [("left", 0, 50), ("right", 2, 150)])
def test_words_begin_or_end_where_they_should(way, edge, x):
    out = BytesIO()
    ink = ink_on(out)
    getattr(ink, way)(x, 100, "HIH", 20, bold=True)
    ink.canvas.showPage()
    ink.canvas.save()
    assert places(out.getvalue())[0][edge] == pytest.approx(x, abs=2.5)


def test_words_in_the_middle():
    out = BytesIO()
    ink = ink_on(out)
    ink.middle(100, 100, "HIH", 20)
    ink.canvas.showPage()
    ink.canvas.save()
    left, _, right, _, _ = places(out.getvalue())[0]
    assert (left + right) / 2 == pytest.approx(100, abs=0.5)


@given(WORDS, st.integers(30, 200))
def test_one_line_is_made_smaller_first_and_cut_only_then(words, room):
    written, size = INK.squeezed(words, room, (12, 6))
    assert INK.width(written, size) <= room
    assert written == words or (size == 6 and written.endswith("…") and words.startswith(written[:-1]))
    assert (written == words) == (INK.width(words, 6) <= room)
