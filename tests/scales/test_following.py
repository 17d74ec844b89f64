"""Which piece a weight belongs to. Weights in ounces; ten stable readings per second."""

from decimal import Decimal

import pytest

from desk.domain.weight import Shown, WeightUnit
from desk.scales.following import Following, Say, ScaleOutcome
from desk.scales.pan import CaptureKind
from desk.scales.reading import State, shown_reading
from desk.scales.settling import Settling, StepRule


class Desk:
    def __init__(self):
        self.following, self.now = Following(Settling(StepRule(Decimal("0.1"), "oz"))), 0.0

    def hold(self, ounces, seconds=1.0, state=State.STABLE, unit="oz", net=False):
        got = []
        for _ in range(round(seconds * 10)):
            got += self.following.feed(self.now, shown_reading(Decimal(ounces), unit, state, b"", net))
            self.now = round(self.now + 0.1, 6)
        return summaries(got)

    def open(self, piece):
        return summaries(self.following.open(piece))

    def take(self):
        return summaries(self.following.take(self.now))

    def shake(self, seconds):
        got = []
        for place in range(round(seconds * 10)):
            got += self.hold("4.0" if place % 2 else "4.4", 0.1, State.NOT_TOLD)
        return got


def summaries(outcomes):
    return [(one.say.value, str(one.settled.value), one.piece) for one in outcomes]


@pytest.fixture
def desk():
    desk = Desk()
    desk.hold("0.0", 0.5)
    return desk


def test_later_weights_replace_the_weight_of_the_open_piece(desk):
    assert desk.open(7) == []
    assert desk.hold("4.2", 3) == [("take", "4.2", 7)]
    assert desk.hold("6.0", 2) == [("replace", "6.0", 7)]  # never empty in between, so still this piece
    assert desk.hold("0.0") == []
    assert desk.hold("5.1") == [("replace", "5.1", 7)]


def test_the_pan_belongs_to_the_open_piece_only_while_its_item_is_on_it(desk):
    desk.open(7)
    desk.hold("4.2", 2)
    assert desk.following.owns_pan
    desk.open(8)
    assert not desk.following.owns_pan
    desk.hold("0.0")
    desk.hold("6.0", 2)
    assert desk.following.owns_pan
    desk.hold("0.0")
    assert not desk.following.owns_pan


@pytest.mark.parametrize(("stored", "is_news"), [("4.2", False), ("4.3", True), (None, True)])
def test_a_recorded_weight_that_is_no_longer_stored_is_forgotten(desk, stored, is_news):
    desk.open(7)
    desk.hold("4.2", 2)
    now = None if stored is None else Shown(Decimal(stored), WeightUnit.OUNCE, Decimal("0.1"))
    assert desk.following.follow(now) is is_news
    assert desk.following.owns_pan is not is_news
    assert (desk.following.asked is not None) is is_news


def test_a_weight_waits_for_the_number_entered_after_it(desk):
    assert desk.hold("4.2") == [("wait", "4.2", None)]
    assert desk.hold("0.0") == []
    assert desk.open(7) == [("take", "4.2", 7)]
    assert desk.following.waiting is None


def test_a_lifted_weight_is_asked_about_for_a_piece_opened_automatically(desk):
    desk.hold("4.2")
    desk.hold("0.0")
    assert summaries(desk.following.open(7, in_list=True)) == [("ask", "4.2", 7)]
    assert desk.take() == [("take", "4.2", 7)]
    assert (desk.following.waiting, desk.following.asked) == (None, None)


def test_a_weight_still_on_the_pan_belongs_to_the_next_piece(desk):
    desk.hold("4.2")
    assert summaries(desk.following.open(7, in_list=True)) == [("take", "4.2", 7)]


def test_putting_the_next_piece_on_answers_the_question_about_a_lifted_one(desk):
    desk.hold("4.2")
    desk.hold("0.0")
    desk.following.open(7, in_list=True)
    assert desk.hold("6.0") == [("take", "6.0", 7)]
    assert (desk.following.waiting, desk.following.asked) == (None, None)


def test_a_lifted_weight_in_question_is_used_for_a_number_that_is_entered(desk):
    desk.hold("4.2")
    desk.hold("0.0")
    desk.following.open(7, in_list=True)
    assert desk.open(8) == [("take", "4.2", 8)]


def test_a_waiting_weight_is_corrected(desk):
    assert desk.hold("5.0", 0.8) == [("wait", "5.0", None)]
    assert desk.hold("4.2") == [("wait", "4.2", None)]
    assert desk.open(7) == [("take", "4.2", 7)]


def test_a_waiting_weight_is_replaced_by_the_next(desk):
    desk.hold("4.2")
    desk.hold("0.0")
    assert desk.hold("3.0") == [("wait", "3.0", None)]
    assert desk.open(7) == [("take", "3.0", 7)]


