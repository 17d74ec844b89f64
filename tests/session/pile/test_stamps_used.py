"""What was put on pieces, as the store keeps it."""

import pytest

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.stamp import StampKind, StampStock
from desk.session.importing.import_orders import import_orders
from desk.session.pile.stored_cases import read_stored
from desk.store.tables import movements
from desk.store.tables.movements import CountedKind
from tests.session.made import order


@pytest.mark.parametrize(
    "stamp",
    [
        StampStock(StampKind.FOREVER, 0),
        StampStock(StampKind.ADDITIONAL_OUNCE, 0),
        StampStock(StampKind.FACE, 0, Money(10)),
        StampStock(StampKind.FACE, 0, Money(1200, "JPY")),
    ],
)
def test_a_stamp_is_found_by_its_name(stamp):
    assert movements.stamp_named(movements.stamp_name(stamp)) == stamp


def test_stamps_used_are_listed_for_each_piece(sitting):
    import_orders(sitting, [order("1"), order("2"), order("3")])
    ids = {stored.case.key: stored.id for stored in read_stored(sitting)}
    one, two, three = (ids[PieceKey(number)] for number in "123")
    with sitting.store.act("Use") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -2, "face 0.10 USD": -1}, "used", one)
        movements.move(tx, CountedKind.STAMP, {"forever": -1}, "used", two)
        movements.move(tx, CountedKind.STAMP, {"forever": 1}, "brought back", two)
        movements.move(tx, CountedKind.MAILER, {"A7": -1}, "used", three)
        movements.move(tx, CountedKind.STAMP, {"forever": 50}, "bought")
    with sitting.store.reading() as conn:
        whole = movements.used_by_piece(conn, CountedKind.STAMP)
        assert whole == {one: {"face 0.10 USD": 1, "forever": 2}}
        assert movements.used_by_piece(conn, CountedKind.STAMP, [two, three]) == {}
        assert movements.used_by_piece(conn, CountedKind.STAMP, [one]) == whole
