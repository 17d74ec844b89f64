"""One key undoes each act of the bench and nothing else."""

from decimal import Decimal

import pytest

from desk.domain.status import PieceStatus
from desk.session.papers.hand_over import stamp_all


def test_setting_aside_can_be_undone(bench):
    bench.open("1043")
    bench.press("a")
    assert bench.case("1043").beside is PieceStatus.SET_ASIDE
    bench.press("z")
    assert bench.case("1043").beside is None


@pytest.mark.parametrize("key", ["s", "h", "q", "k", "b", "u"])
def test_choices_for_a_weighed_piece_can_be_undone(bench, key):
    bench.open("1043")
    bench.press("t1.3")
    bench.enter()
    before = bench.case("1043").weighing
    bench.press(key)
    assert bench.case("1043").weighing != before
    bench.press("z")
    assert bench.case("1043").weighing == before


def test_choosing_a_mailer_can_be_undone(bench):
    bench.open("1043")
    before = bench.case("1043").mailer
    bench.press("m1")
    assert bench.case("1043").mailer == "A7 envelope"
    bench.press("z")
    assert bench.case("1043").mailer == before


def test_copied_weights_are_undone_in_one_step(bench):
    bench.open("1041")
    bench.press("t0.9")
    bench.enter()
    screen, desk = bench.screen, bench.desk
    waiting = screen.alike.waiting(screen.piece)
    bench.press("e")
    bench.press("z")
    assert [desk.pile.verdicts[number].case.weighing for number in waiting] == [None] * len(waiting)
    assert bench.case("1041").weighing is not None


def test_undoing_an_answer_opens_the_issue_again(bench):
    bench.open("1049")
    bench.press("t1.0")
    bench.enter()
    bench.press("y")
    bench.press("z")
    assert bench.case("1049").answered == frozenset()
    assert bench.screen.side.seen.isVisible()


def test_each_step_has_a_name_to_show(bench, weigh_demo):
    weigh_demo()
    bench.open("1043")
    for key in ("a", "a", "b", "m1"):
        bench.press(key)
        name = bench.desk.steps()[0]
        assert name
        assert name[0].isupper()


def test_a_parcel_undone_after_the_next_one_opened_is_opened_and_weighed_again(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.pan("0")
    bench.press("n")
    assert bench.screen.verdict.case.order.number != "1043"
    bench.press("z")
    assert (bench.screen.verdict.case.order.number, bench.case("1043").weighing) == ("1043", None)
    bench.pan("1.3")
    assert bench.case("1043").weighing.shown.value == Decimal("1.3")


def test_undo_does_not_open_another_piece_under_the_parcel_on_the_scale(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.pan("0")
    bench.press("n")
    following = bench.screen.piece
    assert bench.screen.verdict.case.order.number != "1043"
    bench.pan("2.6", 0.2)
    bench.press("z")
    assert (bench.screen.piece, bench.case("1043").weighing) == (following, None)


def test_undo_of_a_mailer_leaves_the_open_piece_open(bench):
    bench.open("1041")
    bench.press("m1")
    bench.open("1042")
    following = bench.screen.piece
    bench.press("z")
    assert bench.case("1041").mailer != "A7 envelope"
    assert bench.screen.piece == following == bench.desk.pile.find("1042")


def test_a_weight_undone_while_its_parcel_is_on_the_scale_asks_before_it_is_recorded_again(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.press("z")
    bench.pan("1.3", 5)
    assert bench.case("1043").weighing is None
    assert bench.screen.scale.live.asks
    bench.enter()
    assert bench.case("1043").weighing.shown.value == Decimal("1.3")
    bench.press("z")
    bench.pan("0")
    bench.pan("1.3")
    assert bench.case("1043").weighing.shown.value == Decimal("1.3")


@pytest.fixture
def messages(bench):
    heard = []
    bench.desk.happened.connect(lambda event: heard.append(event.words))
    return heard


WARNS = "Last step, not at the bench: {step}. Press Z again to undo it."


def test_undoing_an_import_names_it_first_and_needs_a_second_press(bench, messages):
    many = len(bench.desk.pile.verdicts)
    bench.press("z")
    assert (messages[-1], len(bench.desk.pile.verdicts)) == (WARNS.format(step="Orders imported"), many)
    bench.press("z")
    assert (messages[-1], len(bench.desk.pile.verdicts)) == ("Undone: Orders imported", 0)


def test_undoing_the_import_of_the_shop_names_it_too(bench, messages):
    bench.press("zz")
    bench.press("z")
    assert messages[-1] == WARNS.format(step="Shop file imported")


def test_the_named_step_is_dropped_when_something_else_is_done(bench, messages):
    many = len(bench.desk.pile.verdicts)
    bench.press("z")
    bench.open("1043")
    bench.press("z")
    assert messages[-1] == WARNS.format(step="Orders imported")
    bench.press("a")
    bench.press("z")
    assert messages[-1] == "Undone: Set aside: 1 piece"
    bench.press("z")
    assert (messages[-1], len(bench.desk.pile.verdicts)) == (WARNS.format(step="Orders imported"), many)


def test_the_step_to_undo_is_named_next_to_the_last_pieces(bench):
    column = bench.screen.pieces
    assert column.step.isHidden()
    bench.open("1043")
    bench.press("t1.3")
    bench.enter()
    assert column.step.text() == "Weighed 1043"
    bench.press("a")
    assert column.step.text() == "Set aside: 1 piece"
    bench.press("zz")
    assert column.step.isHidden()


def test_stamps_and_hand_over_are_no_steps_of_the_bench(bench, weigh_demo, messages):
    weigh_demo()
    stamp_all(bench.desk.sitting, bench.desk.pile)
    step = bench.desk.steps()[0]
    bench.press("z")
    assert messages[-1] == WARNS.format(step=step)
    assert bench.screen.pieces.step.text() == step
