"""Answers: looks that a person has seen and found right, by piece and code."""

from __future__ import annotations

from sqlalchemy import select

from desk.store import schema
from desk.store.transaction import Transaction


def answer(tx: Transaction, piece_id: int, code: str) -> bool:
    """Note that the look was seen and is right; False when that was said before."""
    if _ids(tx, piece_id, code):
        return False
    tx.insert(schema.answers, [{"piece_id": piece_id, "code": code, "at": tx.now}])
    return True


def withdraw(tx: Transaction, piece_id: int, code: str) -> bool:
    """Take an answer back; False when there was none."""
    found = _ids(tx, piece_id, code)
    tx.delete(schema.answers, found)
    return bool(found)


def withdraw_all(tx: Transaction, piece_id: int) -> int:
    """Take every answer of a piece back, as when it is weighed anew and the looks are about another weight; how many."""
    found = _ids(tx, piece_id)
    tx.delete(schema.answers, found)
    return len(found)


def _ids(tx: Transaction, piece_id: int, code: str | None = None) -> list[int]:
    wanted = select(schema.answers.c.id).where(schema.answers.c.piece_id == piece_id)
    if code is not None:
        wanted = wanted.where(schema.answers.c.code == code)
    return list(tx.conn.execute(wanted).scalars())
