"""Hands free: pieces come by scanner or in list order, each is put on, settles, is recorded, and is lifted."""

from desk.session.pile.packing import Placement
from tests.session.scale.test_at_the_scale import Bench

NEXT = Placement("A7")


class Rhythm(Bench):
    """A bench that opens the next piece of its list when one is lifted."""

    def __init__(self, pieces):
        super().__init__()
        self.pieces = list(pieces)
        self.at.lifted = self.go_on
        self.show("0")
        self.go_on()

    def go_on(self, done=None):
        self.finished += [done] if done else []
        if self.pieces:
            self.at.open(self.pieces.pop(0), NEXT, self.now, in_list=True)

    def weigh(self, value):
        return self.show(value, 1.2).show("0", 0.8)


def test_in_list_order_no_key_is_needed_between_pieces():
    bench = Rhythm([1, 2, 3]).weigh("1.3").weigh("4.2").weigh("0.8")
    assert bench.records == [(1, "1.3", True), (2, "4.2", True), (3, "0.8", True)]
    assert bench.finished == [1, 2, 3]


def test_in_list_order_the_same_weight_again_is_asked_about():
    bench = Rhythm([1, 2]).weigh("1.3").show("1.3", 1.2)
    assert [piece for piece, _, _ in bench.records] == [1]
    assert bench.at.live.asks
    assert bench.at.live.says.startswith("Same weight as the last piece. Press Enter to use it")
    assert bench.at.take(bench.now)
    assert bench.records[-1] == (2, "1.3", True)


def test_putting_the_same_piece_on_again_records_nothing():
    bench = Rhythm([1, 2]).weigh("1.3").weigh("1.3").weigh("4.2")
    assert bench.records == [(1, "1.3", True), (2, "4.2", True)]


def test_a_weight_within_a_step_is_the_same_and_two_steps_away_is_another():
    assert Rhythm([1, 2]).weigh("1.3").show("1.4", 1.2).at.live.asks
    assert [piece for piece, _, _ in Rhythm([1, 2]).weigh("1.3").weigh("1.5").records] == [1, 2]


def test_a_scanned_number_accepts_the_same_weight():
    bench = Bench().show("0").open(1).show("1.3").show("0").open(2).show("1.3")
    assert bench.records == [(1, "1.3", True), (2, "1.3", True)]


def test_a_number_scanned_after_weighing_accepts_the_same_weight():
    bench = Bench().show("0").open(1).show("1.3").show("0")
    bench.at.close(bench.now)
    bench.show("1.3").open(2)
    assert bench.records[-1] == (2, "1.3", True)


def test_a_piece_opened_after_the_question_still_asks():
    bench = Rhythm([1, 2]).weigh("1.3").show("1.3", 1.2)
    bench.at.open(3, NEXT, bench.now)
    assert bench.at.live.asks
    assert bench.at.take(bench.now)
    assert bench.records[-1] == (3, "1.3", True)


def test_going_back_to_a_piece_by_number_records_it_again():
    bench = Rhythm([1, 2]).weigh("1.3")
    bench.at.open(1, NEXT, bench.now)
    bench.show("1.3")
    assert bench.records == [(1, "1.3", True), (1, "1.3", True)]


def test_a_hundred_pieces_each_get_their_own_weight():
    weights = [f"{2 + number * 0.2:.1f}" for number in range(100)]
    bench = Rhythm(range(1, 101))
    for value in weights:
        bench.weigh(value)
    assert [(piece, value) for piece, value, _ in bench.records] == list(enumerate(weights, 1))
