"""Weights of a pile as one step: new ones, changed ones, and those without an order."""

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
def test_the_step_names_its_only_piece(full: Sitting, rows: list, expected: str) -> None:
    weigh(full, rows)
    assert next_steps(full)[0] == expected


def test_no_rows_make_no_step(full: Sitting) -> None:
    before = full.store.revision
    assert weigh(full, []) == Weighed((), (), ())
    assert full.store.revision == before


def test_weights_without_an_order_leave_no_step(full: Sitting) -> None:
    before = full.store.revision
    assert weigh(full, [(NOBODY, weighing())]) == Weighed((), (), (NOBODY,))
    assert (full.store.revision, shown(full)) == (before, ["", ""])


def test_fresh_unchanged_and_changed_weights_are_distinguished(full: Sitting) -> None:
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
def test_any_other_field_makes_another_weighing(full: Sitting, other) -> None:
    weigh(full, [(ONE, weighing("0.7"))])
    assert weigh(full, [(ONE, other)]).changed == (ONE,)


def test_an_undone_weight_is_not_reported(full: Sitting) -> None:
    weigh(full, [(ONE, weighing("0.7"))])
    weigh(full, [(ONE, weighing("0.9"))])
    undo(full)
    assert (shown(full), unreported(full)) == (["0.7", ""], [])


def test_listeners_are_notified_once_for_the_whole_pile(full: Sitting) -> None:
    reported: list[Changes] = []
    full.listeners.append(reported.append)
    weigh(full, [(ONE, weighing()), (TWO, weighing())])
    assert [changes.pieces for changes in reported] == [{stored.id for stored in read_stored(full)}]


def test_of_three_weighings_the_one_before_the_last_is_kept_as_earlier() -> None:
    folded = fold_twice([("a", weighing("1.0")), ("a", weighing("2.0")), ("a", weighing("3.0"))])
    assert folded == {"a": weighing("3.0", earlier=weighing("2.0").shown)}


def test_no_rows_have_no_repeats() -> None:
    assert fold_twice([]) == {}


def test_the_same_reading_twice_is_still_reported_as_weighed_twice() -> None:
    folded = fold_twice([("a", weighing("1.0")), ("a", weighing("1.0"))])
    assert folded["a"].earlier == weighing("1.0").shown


def test_a_weight_of_an_order_packed_into_another_is_the_weight_of_that_piece(full: Sitting) -> None:
    pack_together(full, [ONE, TWO])
    assert weigh(full, [(TWO, weighing("1.3"))]).fresh
    assert shown(full) == ["1.3"]


def test_weights_for_both_numbers_of_a_pack_are_two_weights_of_one_piece(full: Sitting) -> None:
    pack_together(full, [ONE, TWO])
    done = weigh(full, [(ONE, weighing("1.3")), (TWO, weighing("1.4"))])
    (stored,) = read_stored(full)
    assert stored.case.weighing == weighing("1.4", earlier=weighing("1.3").shown)
    assert (len(done.fresh), done.changed, done.strangers) == (1, (), ())
