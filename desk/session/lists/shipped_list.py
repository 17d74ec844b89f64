"""The list for marking orders as shipped in a shop: number, tracking and date, under the headers the shop wants."""

from __future__ import annotations

from dataclasses import astuple, dataclass
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.session.contents.tables import table_bytes
from desk.session.pile.days_that_left import days_that_left
from desk.session.sitting import Sitting
from desk.store.tables import pieces, settings

HEADERS = "shipped list"  # the setting they are saved under


@dataclass(frozen=True, slots=True)
class ShippedHeaders:
    """The names of the list's columns."""

    order: str = "order"
    tracking: str = "tracking"
    mailed: str = "mailed"


def shipped_headers(sitting: Sitting) -> ShippedHeaders:
    """Return the shop's column names, or the usual ones."""
    with sitting.store.reading() as conn:
        return settings.read(conn, HEADERS, ShippedHeaders())


def save_shipped_headers(sitting: Sitting, headers: ShippedHeaders) -> None:
    """Save the column names. Refused when one is missing, or when two are equal."""
    names = [" ".join(name.split()) for name in astuple(headers)]
    if not all(names):
        raise Refused("Type a name for each of the three columns.")
    if len({name.casefold() for name in names}) < len(names):
        raise Refused("Two columns have the same name. Give each its own.")
    with sitting.store.act("Columns of the shipped list saved") as tx:
        settings.write(tx, HEADERS, ShippedHeaders(*names))
    sitting.announce(sitting.store.last_changes)


def save_shipped_list(sitting: Sitting, file: Path) -> int:
    """Save number, tracking and mailing date of every piece handed over, and return how many.

    OSError when it can't be written.
    """
    mailed = {number: left.day.isoformat() for left in days_that_left(sitting) for number in left.pieces}
    with sitting.store.reading() as conn:
        gone = [piece for piece in pieces.all_pieces(conn) if piece.id in mailed]
    rows = [(piece.key.order, piece.tracking, mailed[piece.id]) for piece in gone]
    write_whole(file, table_bytes(astuple(shipped_headers(sitting)), rows))
    return len(rows)
