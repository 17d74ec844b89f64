"""Answers: issues a person has checked and found right, by piece and code."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, bindparam, select

from desk.domain.finding import Code
from desk.store import schema
from desk.store.ranges import chunks
from desk.store.transaction import Transaction

# Issues about the weight on the scale: a different weight raises them again.
OF_WEIGHT = (Code.TOO_CLOSE_TO_CALL, Code.WEIGHED_TWICE, Code.LIGHTER_THAN_CONTENTS, Code.HEAVIER_THAN_CONTENTS)

_ROW = schema.answers.c
_OF_WEIGHT = select(_ROW.id, _ROW.piece_id).where(
    _ROW.code.in_(OF_WEIGHT), _ROW.piece_id.in_(bindparam("ids", expanding=True))
)


def answer(tx: Transaction, piece_id: int, code: str) -> bool:
    """Record that an issue was checked and is right. Return False when it already was."""
    if _ids(tx, piece_id, code):
        return False
    tx.insert(schema.answers, [{"piece_id": piece_id, "code": code, "at": tx.now}])
    return True


def withdraw(tx: Transaction, piece_id: int, code: str) -> bool:
    """Withdraw an answer. Return False when there was none."""
    ids = _ids(tx, piece_id, code)
    tx.delete(schema.answers, ids)
    return bool(ids)


def of_weight(conn: Connection, piece_ids: Iterable[int]) -> dict[int, int]:
    """Return the answers about the weight of these pieces: answer id to piece id."""
    by_piece: dict[int, int] = {}
    for some in chunks(piece_ids):
        by_piece |= {row.id: row.piece_id for row in conn.execute(_OF_WEIGHT, {"ids": some})}
    return by_piece


def _ids(tx: Transaction, piece_id: int, code: str) -> list[int]:
    row = schema.answers.c
    return list(tx.conn.execute(select(row.id).where(row.piece_id == piece_id, row.code == code)).scalars())
