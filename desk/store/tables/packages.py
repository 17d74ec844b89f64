"""Packages of an order that are taken out again, because what was in them goes in another."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Table, select

from desk.domain.faults import Refused
from desk.store import schema
from desk.store.tables import papers, pieces
from desk.store.tables.papers import PaperKind
from desk.store.transaction import Transaction


def remove(tx: Transaction, piece_ids: Iterable[int]) -> None:
    """Remove pieces with their answers and records of papers; their weighings stay on record.

    Raises:
        Refused: one is paid for, has a tracking number or an amount paid, its label is printed and not canceled, or other
            orders are packed with it.
        KeyError: there is no such piece.
    """
    wanted = list(piece_ids)
    gone = pieces.some_pieces(tx.conn, wanted)
    pieces.refuse_paid(tx.conn, gone, "packages")
    for piece in gone:
        number = pieces.number_of(tx.conn, piece)
        if piece.tracking or piece.paid is not None:
            raise Refused(
                f"{number} has a tracking number or an amount paid. Undo that entry first, or keep the package."
            )
        if any(each.kind is PaperKind.LABEL and not each.voided_at for each in papers.all_papers(tx.conn, piece.id)):
            raise Refused(f"A label of {number} was printed. Cancel the label on Papers first.")
        if piece.together_with is not None or pieces.inside(tx.conn, [piece.id]):
            raise Refused(f"{number} is packed with another order. Separate them in Batch first.")
    for table in (schema.answers, schema.papers):
        tx.delete(table, _rows_of(tx, table, wanted))
    tx.delete(schema.pieces, wanted)


def _rows_of(tx: Transaction, table: Table, piece_ids: list[int]) -> list[int]:
    """Return the ids of a table's rows that belong to these pieces."""
    return list(tx.conn.execute(select(table.c.id).where(table.c.piece_id.in_(piece_ids))).scalars())
