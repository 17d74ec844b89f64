"""A pile that follows stands in the order of a pile that is read anew."""

from desk.domain.piece import PieceKey
from desk.session.another_piece import add_piece
from desk.session.pile import Pile
from desk.session.take_in import take_in_orders, take_in_shop
from desk.session.undo import redo, undo
from tests.session.made import order, shop


def references(pile):
    return [pile.verdicts[number].case.key.reference for number in pile.in_turn()]


def test_a_piece_more_stands_with_its_order(sitting):
    take_in_shop(sitting, shop())
    take_in_orders(sitting, [order("1"), order("2")])
    pile = Pile(sitting)
    sitting.listeners.append(pile.follow)
    add_piece(sitting, PieceKey("1", 2))
    assert references(pile) == ["1-1", "1-2", "2-1"] == references(Pile(sitting))
    assert list(pile.verdicts) == list(Pile(sitting).verdicts)
    undo(sitting)
    assert references(pile) == ["1-1", "2-1"]
    redo(sitting)
    assert references(pile) == ["1-1", "1-2", "2-1"]
