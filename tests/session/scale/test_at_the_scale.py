"""Scripted readings at the scale: what is recorded for whom, what waits, what asks, and what is shown meanwhile."""

from decimal import Decimal
from itertools import pairwise

import pytest

from desk.domain.weight import Shown, WeightUnit
from desk.scales.port import Link, LinkState, Trouble
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.settling import StepRule
from desk.session.pile.packing import Placement
from desk.session.scale.at_the_scale import Live
from desk.session.words.scale import TROUBLES, WORDS, trouble_words
from tests.scales.rehearsal import Rehearsal

LIVE = LinkState(Link.LIVE)


class Bench:
    """Plays readings at ten a second; a weight of 0 is an empty pan."""

    def __init__(self, every=0.1):
        self.records, self.told, self.finished, self.now, self.every = [], [], [], 0.0, every
        self.at = Rehearsal(
            lambda piece, shown, again: self.records.append((piece, str(shown.value), again)),
            StepRule(Decimal("0.1"), "oz"),
            live=lambda live: self.told.append((self.now, live)),
            lifted=self.finished.append,
        )
        self.at.hear(LIVE, self.now)

    def show(self, value, seconds=1.0, unit="oz", state=State.STABLE):
        for _ in range(round(seconds / self.every)):
            reading = shown_reading(Decimal(value), unit, state, b"")
            self.at.hear((self.now, reading), self.now)
            self.now += self.every
        return self

    def open(self, piece):
        self.at.open(piece, Placement("A7"), self.now)
        return self

    def stored(self, value):
        """The store has this weight for the open piece now, or none."""
        shown = Shown(Decimal(value), WeightUnit.OUNCE, Decimal("0.1")) if value else None
        self.at.follow(shown, self.now)
        return self


def test_before_anything_is_read_there_is_no_scale():
    assert Rehearsal(print).live == Live(says="No scale. Press T to type a weight.")


def test_a_settled_weight_goes_to_the_open_piece():
    bench = Bench().show("0").open(7).show("1.3")
    assert bench.records == [(7, "1.3", True)]
    assert (bench.at.live.words, bench.at.live.state, bench.at.live.mark) == ("1.3 oz", "settled", "fine")
    assert (bench.at.live.step, bench.at.live.says) == ("0.1 oz", "")


def busy(bench, times):
    """A store that refuses so many weights before it keeps one."""
    keep, left = bench.at.save, [times]

    def record(piece, shown, again):
        left[0] -= 1
        return keep(piece, shown, again) if left[0] < 0 else False

    bench.at.save = record
    return bench


def test_a_weight_that_could_not_be_saved_is_saved_again_with_enter():
    bench = busy(Bench().show("0").open(7), 2).show("1.3")
    assert (bench.records, bench.at.holds_recorded, bench.at.live.asks) == ([], False, True)
    assert bench.at.live.says.startswith("Use 1.3 oz for this one? Press Enter")
    assert bench.at.take(bench.now)
    assert (bench.records, bench.at.live.asks) == ([], True)
    assert bench.at.take(bench.now)
    assert (bench.records, bench.at.holds_recorded) == ([(7, "1.3", True)], True)
    bench.show("0")
    assert bench.finished == [7]


def test_an_unsaved_weight_that_is_lifted_keeps_its_piece_open_until_it_returns():
    bench = busy(Bench().show("0").open(7), 1).show("1.3").show("0")
    assert (bench.records, bench.finished, bench.at.piece) == ([], [], 7)
    bench.show("1.3")
    assert bench.records == [(7, "1.3", True)]


def test_a_waiting_weight_that_could_not_be_saved_keeps_waiting():
    bench = busy(Bench().show("0").show("1.3").show("0"), 1).open(7)
    assert (bench.records, bench.at.live.says) == ([], "1.3 oz is waiting for an order number.")
    bench.open(7)
    assert bench.records == [(7, "1.3", True)]


def kept(*shows):
    """The reading that is recorded when the pan shows those, each for a second."""
    bench = Bench()
    readings = []
    bench.at.save = lambda _piece, shown, _again: readings.append(shown)
    for value in shows[:-1]:
        bench.show(value)
    bench.open(7)
    for value in shows[-1]:
        bench.show(value, 0.1)
    return readings[-1]


@pytest.mark.parametrize(
    ("shows", "low", "high", "offset"),
    [
        (("0", ["1.3"] * 9), None, None, "0"),
        (("0.1", ["1.3"] * 9), None, None, "0.1"),
        (("-0.1", ["1.3"] * 9), None, None, "-0.1"),
        (("0.1", "0", ["1.3"] * 9), None, None, "0"),  # put to zero before the piece
        (("0", ["1.3", "1.2"] * 5), "1.2", "1.3", "0"),
        (("0.2", ["1.3", "1.2"] * 5), "1.2", "1.3", "0.2"),
    ],
)
def test_flicker_is_recorded_with_the_weight(shows, low, high, offset):
    shown = kept(*shows)
    got = (shown.low, shown.high, shown.offset)
    assert got == (low and Decimal(low), high and Decimal(high), Decimal(offset))


