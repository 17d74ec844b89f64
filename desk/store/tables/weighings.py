"""Weighings as rows: the reading as text, and what was given about mailer, size and feel."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import Any  # rows of SQLAlchemy

from sqlalchemy import Connection, Row, func, select

from desk.domain.length import Length, Size
from desk.domain.orders.piece import Weighing
from desk.domain.weight import Shown, WeightUnit
from desk.store import schema
from desk.store.records import from_text, to_text


def to_row(piece_id: int, weighing: Weighing, at: str) -> dict[str, object]:
    """Return the columns of a weighing, without its id."""
    size = weighing.size
    return {
        "piece_id": piece_id,
        "at": at,
        "value": str(weighing.shown.value),
        "unit": weighing.shown.unit.value,
        "division": str(weighing.shown.division),
        "mailer": weighing.mailer,
        "length_mm": None if size is None else str(size.length.mm),
        "width_mm": None if size is None else str(size.width.mm),
        "thickness_mm": None if size is None else str(size.thickness.mm),
        "stiff": weighing.stiff,
        "uneven": weighing.uneven,
        "earlier": None if weighing.earlier is None else to_text(weighing.earlier),
        "copied_from": weighing.copied_from,
        "mailer_guessed": weighing.mailer_guessed,
        "low": _text(weighing.shown.low),
        "high": _text(weighing.shown.high),
        "empty_pan": _text(weighing.shown.offset or None),
    }


def from_row(row: Row[Any]) -> Weighing:
    """Return the weighing in a row that has its columns."""
    low, high, pan = (None if text is None else Decimal(text) for text in (row.low, row.high, row.empty_pan))
    shown = Shown(Decimal(row.value), WeightUnit(row.unit), Decimal(row.division), low, high, pan or Decimal(0))
    size = None
    if row.length_mm is not None:
        sides = (row.length_mm, row.width_mm, row.thickness_mm)
        size = Size(*(Length(Decimal(side)) for side in sides))
    earlier = None if row.earlier is None else from_text(Shown, row.earlier)
    return Weighing(shown, row.mailer, size, row.stiff, row.uneven, earlier, row.copied_from, bool(row.mailer_guessed))


def check_all(conn: Connection) -> None:
    """Read every weighing. Raises ValueError, TypeError or ArithmeticError when one cannot be read."""
    for row in conn.execute(select(schema.weighings)):
        datetime.fromisoformat(row.at)
        from_row(row)


def of_piece(conn: Connection, piece_id: int) -> list[tuple[datetime, Weighing]]:
    """Return every weighing of a piece with its time, oldest first, including replaced ones."""
    wanted = select(schema.weighings).where(schema.weighings.c.piece_id == piece_id).order_by(schema.weighings.c.id)
    return [(datetime.fromisoformat(row.at), from_row(row)) for row in conn.execute(wanted)]


def fingerprint(conn: Connection) -> tuple[int, int, int, int]:
    """Return numbers that change with the current weighings: their count, sum and newest id, and the answers' count."""
    counts = schema.pieces.c.weighing_id
    number, total, newest = conn.execute(
        select(func.count(counts), func.coalesce(func.sum(counts), 0), func.coalesce(func.max(counts), 0))
    ).one()
    answered = conn.execute(select(func.count()).select_from(schema.answers)).scalar_one()
    return int(number), int(total), int(newest), int(answered)


def _text(number: Decimal | None) -> str | None:
    return None if number is None else str(number)
