"""Weighings as rows: shown text is read back to the last zero, with all remarks on the piece."""

from __future__ import annotations

from dataclasses import fields
from datetime import timedelta
from decimal import Decimal

import pytest
from sqlalchemy import select

from desk.domain.length import Size
from desk.domain.orders.piece import Weighing
from desk.domain.weight import Shown, WeightUnit
from desk.store import schema, undo
from desk.store.store import Store
from desk.store.tables import pieces, weighings
from tests.store.samples import MONDAY, SIZE, weighing, with_pieces

EARLIER = Shown(Decimal("3.9"), WeightUnit.OUNCE, Decimal("0.1"))
SAMPLES = {
    "plain": weighing("4.2"),
    "last zero": weighing("4.20"),
    "nothing": weighing("0"),
    "many places": Weighing(Shown(Decimal("0.12345678901234567890"), WeightUnit.KILOGRAM, Decimal("1E-9"))),
    "grams": Weighing(Shown(Decimal(85), WeightUnit.GRAM, Decimal(5))),
    "pounds and ounces": Weighing(Shown(Decimal("19.2"), WeightUnit.POUND_OUNCE, Decimal("0.1"))),
    "mailer": weighing(mailer="Padded “8”"),
    "a guess": weighing(mailer="A7", mailer_guessed=True),
    "size": weighing(size=SIZE),
    "size in mm": weighing(size=Size.of("230", "160", "8", "mm")),
    "stiff": weighing(stiff=True, uneven=False),
    "uneven": weighing(stiff=False, uneven=True),
    "weighed twice": weighing(earlier=EARLIER),
    "a copy": weighing(copied_from="1000-1"),
}


@pytest.mark.parametrize("name", SAMPLES)
def test_a_weighing_is_read_back_unchanged(store: Store, name: str) -> None:
    (piece,) = with_pieces(store)
    with store.act("weigh") as tx:
        pieces.record(tx, piece, SAMPLES[name])
    with store.reading() as conn:
        ((at, found),) = weighings.of_piece(conn, piece)
    assert found == SAMPLES[name]
    assert [str(found.shown.value), str(found.shown.division)] == [
        str(SAMPLES[name].shown.value),
        str(SAMPLES[name].shown.division),
    ]
    assert at == MONDAY + timedelta(seconds=3)


def test_no_number_goes_through_a_float(store: Store) -> None:
    """SQLite keeps a decimal in a column of numbers as a float of 8 bytes (sqlite.org, "Datatypes")."""
    (piece,) = with_pieces(store)
    with store.act("weigh") as tx:
        pieces.record(tx, piece, weighing("4.20", size=SIZE))
    row = schema.weighings.c
    with store.reading() as conn:
        found = conn.execute(select(row.value, row.division, row.length_mm, row.width_mm, row.thickness_mm)).one()
    assert all(isinstance(value, str) for value in found)
    assert tuple(found) == ("4.20", "0.1", "241.30", "104.7750", "6.350")


def test_all_weighings_are_kept_oldest_first_even_undone_ones(store: Store) -> None:
    one, other = with_pieces(store, 2)
    for piece, value in [(one, "4.2"), (other, "9"), (one, "4.3")]:
        with store.act("weigh") as tx:
            pieces.record(tx, piece, weighing(value))
    undo.undo(store)
    with store.reading() as conn:
        assert [found.shown.value for _, found in weighings.of_piece(conn, one)] == [Decimal("4.2"), Decimal("4.3")]
        assert pieces.piece(conn, one).weighing == weighing("4.2")
        assert weighings.of_piece(conn, 999) == []


def test_every_field_of_a_weighing_is_among_the_samples() -> None:
    """Fails when a new field has no sample."""
    plain = SAMPLES["plain"]
    shown = {
        each.name for each in fields(Weighing) for one in SAMPLES.values() if getattr(one, each.name) != getattr(plain, each.name)
    }  # fmt: skip
    assert {each.name for each in fields(Weighing)} - shown == set()
