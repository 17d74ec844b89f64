from __future__ import annotations

from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.history import history_of
from desk.session.importing.import_orders import import_orders
from desk.session.sitting import Sitting
from desk.session.undo import undo
from tests.session import made


def test_the_history_of_a_piece_has_its_own_steps_newest_first(sitting: Sitting) -> None:
    import_orders(sitting, [made.order("1"), made.order("2")])
    weigh(sitting, [(PieceKey("1"), made.weighing("0.7"))])
    weigh(sitting, [(PieceKey("2"), made.weighing("0.8"))])
    undo(sitting)
    names = [[(past.name, past.kind) for past in history_of(sitting, piece)] for piece in (1, 2)]
    assert names[0] == [("Weighed 1", "act"), ("Orders imported", "act")]
    assert names[1] == [("Weighed 2", "undo"), ("Weighed 2", "act"), ("Orders imported", "act")]


def test_no_more_than_asked_for(sitting: Sitting) -> None:
    import_orders(sitting, [made.order("1")])
    weigh(sitting, [(PieceKey("1"), made.weighing("0.7"))])
    assert [past.name for past in history_of(sitting, 1, limit=1)] == ["Weighed 1"]


def test_an_unknown_piece_has_no_history(sitting: Sitting) -> None:
    assert history_of(sitting, 99) == ()
