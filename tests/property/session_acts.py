"""Acts of the session drawn at random, as any person may do them in any order, right or wrong."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from functools import cache
from pathlib import Path

from hypothesis import strategies as st

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.stamp import StampKind
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.another_piece import add_piece
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import copy_weight, describe, record_weight, weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.bulk_changes import choose_mailer, choose_service, set_beside
from desk.session.pile.packing import Placement
from desk.session.pile.pile import Pile
from desk.session.pile.together import pack_together, take_apart
from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.setup.change_shop import add_mailer, add_product, add_stamp, remove
from desk.session.sitting import Sitting
from desk.session.verdict.stamp_request import accept_stamp_request, decline_stamp_request
from desk.store.store import open_store
from tests.conftest import ROOT, StillClock
from tests.session import made

NOON = datetime(2026, 7, 15, 12, 0, tzinfo=UTC)
ORDERS = (
    made.order("1", buyer_note="by stamp please"),
    made.order("2"),  # to the same address as the first
    made.order("3", address=made.FRANCE, lines=(made.line(made.BOOK, 2, 1800),)),
    made.order("4", address=replace(made.HOME, address1="9 Fern Lane"), lines=(made.line(made.FOLDER),)),
    made.order("5", lines=(made.line(made.BOOK),), shipping_paid=Money(0)),
)
MAILERS = ("A7", "Padded", "Board", "", "Nobody's")
SERVICES = ("", "letter-stamped", "flat", "ground-retail", "intl-package")
BESIDE = (None, PieceStatus.SET_ASIDE, PieceStatus.CAME_BACK, PieceStatus.LOST)


@cache
def rulebook() -> Rulebook:
    """The shipped one. No fixture, because a failure would print it whole."""
    return read_rulebook(ROOT / "resources")


@contextmanager
def fresh_sitting(*, full: bool = True) -> Iterator[Sitting]:
    """A sitting on a store of its own in memory-backed room where there is some: power loss is not looked at here."""
    room = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(dir=room) as folder:
        clock = StillClock(NOON)
        store = open_store(Path(folder) / "store.sqlite", clock)
        sitting = Sitting(store, clock, rulebook(), made.ON)
        if full:
            import_shop(sitting, made.shop())
            import_orders(sitting, ORDERS)
        yield sitting
        store.close()


@contextmanager
def followed(sitting: Sitting) -> Iterator[Pile]:
    """A pile that follows every change the sitting announces."""
    pile = Pile(sitting)

    def follow(changes: Changes) -> None:
        pile.follow(changes)

    sitting.listeners.append(follow)
    yield pile
    sitting.listeners.remove(follow)


def _weigh(pile: Pile, piece: int, number: int) -> None:
    shown = Shown(Decimal(number) / 10, WeightUnit.OUNCE, Decimal("0.1"))
    record_weight(pile.sitting, piece, shown, Placement(MAILERS[number % 5], None, None, None))


def _describe(pile: Pile, piece: int, number: int) -> None:
    stiff = (None, True, False)[number % 3]
    describe(pile.sitting, piece, Placement(MAILERS[number % 5], None, stiff, None))


def _copy(pile: Pile, piece: int, number: int) -> None:
    others = [other for other in pile.verdicts if other != piece][: number % 3]
    copy_weight(pile.sitting, piece, others, Shown(Decimal("0.9"), WeightUnit.OUNCE, Decimal("0.1")))


def _pack(pile: Pile, piece: int, number: int) -> None:
    keys = [verdict.case.key for verdict in pile.verdicts.values()]
    pack_together(pile.sitting, [pile.verdicts[piece].case.key, keys[number % len(keys)]])


def _bring(pile: Pile, piece: int, number: int) -> None:
    order = pile.verdicts[piece].case.order
    fresh = ORDERS[int(order.number) - 1] if order.number.isdecimal() else order
    import_orders(pile.sitting, [replace(fresh, shipping_paid=Money(number * 10)), made.order(f"new {number}")])


def _stamps(pile: Pile, piece: int, _number: int) -> None:
    put_stamps_on(pile.sitting, pile, [piece])


def _shop(pile: Pile, _piece: int, number: int) -> None:
    kinds = (lambda: add_mailer(pile.sitting), lambda: add_product(pile.sitting))
    (*kinds, lambda: add_stamp(pile.sitting, StampKind.GLOBAL_FOREVER))[number % 3]()


def _remove(pile: Pile, _piece: int, number: int) -> None:
    kind = ("mailers", "products", "stamps")[number % 3]
    if getattr(pile.terms.shop, kind):
        remove(pile.sitting, kind, 0)


def _file(pile: Pile, piece: int, number: int) -> None:
    key = pile.verdicts[piece].case.key
    weigh(pile.sitting, [(key, made.weighing(f"{number / 10 + 0.1:.1f}")), (PieceKey("stranger"), made.weighing())])


ACTS: dict[str, Callable[[Pile, int, int], object]] = {
    "weigh": _weigh,
    "weigh from a file": _file,
    "describe": _describe,
    "copy": _copy,
    "mailer": lambda pile, piece, number: choose_mailer(pile.sitting, [piece], MAILERS[number % 5]),
    "service": lambda pile, piece, number: choose_service(pile.sitting, [piece], SERVICES[number % 5]),
    "beside": lambda pile, piece, number: set_beside(pile.sitting, [piece], BESIDE[number % 4]),
    "another": lambda pile, piece, number: add_piece(
        pile.sitting, replace(pile.verdicts[piece].case.key, piece=2 + number % 2)
    ),
    "seen": lambda pile, piece, _number: answer_looks(
        pile.sitting, piece, [found.code for found in pile.verdicts[piece].findings], number=str(piece)
    ),
    "yes, by stamp": lambda pile, piece, _number: accept_stamp_request(pile.sitting, piece),
    "no stamp": lambda pile, piece, _number: decline_stamp_request(pile.sitting, piece),
    "stamps on": _stamps,
    "pack": _pack,
    "apart": lambda pile, piece, _number: take_apart(pile.sitting, piece),
    "bring": _bring,
    "shop": _shop,
    "remove": _remove,
}
Act = tuple[str, int, int]
ANY_ACT: st.SearchStrategy[Act] = st.tuples(st.sampled_from(sorted(ACTS)), st.integers(0, 40), st.integers(0, 200))


def do(pile: Pile, act: Act) -> bool:
    """Do it on a piece of the pile; False when it was refused with a sentence, as it may be."""
    name, which, number = act
    ids = list(pile.verdicts)
    try:
        ACTS[name](pile, ids[which % len(ids)], number)
    except Refused as refused:
        if not refused.sentence.endswith("."):
            raise AssertionError(f"no sentence: {refused.sentence!r}") from refused
        return False
    return True
