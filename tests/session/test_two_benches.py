"""Two benches on one store, on both databases: each follows the other, and seven hundred pieces are quick enough."""

from __future__ import annotations

import time

import pytest

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.bulk_changes import choose_mailer
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from tests.session import made
from tests.store.conftest import opening, postgres_where, server, where  # noqa: F401

MANY = 700
SECONDS = 15  # of the processor: a wide bound; it fails when work grows with the square of the pile


@pytest.fixture
def benches(opening, where, rulebook, clock) -> tuple[Sitting, Sitting]:  # noqa: F811
    return tuple(Sitting(opening(where, f"bench {n}"), clock, rulebook, made.ON) for n in (1, 2))  # type: ignore[misc]


def follow(pile: Pile, since: int) -> int:
    """Update a pile with what any bench has done; return the newest revision."""
    store = pile.sitting.store
    pile.follow(store.changes_since(since))
    return store.revision


def test_each_bench_follows_the_other(benches):
    one, two = benches
    made.stock(one, [made.order(str(number)) for number in range(1, 5)])
    pile, seen = Pile(two), two.store.revision
    weigh(one, [(PieceKey("1"), made.weighing("0.7")), (PieceKey("2"), made.weighing("2.7"))])
    choose_mailer(one, [3], "Padded")
    seen = follow(pile, seen)
    assert dict(pile.verdicts) == dict(Pile(one).verdicts)
    assert pile.verdicts[3].case.mailer == "Padded"
    undo(one)
    import_orders(one, [made.order("1", shipping_paid=Money(900)), made.order("9")])
    follow(pile, seen)
    assert dict(pile.verdicts) == dict(Pile(one).verdicts)
    assert pile.in_turn() == Pile(one).in_turn()


def test_undo_reverses_only_steps_of_its_own_bench(benches):
    one, two = benches
    made.stock(one, [made.order("1"), made.order("2")])
    choose_mailer(two, [1], "Board")
    choose_mailer(one, [2], "Padded")
    undo(two)
    assert {number: v.case.mailer for number, v in Pile(one).verdicts.items()} == {1: "", 2: "Padded"}
    assert next_steps(two)[0] == ""


def test_seven_hundred_pieces_are_imported_weighed_and_followed_in_time(sitting):
    import_shop(sitting, made.shop())
    began = time.process_time()
    import_orders(sitting, [made.order(str(number)) for number in range(MANY)])
    pile = made.following_pile(sitting)
    weigh(sitting, [(PieceKey(str(number)), made.weighing("0.7")) for number in range(MANY)])
    choose_mailer(sitting, list(pile.verdicts), "Board")
    undo(sitting)
    assert time.process_time() - began < SECONDS
    assert len(pile.verdicts) == MANY
    assert {verdict.case.mailer for verdict in pile.verdicts.values()} == {""}
    assert all(verdict.case.weighing is not None for verdict in pile.verdicts.values())
