"""Any sequence of steps, undos and redos ends as a plain list of states predicts."""

from __future__ import annotations

import itertools
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.store import undo
from desk.store.store import Store, open_store
from desk.store.tables import answers, movements, orders, pieces, shop
from desk.store.tables.movements import CountedKind
from desk.store.transaction import Transaction
from tests.store.samples import SHOP, TickingClock, order, weighing
from tests.store.test_undo import everything

_fresh = itertools.count()
WORDS = ("order", "piece", "weigh", "answer", "withdraw", "mailer", "shop", "stamps")


def do(tx: Transaction, word: str, number: int) -> None:
    """Do one step on order `number`; impossible ones are skipped."""
    known = pieces.ensure_pieces(tx, [PieceKey(str(number))])
    piece_id = next(iter(known.values()), None)
    if word == "order":
        orders.save(tx, [order(str(number), status=str(next(_fresh)))])
    elif word == "shop":
        shop.save(tx, SHOP)
    elif word == "stamps":
        movements.move(tx, CountedKind.STAMP, {"forever": -number}, "used")
    elif piece_id is not None:
        on_piece(tx, word, piece_id)


def on_piece(tx: Transaction, word: str, piece_id: int) -> None:
    if word == "weigh":
        pieces.record(tx, piece_id, weighing(f"{next(_fresh)}.1"))
    elif word == "answer":
        answers.answer(tx, piece_id, "value-zero")
    elif word == "withdraw":
        answers.withdraw(tx, piece_id, "value-zero")
    elif word == "mailer":
        pieces.set_mailer(tx, [piece_id], f"box {next(_fresh)}")


def stamps(store: Store) -> int:
    with store.reading() as conn:
        return movements.on_hand(conn, CountedKind.STAMP).get("forever", 0)


def state(store: Store) -> object:
    return everything(store), stamps(store)


def turn(store: Store, word: str) -> bool:
    """Undo or redo; return False when refused."""
    try:
        undo.undo(store) if word == "undo" else undo.redo(store)
    except Refused:
        return False
    return True


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.sampled_from((*WORDS, *["undo"] * 5, *["redo"] * 3)), st.integers(1, 3)), max_size=16))
def test_undo_and_redo_restore_each_earlier_state(tmp_path: Path, run: list[tuple[str, int]]) -> None:
    store = open_store(tmp_path / f"{next(_fresh)}.store", TickingClock())
    states, at = [state(store)], 0
    for word, number in run:
        if word in ("undo", "redo"):
            wanted = at + (-1 if word == "undo" else 1)
            possible = 0 <= wanted < len(states)
            assert turn(store, word) == possible
            at = wanted if possible else at
        else:
            before = store.revision
            with store.act(word) as tx:
                do(tx, word, number)
            if store.revision > before:
                states[at + 1 :] = [state(store)]
                at += 1
        assert state(store) == states[at]
    store.close()
