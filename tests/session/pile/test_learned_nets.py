"""Net weights from past weighings on declarations: whole grams, marked, never above the piece's weight."""

from dataclasses import replace

import pytest

from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.pile import Pile
from tests.session.made import BOARD, BOOK, CARD, FRANCE, PADDED, line, order, shop, weighing

UNTYPED = replace(BOOK, unit_weight=None)


@pytest.fixture
def pile(sitting):
    """Forty books weighed at home, in a mailer of known weight, then one order abroad with the same book and a card."""
    import_shop(sitting, shop(products=(CARD, UNTYPED), mailers=(PADDED, BOARD)))
    numbers = [str(number) for number in range(1, 41)]
    import_orders(sitting, [order(number, lines=(line(UNTYPED, 1 + int(number) % 3),)) for number in numbers])
    for number in numbers:
        count = 1 + int(number) % 3
        weigh(sitting, [(PieceKey(number), weighing(str(23 + 310 * count), "Padded", "g"))])
    import_orders(sitting, [order("90", address=FRANCE, lines=(line(UNTYPED), line(CARD, 2)))])
    weigh(sitting, [(PieceKey("90"), weighing(str(23 + 310 + 34), "Padded", "g"))])
    return Pile(sitting)


def declared(pile):
    return pile.verdicts[pile.find("90")].declaration


def test_a_product_without_a_typed_weight_is_declared_at_its_learned_weight(pile):
    book, card = declared(pile).lines
    assert (book.net_is_learned, card.net_is_learned) == (True, False)
    assert card.net_g == 34
    assert abs(book.net_g - 310) <= 5
    assert declared(pile).total_net_g <= 23 + 310 + 34


def test_without_learning_the_weight_stays_unknown(pile):
    known = pile.terms.shop
    import_shop(pile.sitting, replace(known, policy=replace(known.policy, learn_weights=False)))
    found = Pile(pile.sitting)
    assert declared(found).lines[0].net_g is None
    assert declared(found).total_net_g is None