@pytest.mark.parametrize(("age", "words"), [(0.0, "0.1 oz"), (9.9, "0.1 oz"), (14, "0.1 oz, 10 s ago")])
def test_a_reading_that_is_sent_once_is_shown_with_its_age(age, words):
    """A scale that reports only on change and sleeps leaves its last weight standing."""
    bench = Bench().show("0")
    current = shown_reading(Decimal("4.2"), "oz", State.STABLE, b"").timed(bench.now)
    bench.now += age
    bench.at.hear((bench.now, current), bench.now)
    assert bench.at.live.step == words


@pytest.mark.parametrize(("unit", "words"), [("carat", "170 carats"), ("troy_oz", "170 troy ounces")])
def test_a_wrong_unit_is_shown_in_words_and_without_a_step(unit, words):
    live = Bench().show("0").open(7).show("170", 2, unit=unit).at.live
    assert (live.words, live.state, live.mark, live.step, live.asks) == (words, "wrong unit", "look", "", False)


def test_the_live_weight_includes_the_empty_pan_offset():
    bench = Bench().show("0.1").open(7).show("1.3", 0.2)
    assert bench.at.live.shown.offset == Decimal("0.1")


def test_a_weight_is_final_once_lifted_and_announced_once():
    bench = Bench().show("0").open(7).show("1.3")
    assert bench.at.holds_recorded
    bench.show("0").show("0")
    assert (bench.records, bench.finished, bench.at.holds_recorded) == ([(7, "1.3", True)], [7], False)


def test_a_hand_let_go_corrects_the_weight_of_the_same_item():
    bench = Bench().show("0").open(7).show("2.6", 0.6).show("1.3", 1.0)
    assert bench.records == [(7, "2.6", True), (7, "1.3", False)]


def test_a_reading_one_step_away_is_recorded_as_the_same_item():
    bench = Bench().show("0").open(7).show("1.3", 0.6).show("1.4", 3.0)
    assert bench.records == [(7, "1.3", True), (7, "1.4", False)]
    assert not bench.at.live.asks
    bench.show("0")
    assert bench.finished == [7]


def test_a_reading_one_step_away_is_not_recorded_for_the_next_piece():
    bench = Bench().show("0").open(7).show("1.3", 0.6).open(8).show("1.4", 3.0)
    assert bench.records == [(7, "1.3", True)]
    assert bench.at.live.asks


def test_without_an_open_piece_a_weight_waits_for_its_number():
    bench = Bench().show("0").show("1.3")
    assert bench.records == []
    assert bench.at.live.says == "1.3 oz is waiting for an order number."
    bench.open(8)
    assert bench.records == [(8, "1.3", True)]


def test_a_recorded_weight_never_moves_to_another_piece():
    bench = Bench().show("0").open(7).show("1.3").open(8).show("1.3", 2.0)
    assert bench.records == [(7, "1.3", True)]
    assert bench.at.live.asks is True
    assert bench.at.take(bench.now) is True
    assert bench.records[1:] == [(8, "1.3", True)]


def test_an_unnoticed_swap_is_asked_about():
    bench = Bench().show("0").open(7).show("1.3", 3.0).open(8).show("3.4", 2.0)
    assert bench.records == [(7, "1.3", True)]
    assert bench.at.live.says == "Use 3.4 oz for this one? Press Enter, or clear the scale first."


def test_a_lifted_weight_is_not_given_to_the_next_piece_without_asking():
    bench = Bench().show("0").show("1.3").show("0")
    bench.at.open(8, Placement("A7"), bench.now, in_list=True)
    assert (bench.records, bench.at.live.asks) == ([], True)
    assert bench.at.live.says == "Use 1.3 oz, weighed before, for this one? Press Enter, or put this one on."
    assert bench.at.take(bench.now) is True
    assert bench.records == [(8, "1.3", True)]


def test_without_a_question_enter_records_nothing():
    assert Bench().show("0").open(7).at.take(1.0) is False


def test_closing_the_piece_drops_the_waiting_weight():
    bench = Bench().show("0").show("1.3").show("0")
    bench.at.close(bench.now)
    bench.open(8)
    assert (bench.records, bench.at.live.says) == ([], "")


def test_a_weight_that_was_undone_on_the_scale_is_recorded_again_once_it_is_lifted_and_put_back():
    bench = Bench().show("0").open(7).show("1.3").stored(None)
    bench.show("0").show("1.3")
    assert bench.records == [(7, "1.3", True), (7, "1.3", True)]


def test_a_weight_that_was_undone_after_it_was_lifted_is_recorded_again():
    bench = Bench().show("0").open(7).show("1.3").show("0").stored(None).show("1.3")
    assert bench.records == [(7, "1.3", True), (7, "1.3", True)]
    assert bench.at.holds_recorded


