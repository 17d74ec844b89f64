"""Which pieces are worked on today, and those that left on earlier days: read only when someone asks for them.

A start would otherwise take longer with every piece ever mailed.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from desk.domain.clock import today
from desk.domain.shop.shop import Shop
from desk.session.learned.memory import PastWeighing, in_order, past_weighing
from desk.session.pile.stored_cases import StoredCase, read_stored
from desk.session.sitting import Sitting
from desk.store.tables import hand_overs, orders, pieces

LATEST = 2_000  # weighings that show what is usual; more say nothing new


def ids_here(sitting: Sitting) -> list[int]:
    """Return the ids of pieces that have not left, left today, or count for the mailing date."""
    with sitting.store.reading() as conn:
        return hand_overs.still_here(conn, min(sitting.on, today(sitting.clock)))


def pieces_in_all(sitting: Sitting) -> int:
    """Return how many pieces there are, not counting those packed into another."""
    with sitting.store.reading() as conn:
        return hand_overs.count(conn)


def left_last(sitting: Sitting, before: date) -> datetime | None:
    """Return when pieces were handed over last before that day; None when none were."""
    with sitting.store.reading() as conn:
        return hand_overs.left_last(conn, before)


def ids_that_left(sitting: Sitting) -> list[int]:
    """Return the ids of the other pieces, latest import first."""
    here = set(ids_here(sitting))
    with sitting.store.reading() as conn:
        return [number for number in sorted(hand_overs.left_at(conn), reverse=True) if number not in here]


def ids_of_numbers(sitting: Sitting, numbers: Iterable[str]) -> list[int]:
    """Return the ids of all pieces of orders with these numbers, or whose piece is called this, as `1066-2`."""
    wanted = {part for number in numbers for part in (number, number.rpartition("-")[0]) if part}
    with sitting.store.reading() as conn:
        return _carriers(conn, orders.ids_of(conn, wanted).values())


def ids_ending(sitting: Sitting, digits: str) -> list[int]:
    """Return the ids of all pieces of orders whose number ends with these digits, or before a dash as in `3012-2`."""
    with sitting.store.reading() as conn:
        wanted = {part for part in (digits, digits.rpartition("-")[0]) if part}
        return _carriers(conn, [number for part in wanted for number in orders.ids_ending(conn, part).values()])


def ids_matching(sitting: Sitting, text: str) -> list[int]:
    """Return the ids of pieces that left, of orders with this text in their number, address or items; latest first.

    Capital and small letters are the same, except accented ones inside a word.
    """
    gone = set(ids_that_left(sitting))
    with sitting.store.reading() as conn:
        return [n for n in reversed(_carriers(conn, orders.ids_with_text(conn, text))) if n in gone]


def every_number(sitting: Sitting) -> dict[str, str]:
    """Return the numbers people know the pieces by, each under its reference, also of those that left."""
    with sitting.store.reading() as conn:
        return pieces.numbers(conn)


def ids_weighed_last(sitting: Sitting, most: int) -> list[int]:
    """Return the ids of the pieces weighed last, latest first."""
    with sitting.store.reading() as conn:
        return pieces.latest_weighed(conn, most)


def past_weighings(sitting: Sitting, shop: Shop) -> list[PastWeighing]:
    """Return all weighings that can be learned from, in the order they were taken. For any thread."""
    return in_order(past_weighing(one.id, one.turn, one.case, shop) for one in read_stored(sitting))


def latest_weighed(sitting: Sitting) -> list[StoredCase]:
    """Return the pieces weighed last, oldest first, as cases. For any thread."""
    return sorted(read_stored(sitting, ids_weighed_last(sitting, LATEST)), key=lambda one: one.turn or 0)


def _carriers(conn: orders.StoreView, order_ids: Iterable[int]) -> list[int]:
    return sorted({piece.together_with or piece.id for piece in pieces.of_orders(conn, order_ids)})
