"""Each act of the bench is taken back by one key, and nothing else with it."""

import pytest

from desk.domain.stands import Stand


def test_setting_aside_is_taken_back(bench):
    bench.open("1043")
    bench.press("a")
    assert bench.case("1043").beside is Stand.SET_ASIDE
    bench.press("z")
    assert bench.case("1043").beside is None


@pytest.mark.parametrize("key", ["s", "h", "q", "k", "b", "u"])
def test_what_was_said_of_a_weighed_piece_is_taken_back(bench, key):
    bench.open("1043")
    bench.press("t1.3")
    bench.enter()
    before = bench.case("1043").weighing
    bench.press(key)
    assert bench.case("1043").weighing != before
    bench.press("z")
    assert bench.case("1043").weighing == before


def test_a_mailer_that_was_chosen_is_taken_back(bench):
    bench.open("1043")
    before = bench.case("1043").mailer
    bench.press("m1")
    assert bench.case("1043").mailer == "A7 envelope"
    bench.press("z")
    assert bench.case("1043").mailer == before


def test_weights_that_were_copied_are_taken_back_at_once(bench):
    bench.open("1041")
    bench.press("t0.9")
    bench.enter()
    screen, desk = bench.screen, bench.desk
    waiting = screen.alike.waiting(screen.piece)
    bench.press("e")
    bench.press("z")
    assert [desk.pile.verdicts[number].case.weighing for number in waiting] == [None] * len(waiting)
    assert bench.case("1041").weighing is not None


def test_a_look_that_was_answered_is_open_again(bench):
    bench.open("1049")
    bench.press("t1.0")
    bench.enter()
    bench.press("y")
    bench.press("z")
    assert bench.case("1049").answered == frozenset()
    assert bench.screen.side.seen.isVisible()


def test_each_step_has_a_name_that_the_window_can_show(bench, weigh_demo):
    weigh_demo()
    bench.open("1043")
    for key in ("a", "a", "b", "m1"):
        bench.press(key)
        name = bench.desk.steps()[0]
        assert name
        assert name[0].isupper()


def test_a_list_that_was_taken_in_is_not_taken_back_by_z(bench):
    said = []
    bench.desk.happened.connect(said.append)
    assert bench.desk.steps()[0] == "Take in orders"
    bench.press("z")
    assert len(bench.desk.pile.verdicts) > 50
    assert said[-1].words == "Nothing done at the bench could be taken back. Ctrl+Z undoes what was taken in."
