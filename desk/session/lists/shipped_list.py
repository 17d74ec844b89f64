"""The list for marking orders as shipped in a shop: number, tracking and date, under the headers the shop wants."""

from __future__ import annotations

from collections.abc import Sequence
from io import StringIO
from pathlib import Path

from desk.domain.whole_file import write_whole
from desk.session.contents.tables import write_table
from desk.session.sitting import Sitting
from desk.store.tables import pieces

HEADERS = ("order", "tracking", "mailed")


def shipped_list(sitting: Sitting, headers: Sequence[str] = HEADERS) -> str:
    """Return the list of every piece that was handed over, under three headers: number, tracking, mailing date."""
    with sitting.store.reading() as conn:
        gone = [piece for piece in pieces.all_pieces(conn) if piece.handed_over_at is not None]
    text = StringIO()
    rows = [(piece.key.order, piece.tracking, f"{piece.handed_over_at:%Y-%m-%d}") for piece in gone]
    write_table(text, headers, rows)
    return text.getvalue()


def save_shipped_list(sitting: Sitting, file: Path) -> None:
    """Save the list under our usual headers. OSError when it cannot be written."""
    write_whole(file, shipped_list(sitting).encode())
