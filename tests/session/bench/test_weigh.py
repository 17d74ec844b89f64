"""Readings of a pile as one step: what is fresh, what changed, what belongs to nobody."""

import pytest

from desk.domain.changes import Changes
from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import fold_twice, weigh
from desk.session.importing.import_orders import import_orders
from desk.session.pile.stored_cases import read_stored
from desk.session.pile.together import pack_together
from desk.session.pile.weighing_result import Weighed
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from desk.session.unreported import unreported
from tests.session.made import order, weighing

ONE, TWO, NOBODY = PieceKey("1"), PieceKey("2"), PieceKey("9")


pytestmark = pytest.mark.stocked([order("1"), order("2")])


def shown(sitting: Sitting) -> list[str]:
    weighings = [stored.case.weighing for stored in read_stored(sitting)]
    return [str(one.shown.value) if one else "" for one in weighings]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([(ONE, weighing())], "Weighed 1"),
        ([(ONE, weighing("0.7")), (ONE, weighing("0.8"))], "Weighed 1"),
        ([(PieceKey("1", 2), weighing())], "Weighed 1-2"),
        ([(ONE, weighing()), (TWO, weighing())], "Weighed 2 pieces"),
    ],
)
def test_the_step_names_a_single_piece(full: Sitting, rows: list, expected: str) -> None:
    weigh(full, rows)
    assert next_steps(full)[0] == expected


def test_no_rows_do_nothing(full: Sitting) -> None:
    before = full.store.revision
    assert weigh(full, []) == Weighed((), (), ())
    assert full.store.revision == before


def test_only_strangers_leave_no_trace(full: Sitting) -> None:
    before = full.store.revision
    assert weigh(full, [(NOBODY, weighing())]) == Weighed((), (), (NOBODY,))
    assert (full.store.revision, shown(full)) == (before, ["", ""])


def test_fresh_same_and_changed_in_one_pile(full: Sitting) -> None:
    import_orders(full, [order("3")])
    weigh(full, [(ONE, weighing("0.7")), (TWO, weighing("0.7"))])
    third = PieceKey("3")
    done = weigh(full, [(ONE, weighing("0.7")), (TWO, weighing("0.9")), (third, weighing("2.1"))])
    assert done == Weighed(fresh=(third,), changed=(TWO,), strangers=())
    assert shown(full) == ["0.7", "0.9", "2.1"]
    assert unreported(full) == [{"order": "2", "piece": 1}]


@pytest.mark.parametrize(
    "other",
    [weighing("0.8"), weighing("0.7", "Padded"), weighing("0.7", unit="g"), weighing("0.7", stiff=True)],
)
def test_any_other_word_about_it_is_another_weighing(full: Sitting, other) -> None:
    weigh(full, [(ONE, weighing("0.7"))])
    assert weigh(full, [(ONE, other)]).changed == (ONE,)


def test_an_undone_weight_is_not_reported(full: Sitting) -> None:
    weigh(full, [(ONE, weighing("0.7"))])
    weigh(full, [(ONE, weighing("0.9"))])
    undo(full)
    assert (shown(full), unreported(full)) == (["0.7", ""], [])


def test_listeners_hear_once_for_the_whole_pile(full: Sitting) -> None:
    told: list[Changes] = []
    full.listeners.append(told.append)
    weigh(full, [(ONE, weighing()), (TWO, weighing())])
    assert [changes.pieces for changes in told] == [{stored.id for stored in read_stored(full)}]


def test_weighed_three_times_keeps_the_reading_just_before() -> None:
    folded = fold_twice([("a", weighing("1.0")), ("a", weighing("2.0")), ("a", weighing("3.0"))])
    assert folded == {"a": weighing("3.0", earlier=weighing("2.0").shown)}


def test_nothing_folds_to_nothing() -> None:
    assert fold_twice([]) == {}


def test_the_same_reading_twice_is_still_twice() -> None:
    folded = fold_twice([("a", weighing("1.0")), ("a", weighing("1.0"))])
    assert folded["a"].earlier == weighing("1.0").shown


def test_a_weight_of_an_order_packed_into_another_is_the_weight_of_that_piece(full: Sitting) -> None:
    pack_together(full, [ONE, TWO])
    assert weigh(full, [(TWO, weighing("1.3"))]).fresh
    assert shown(full) == ["1.3"]


def test_both_numbers_of_a_pack_weighed_are_the_piece_weighed_twice(full: Sitting) -> None:
    pack_together(full, [ONE, TWO])
    done = weigh(full, [(ONE, weighing("1.3")), (TWO, weighing("1.4"))])
    (stored,) = read_stored(full)
    assert stored.case.weighing == weighing("1.4", earlier=weighing("1.3").shown)
    assert (len(done.fresh), done.changed, done.strangers) == (1, (), ())
