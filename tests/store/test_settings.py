"""Settings: one record under a name; records of another version do no harm."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

import pytest
from sqlalchemy import update

from desk.domain.money import Money
from desk.store import schema, undo
from desk.store.store import Store
from desk.store.tables import settings as store_settings
from desk.store.tables.settings import read, write


class Side(StrEnum):
    """The side something is on."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Bench:
    """A record with every kind of field."""

    side: Side = Side.LEFT
    step: Decimal | None = None
    limits: tuple[Money, ...] = ()


FULL = Bench(Side.RIGHT, Decimal("0.10"), (Money(5), Money(150, "JPY")))


def keep(store: Store, record: object, name: str = "bench") -> bool:
    with store.act("Set") as tx:
        return write(tx, name, record)


def kept(store: Store, name: str = "bench") -> Bench:
    with store.reading() as conn:
        return read(conn, name, Bench())


def test_a_setting_never_saved_is_the_default(store: Store) -> None:
    with store.reading() as conn:
        assert read(conn, "bench", FULL) == FULL


def test_a_record_is_read_back_unchanged(store: Store) -> None:
    assert keep(store, FULL)
    assert kept(store) == FULL
    assert str(kept(store).step) == "0.10"


def test_each_setting_has_its_own_record(store: Store) -> None:
    keep(store, FULL)
    keep(store, Bench(Side.LEFT), "other bench")
    assert (kept(store), kept(store, "other bench")) == (FULL, Bench())


def test_an_unchanged_value_is_reported_and_leaves_no_step(store: Store) -> None:
    keep(store, FULL)
    assert (keep(store, FULL), store.revision) == (False, 1)
    assert (keep(store, Bench()), store.revision) == (True, 2)
    assert kept(store) == Bench()


def test_saving_a_setting_reports_only_changed_settings(store: Store) -> None:
    keep(store, FULL)
    changes = store.last_changes
    assert (changes.settings, changes.shop, changes.pieces, changes.orders) == (True, False, frozenset(), frozenset())


def test_undo_restores_the_previous_record_and_then_none(store: Store) -> None:
    keep(store, FULL)
    keep(store, Bench(Side.RIGHT))
    undo.undo(store)
    assert kept(store) == FULL
    undo.undo(store)
    assert kept(store) == Bench()
    undo.redo(store)
    assert kept(store) == FULL


@pytest.mark.parametrize(
    "text",
    [
        "",
        "nonsense",
        "[]",
        "7",
        "null",
        '{"side": "above"}',
        '{"step": "x"}',
        '{"limits": [{"cents": 5}]}',
        '{"limits": 5}',
    ],
)
def test_a_record_that_no_longer_fits_gives_the_default(store: Store, text: str) -> None:
    keep(store, FULL)
    with store.engine.begin() as conn:
        conn.execute(update(schema.settings).values(content=text))
    assert kept(store) == Bench()
    assert keep(store, FULL)
    assert kept(store) == FULL


@pytest.mark.parametrize(
    ("text", "record"),
    [
        ("{}", Bench()),
        ('{"side": "right"}', Bench(Side.RIGHT)),
        ('{"side": "right", "lamp": true}', Bench(Side.RIGHT)),
    ],
)
def test_a_setting_with_an_extra_or_missing_field_is_read(store: Store, text: str, record: Bench) -> None:
    """An older record lacks newer fields; a newer one has fields unknown here."""
    keep(store, FULL)
    with store.engine.begin() as conn:
        conn.execute(update(schema.settings).values(content=text))
    assert kept(store) == record


def test_a_setting_that_cannot_be_read_is_named_until_it_is_saved_again(
    store: Store, caplog: pytest.LogCaptureFixture
) -> None:
    with store.act("set") as tx:
        store_settings.write(tx, "lamp", "on")
    with store.reading() as conn:
        assert store_settings.read(conn, "lamp", 5) == 5
        assert store_settings.read(conn, "lamp", 5) == 5
    assert store.unread_settings == {"lamp"}
    assert [record.getMessage() for record in caplog.records] == [
        "the setting 'lamp' cannot be read; its default is used"
    ]
    with store.act("set") as tx:
        store_settings.write(tx, "lamp", 7)
    assert store.unread_settings == frozenset()
