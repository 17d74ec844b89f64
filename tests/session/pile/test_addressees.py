"""Orders to one addressee on a day: read once for each country, and again after an order came back."""

from datetime import timedelta

import pytest
from sqlalchemy import event

from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.pile.addressees import SameDay
from desk.session.pile.pile import Pile
from desk.session.undo import undo
from desk.store.tables.hand_overs import hand_over, orders_here
from tests.session.made import FRANCE, following_pile, order, stock, weighing

pytestmark = pytest.mark.stocked([order("1", address=FRANCE), order("2", address=FRANCE), order("3")])


def together(pile: Pile, piece_id: int) -> list[str]:
    return [one.number for one in pile.verdicts[piece_id].case.for_addressee]


def test_a_weighing_reads_no_order_to_the_same_country_again(pile):
    asked = []
    event.listen(pile.sitting.store.engine, "before_cursor_execute", lambda *words: asked.append(words[2]))
    weigh(pile.sitting, [(PieceKey("1"), weighing())])
    assert together(pile, 1) == ["1", "2"]
    assert asked
    assert not any("mailed_on" in words for words in asked)


def test_each_country_is_read_when_it_is_first_needed(pile):
    same_day, on = SameDay(), pile.sitting.on
    with pile.sitting.store.reading() as conn:
        assert not same_day.beside(conn, [order("3")], on)
        found = same_day.beside(conn, [order("1", address=FRANCE)], on)
    assert [[one.number for one in several] for several in found.values()] == [["1", "2"]]


def test_another_day_is_read_again(sitting):
    """An order mailed on the first day no longer counts on the second."""
    stock(sitting, [order("1", address=FRANCE), order("2", address=FRANCE)])
    with sitting.store.act("Handed over") as tx:
        hand_over(tx, [2])
    same_day = SameDay()
    with sitting.store.reading() as conn:
        days = [same_day.beside(conn, [order("1", address=FRANCE)], sitting.on + timedelta(days=n)) for n in (0, 3)]
    assert [[one.number for one in several] for found in days[1:] for several in found.values()] == [["1"]]


def test_an_order_mailed_earlier_counts_again_once_that_is_undone(sitting):
    stock(sitting, [order("1", address=FRANCE), order("2", address=FRANCE)])
    with sitting.store.act("Handed over") as tx:
        hand_over(tx, [2])
    sitting.on += timedelta(days=3)
    with sitting.store.reading() as conn:
        assert orders_here(conn, sitting.on) == {1}
    pile = following_pile(sitting)
    pile.bring([2])
    assert together(pile, 1) == ["1"]
    undo(sitting)
    weigh(sitting, [(PieceKey("1"), weighing())])
    assert together(pile, 1) == ["1", "2"] == together(Pile(sitting), 1)