def test_a_parcel_left_on_the_scale_after_an_undo_is_asked_about():
    bench = Bench().show("0").open(7).show("1.3").stored(None).show("1.3", 30)
    assert (bench.records, bench.at.live.asks) == ([(7, "1.3", True)], True)
    assert bench.at.live.says == "Use 1.3 oz for this one? Press Enter, or clear the scale first."
    bench.show("1.4", 3).show("1.3", 3)  # nudged
    assert len(bench.records) == 1
    assert bench.at.take(bench.now)
    assert bench.records == [(7, "1.3", True), (7, "1.3", True)]
    assert (bench.at.live.asks, bench.at.holds_recorded) == (False, True)


def test_another_parcel_put_on_after_an_undo_without_an_empty_pan_is_asked_about():
    bench = Bench().show("0").open(7).show("1.3", 4).stored(None).show("4.0", 4)
    assert (len(bench.records), bench.at.live.asks) == (1, True)
    assert bench.at.live.says.startswith("Use 4.0 oz for this one?")


def test_a_second_weight_that_was_undone_is_recorded_again_while_the_first_stays():
    bench = Bench().show("0").open(7).show("1.3").show("0").show("2.5").show("0").stored("1.3").show("2.5")
    assert [value for _, value, _ in bench.records] == ["1.3", "2.5", "2.5"]


def test_a_weight_that_was_redone_belongs_to_the_parcel_on_the_scale_again():
    bench = Bench().show("0").open(7).show("1.3").stored(None)
    assert bench.at.live.asks
    bench.stored("1.3").show("1.3", 3)
    assert (bench.records, bench.at.live.asks, bench.at.holds_recorded) == ([(7, "1.3", True)], False, True)
    bench.show("0").show("1.3")
    assert (len(bench.records), bench.finished) == (1, [7])


def test_a_typed_weight_is_not_mistaken_for_an_undo():
    bench = Bench().show("0").open(7).show("1.3", 4)
    bench.at.record(7, Shown(Decimal("1.5"), WeightUnit.OUNCE, Decimal("0.1")))
    bench.stored("1.5").show("1.3", 4)
    assert ([value for _, value, _ in bench.records], bench.at.live.asks) == (["1.3", "1.5"], False)
    bench.stored("1.3").show("1.3", 4)  # the typed one was undone
    assert (len(bench.records), bench.at.live.asks, bench.at.holds_recorded) == (2, False, True)


def test_an_item_put_back_without_an_undo_is_not_weighed_twice():
    bench = Bench().show("0").open(7).show("1.3").show("0").show("1.3")
    assert bench.records == [(7, "1.3", True)]


def test_an_unsupported_unit_is_never_recorded():
    bench = Bench().show("0", unit="troy_oz").open(7).show("1.3", unit="troy_oz")
    assert bench.records == []
    assert bench.at.live.says.startswith("The scale shows troy ounces. Press its unit key until it shows oz")


def test_listeners_are_notified_at_most_ten_times_a_second_and_get_the_last_state():
    bench = Bench(every=0.02)
    for tenth in range(10, 60):
        bench.show(str(Decimal(tenth) / 10), 0.02, state=State.MOVING)
    times = [at for at, _ in bench.told]
    assert min(b - a for a, b in pairwise(times)) >= 0.1 - 1e-9
    assert bench.at.holds_back()
    bench.now += 0.1
    bench.at.tick(bench.now)
    assert bench.told[-1][1].words == "5.9 oz"
    assert not bench.at.holds_back()


def test_the_same_reading_is_not_announced_again():
    bench = Bench().show("0", 2.0)
    told = len(bench.told)
    bench.show("0", 2.0)
    assert len(bench.told) == told


def test_silence_is_detected_without_a_reading():
    bench = Bench().show("1.3")
    bench.at.tick(bench.now + 3)
    assert (bench.at.live.state, bench.at.live.words, bench.at.live.shown) == ("no signal", "", None)


@pytest.mark.parametrize("trouble", [trouble for trouble in Trouble if trouble])
def test_every_fault_has_a_sentence_that_says_what_to_do(trouble):
    bench = Bench().show("1.3")
    bench.at.hear(LinkState(Link.LOST, trouble), bench.now + 1)
    assert bench.at.live.says == TROUBLES[trouble]
    assert (bench.at.live.state, bench.at.live.shown) == ("no scale", None)


def test_a_closed_scale_counts_as_no_scale():
    assert trouble_words(LinkState(Link.CLOSED)) == "No scale. Press T to type a weight."
    assert trouble_words(LIVE) == ""


def test_an_opened_scale_waits_for_its_first_reading():
    assert Bench().at.live.state == "waiting"


@pytest.mark.parametrize(
    ("state", "word"), [(State.OVER, "too heavy"), (State.NEEDS_ZERO, "needs zero"), (State.FAULT, "fault")]
)
def test_each_status_of_the_scale_is_shown(state, word):
    bench = Bench()
    bench.at.hear((0.2, Reading(None, None, state)), 0.2)
    assert (bench.at.live.state, bench.at.live.says != "") == (word, True)


def test_every_state_of_the_pan_has_a_name():
    from desk.scales.pan import Pan

    assert set(WORDS) == set(Pan)
    assert {mark for _, mark, _ in WORDS.values()} == {"fine", "look", "stop", "note"}
