"""A table's width is shared so that long texts get the room that short ones leave, and figures are never cut."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.ui.kit.column_widths import ColumnRule

NUMBER, NAME, PICTURE, FIGURE = range(4)


def rule(**needs: int) -> ColumnRule:
    columns = {"name": NAME, "figure": FIGURE}
    return ColumnRule(
        (50, 100, 60, 80),
        dropped_first=(PICTURE, FIGURE),
        grows=(NAME,),
        fits=(FIGURE,),
        yields=(PICTURE,),
        needs={columns[name]: pixels for name, pixels in needs.items()},
    )


def test_spare_room_goes_to_the_texts() -> None:
    assert rule().shares(290) == {NAME: 100}
    assert rule().shares(390) == {NAME: 200}


def test_short_texts_give_room_to_others_before_a_column_is_hidden() -> None:
    plain = replace(rule(), yields=())
    assert plain.dropped(280) == frozenset()  # the texts may be a tenth narrower than usual
    assert plain.dropped(279) == {PICTURE}
    short = replace(rule(name=70), yields=())
    assert short.dropped(253) == frozenset()
    assert short.dropped(252) == {PICTURE}


def test_a_hidden_column_returns_when_a_wider_one_made_room() -> None:
    both = ColumnRule((100, 40, 200), dropped_first=(1, 2))
    assert both.dropped(340) == frozenset()
    assert both.dropped(339) == {1}
    assert both.dropped(299) == {2}  # first the small one went, then the large one too: the small one fits again
    assert both.dropped(139) == {1, 2}


@pytest.mark.parametrize(("figure", "start"), [(40, 40), (120, 120)])
def test_figures_take_exactly_what_they_need(figure: int, start: int) -> None:
    assert rule(figure=figure).start(FIGURE) == start


def test_a_picture_gives_way_to_texts_up_to_a_limit() -> None:
    assert rule(name=130).dropped(320) == frozenset()
    assert rule(name=130).dropped(319) == {PICTURE}
    assert rule(name=900).dropped(430) == frozenset()  # 240, in two lines, are enough to keep the picture
    assert rule(name=900).dropped(429) == {PICTURE}
    assert rule(name=900).dropped(339) == {PICTURE}


def test_the_column_that_needs_least_gets_its_room_first() -> None:
    two = ColumnRule((100, 100), grows=(0, 1), needs={0: 110, 1: 900})
    assert two.shares(240) == {0: 110, 1: 130}


def test_spare_room_is_shared_in_equal_parts() -> None:
    two = ColumnRule((100, 100), grows=(0, 1), needs={0: 110, 1: 120})
    assert two.shares(270) == {0: 130, 1: 140}


def test_texts_become_narrower_rather_than_leave_the_window() -> None:
    alone = ColumnRule((50, 100), grows=(1,))
    assert alone.shares(130) == {1: 80}
    assert alone.shares(60) == {1: 40}  # never less than four tenths


def test_with_two_lines_a_long_text_is_wrapped_and_a_short_one_is_not() -> None:
    three = ColumnRule((100, 100, 100), grows=(0, 1, 2), needs={0: 140, 1: 400, 2: 160})
    assert three.shares(480) == {0: 140, 1: 180, 2: 160}
    assert three.shares(480, two_lines=True) == {0: 140, 1: 240, 2: 100}  # 160 is wrapped too
    assert three.shares(700, two_lines=True) == {0: 140, 1: 400, 2: 160}


def test_a_typed_reason_does_not_take_the_room_of_the_others() -> None:
    assert rule(figure=128).start(FIGURE) == 128
    assert rule(figure=900).start(FIGURE) == 128
