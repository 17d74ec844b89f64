from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from desk.domain.codes import Code
from desk.domain.faults import Refused
from desk.domain.finding import finding
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.status import PieceStatus
from desk.session import undo
from desk.session.bench.another_piece import add_piece
from desk.session.importing.import_orders import import_orders
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_stored
from desk.session.pile.together import pack_together
from desk.session.setup.forgetting import (
    KEEP_DAYS,
    Privacy,
    forget_addresses,
    forget_due,
    forgettable,
    keep_addresses_for,
    privacy,
)
from desk.session.sitting import Sitting
from desk.store.store import open_store
from desk.store.tables import orders
from desk.store.tables.hand_overs import hand_over, put_postage_on
from tests.session import made


class LaterClock:
    """The clock of a sitting so many days later."""

    def __init__(self, sitting: Sitting, days: int) -> None:
        self._now = sitting.clock.now() + timedelta(days=days)

    def now(self) -> datetime:
        return self._now

    def monotonic(self) -> float:
        return 0.0


@pytest.fixture
def left(sitting: Sitting) -> Sitting:
    """Three orders; the first two have left."""
    made.stock(sitting, [made.order(number, buyer_note="blue door") for number in ("1", "2", "3")])
    with sitting.store.act("Hand over") as tx:
        put_postage_on(tx, [1, 2])
        hand_over(tx, [1, 2])
    return sitting


def later(sitting: Sitting, days: int) -> Sitting:
    sitting.clock = LaterClock(sitting, days)
    return sitting


@pytest.mark.parametrize(("days", "ids"), [(KEEP_DAYS - 1, ()), (KEEP_DAYS, (1, 2)), (400, (1, 2))])
def test_addresses_of_pieces_that_left_long_ago_can_be_deleted(left: Sitting, days: int, ids: tuple[int, ...]) -> None:
    assert forgettable(later(left, days)) == ids


def test_deleting_an_address_keeps_country_and_contents(left: Sitting) -> None:
    reported: list[object] = []
    left.listeners.append(reported.append)
    assert forget_addresses(later(left, 100)) == 2
    first, _, third = (stored.case.order for stored in read_stored(left))
    assert (first.address, first.buyer_note) == (Address(country="US"), "")
    assert first.lines == third.lines
    assert third.address == made.HOME
    assert len(reported) == 1
    assert (forgettable(left), forget_addresses(left), len(reported)) == ((), 0, 1)


def test_deleting_addresses_cannot_be_undone(left: Sitting) -> None:
    forget_addresses(later(left, 100))
    with pytest.raises(Refused, match="can't be restored"):
        undo.undo(left)


def test_a_piece_with_a_deleted_address_is_still_handed_over(left: Sitting) -> None:
    forget_addresses(later(left, 100))
    assert Pile(left).verdicts[1].status == PieceStatus.HANDED_OVER


def test_an_order_that_came_back_keeps_its_address(left: Sitting) -> None:
    set_beside(left, [1], PieceStatus.CAME_BACK)
    assert forgettable(later(left, 100)) == (2,)


def test_an_order_in_two_packages_waits_for_the_last_one(left: Sitting) -> None:
    add_piece(left, PieceKey("2", 2))
    assert forgettable(later(left, 100)) == (1,)


def test_an_order_packed_into_another_leaves_with_it(sitting: Sitting) -> None:
    made.stock(sitting, [made.order(number) for number in ("1", "2")])
    pack_together(sitting, [PieceKey("1"), PieceKey("2")])
    assert forgettable(later(sitting, 100)) == ()
    with sitting.store.act("Hand over") as tx:
        hand_over(tx, [1])
    assert forgettable(later(sitting, 100)) == (1, 2)


def test_a_negative_number_of_days_is_refused(sitting: Sitting) -> None:
    with pytest.raises(ValueError, match="-1 days"):
        forgettable(sitting, -1)


def bytes_of(sitting: Sitting) -> bytes:
    """Everything on disk that belongs to the store: its file, its log, and everything else next to it."""
    assert sitting.store.file is not None
    return b"".join(path.read_bytes() for path in sitting.store.file.parent.iterdir() if path.is_file())


PERSONAL = ("Ada Vell", "1 Quill Row", "Bend", "97701", "07701", "ada@vell.example", "5550100", "blue door")


def test_a_deleted_address_is_gone_from_the_file_at_once(sitting: Sitting) -> None:
    """The store stays open: neither its file, its log, its journal nor the findings of the import hold a word of it."""
    found = (finding(Code.POSTAL_CODE_MENDED, typed="07701", corrected="97701"),)
    address = replace(made.HOME, email="ada@vell.example", phone="5550100")
    made.stock(sitting, [made.order("1", address=address, buyer_note="blue door", findings=found)])
    import_orders(sitting, [made.order("1", address=address, buyer_note="blue door, please", findings=found)])
    with sitting.store.act("Hand over") as tx:
        hand_over(tx, [1])
    assert all(text.encode() in bytes_of(sitting) for text in PERSONAL)
    assert forget_addresses(later(sitting, 100)) == 1
    assert [text for text in PERSONAL if text.encode() in bytes_of(sitting)] == []
    with sitting.store.reading() as conn:
        (kept,) = orders.all_orders(conn)
    assert (kept.order.address, kept.order.findings) == (Address(country="US"), ())


def test_a_file_in_use_is_wiped_later(left: Sitting) -> None:
    other = open_store(left.store.file or "", left.clock)
    with other.reading() as conn:
        orders.all_orders(conn)
        with pytest.MonkeyPatch.context() as quick:
            quick.setattr("desk.store.engine.BUSY_SECONDS", 0.1)
            assert forget_addresses(later(left, 100)) == 2
    other.close()
    assert b"blue door" in bytes_of(left)
    assert forget_due(left) == 0
    take_out = [stored.case.order.buyer_note for stored in read_stored(left)]
    assert take_out == ["", "", "blue door"]
    assert bytes_of(left).count(b"blue door") == 1


@pytest.mark.parametrize(("days", "expected"), [(90, 2), (101, 0), (None, 0), (0, 2)])
def test_addresses_are_deleted_after_the_set_number_of_days(left: Sitting, days: int | None, expected: int) -> None:
    keep_addresses_for(left, days)
    assert forget_due(later(left, 100)) == expected


def test_ninety_days_unless_another_number_is_set(left: Sitting) -> None:
    assert privacy(left) == Privacy(90)
    assert forget_due(later(left, 89)) == 0
    assert forget_due(later(left, 90)) == 2