def test_a_waiting_weight_that_was_swapped_unnoticed_is_asked_about(desk):
    desk.hold("4.2", 3)
    assert desk.hold("8.0") == [("ask", "8.0", None)]
    assert desk.hold("4.2") == [("ask", "4.2", None)]
    assert desk.open(7) == [("ask", "4.2", 7)]


def test_a_waiting_weight_that_is_touched_keeps_waiting(desk):
    desk.hold("4.2", 3)
    assert desk.hold("4.6", 0.3) == []
    assert desk.hold("4.2") == []
    assert desk.open(7) == [("take", "4.2", 7)]


def test_a_forgotten_parcel_never_goes_to_the_next_piece(desk):
    desk.open(7)
    desk.hold("4.2")
    desk.following.close()
    assert desk.open(8) == [("ask", "4.2", 8)]
    assert desk.hold("4.2", 3) == []
    desk.hold("0.0")
    assert desk.take() == []  # the asked weight has left the pan
    assert desk.hold("3.0") == [("take", "3.0", 8)]


def test_the_same_weight_can_be_accepted_with_a_click(desk):
    desk.open(7)
    desk.hold("4.2")
    desk.open(8)
    assert desk.take() == [("take", "4.2", 8)]
    assert desk.take() == []


def test_an_unnoticed_swap_for_the_next_piece_is_asked_about(desk):
    desk.open(7)
    desk.hold("4.2", 3)
    desk.open(8)
    assert desk.hold("3.0") == [("ask", "3.0", 8)]
    assert desk.take() == [("take", "3.0", 8)]
    assert desk.hold("3.0", 2) == []
    assert desk.hold("3.5", 3) == [("replace", "3.5", 8)]


def test_a_correction_for_a_piece_that_was_closed_is_asked_about(desk):
    desk.open(7)
    desk.hold("5.0", 0.6)
    desk.following.close()
    assert desk.hold("4.2") == [("ask", "4.2", None)]


def test_the_same_item_put_back_is_not_recorded_twice(desk):
    desk.open(7)
    desk.hold("4.2")
    desk.hold("0.0")
    assert desk.hold("4.2") == []
    assert desk.hold("5.0", 3) == [("replace", "5.0", 7)]
    desk.hold("0.0")
    assert desk.hold("5.1") == [("replace", "5.1", 7)]  # the same item, but the newer weighing counts


def test_the_same_weight_on_another_piece_counts_after_an_empty_pan(desk):
    desk.open(7)
    desk.hold("4.2")
    desk.hold("0.0")
    desk.open(8)
    assert desk.hold("4.2") == [("take", "4.2", 8)]


def test_opening_the_piece_again_does_nothing(desk):
    desk.open(7)
    desk.hold("4.2")
    assert desk.open(7) == []
    desk.following.close()
    assert desk.open(7) == []


def test_a_load_from_before_the_start_is_asked_about():
    desk = Desk()
    desk.open(7)
    assert desk.hold("4.2", 2) == [("ask", "4.2", 7)]
    assert desk.take() == [("take", "4.2", 7)]


def test_without_an_open_piece_a_weight_can_be_kept_waiting():
    desk = Desk()
    assert desk.hold("4.2", 2) == [("ask", "4.2", None)]
    assert desk.take() == [("wait", "4.2", None)]
    assert desk.open(7) == [("take", "4.2", 7)]


def test_a_unit_key_drops_the_waiting_weight(desk):
    desk.hold("4.2")
    assert desk.hold("119", 2, unit="g") == [("ask", "119", None)]
    assert desk.following.waiting is None


def test_a_net_weight_is_asked_about(desk):
    desk.open(7)
    assert desk.hold("4.2", net=True) == [("ask", "4.2", 7)]
    assert desk.take() == [("take", "4.2", 7)]


def test_a_net_weight_is_asked_about_before_it_replaces_another(desk):
    desk.open(7)
    desk.hold("4.2", 3)
    assert desk.hold("5.2", 2, net=True) == [("ask", "5.2", 7)]


def test_a_weight_that_never_settles_is_offered(desk):
    desk.open(7)
    assert desk.shake(6.5) == [("ask", "4.4", 7)]
    assert desk.take() == [("take", "4.4", 7)]
    assert desk.shake(7) == []  # it has a weight, so no more offers


def test_an_outcome_tells_how_the_weight_was_captured(desk):
    desk.open(7)
    got = [
        one
        for _ in range(10)
        for one in desk.following.feed(desk.now + _ / 10, shown_reading(Decimal(1), "oz", State.STABLE, b""))
    ]
    assert [(one.say, one.settled.how) for one in got] == [(Say.TAKE, CaptureKind.FIRST)]
    assert isinstance(got[0], ScaleOutcome)
