"""Papers: what was printed for each piece, and what was voided. Printing cannot be undone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Any  # columns of several types

from sqlalchemy import Connection, Row, select

from desk.domain.faults import Refused
from desk.store import schema
from desk.store.times import from_utc_text
from desk.store.transaction import Transaction

_PRINTED = "What was printed stays printed. Cancel the paper instead."
_VOIDED = "A canceled paper stays canceled. Print it again instead."


class PaperKind(StrEnum):
    """A kind of paper that belongs to one piece."""

    LABEL = "label"
    SLIP = "slip"
    PACKING_SLIP = "packing slip"
    KEYING_SHEET = "keying sheet"


@dataclass(frozen=True, slots=True)
class PrintedPaper:
    """One printing. `digest` shows whether the paper would look the same today; `voided_at` is None while valid."""

    id: int
    piece_id: int
    kind: PaperKind
    at: datetime
    digest: str
    voided_at: datetime | None


def printed(tx: Transaction, piece_ids: Iterable[int], kind: PaperKind, digest: str = "") -> range:
    """Record that a paper for each piece went to the printer. Return the papers' ids."""
    tx.final = _PRINTED
    rows = [{"piece_id": number, "kind": kind.value, "at": tx.now, "digest": digest} for number in piece_ids]
    return tx.insert(schema.papers, rows)


def void(tx: Transaction, paper_id: int) -> None:
    """Mark a printed paper as not to be used. Raises Refused when already void, KeyError when there is none."""
    if tx.rows(schema.papers, [paper_id])[paper_id]["voided_at"] is not None:
        raise Refused("This paper was canceled before.")
    tx.final = _VOIDED
    tx.update(schema.papers, {paper_id: {"voided_at": tx.now}})


def all_papers(conn: Connection, piece_id: int | None = None) -> list[PrintedPaper]:
    """Return every printing, or those of one piece, oldest first."""
    wanted = select(schema.papers).order_by(schema.papers.c.id)
    if piece_id is not None:
        wanted = wanted.where(schema.papers.c.piece_id == piece_id)
    return [_paper(row) for row in conn.execute(wanted)]


def latest_printed(conn: Connection, most: int) -> list[tuple[PrintedPaper, str, int]]:
    """Return the latest printings, newest first, each with the order number and the number of its piece."""
    pieces, orders = schema.pieces, schema.orders
    wanted = (
        select(schema.papers, orders.c.number.label("order_number"), pieces.c.number.label("piece_number"))
        .join(pieces, pieces.c.id == schema.papers.c.piece_id)
        .join(orders, orders.c.id == pieces.c.order_id)
        .order_by(schema.papers.c.id.desc())
        .limit(most)
    )
    return [(_paper(row), row.order_number, row.piece_number) for row in conn.execute(wanted)]


def _paper(row: Row[Any]) -> PrintedPaper:
    return PrintedPaper(
        row.id,
        row.piece_id,
        PaperKind(row.kind),
        datetime.fromisoformat(row.at),
        row.digest,
        from_utc_text(row.voided_at),
    )
