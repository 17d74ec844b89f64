"""The migrations end where `create_all` does, and the constants say which they are."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Connection, inspect, select, text

from desk.domain.clock import SystemClock
from desk.domain.mailer import Mailer
from desk.domain.piece import Weighing
from desk.domain.product import Product, Restriction
from desk.domain.weight import Shown, WeightUnit
from desk.store import migrations, schema, weighings
from desk.store.engine import make_engine
from desk.store.records import from_text
from desk.store.store import Store, head_of, open_store


def differences(conn: Connection) -> list[object]:
    options = {"compare_type": True, "compare_server_default": True, "version_table": schema.head.name}
    return compare_metadata(MigrationContext.configure(conn, opts=options), schema.metadata)


def described(conn: Connection) -> dict[str, object]:
    """Tables as the database itself describes them."""
    there = inspect(conn)
    return {
        name: (
            [(column["name"], str(column["type"]), column["nullable"]) for column in there.get_columns(name)],
            there.get_pk_constraint(name)["constrained_columns"],
            sorted((one["name"] or "", one["column_names"]) for one in there.get_unique_constraints(name)),
            sorted((one["name"] or "", one["column_names"], one["unique"]) for one in there.get_indexes(name)),
            [(one["name"], one["referred_table"], one["constrained_columns"]) for one in there.get_foreign_keys(name)],
        )
        for name in there.get_table_names()
    }


def test_known_heads_are_the_revisions_in_the_folder() -> None:
    assert migrations.revisions() == schema.KNOWN_HEADS
    assert schema.KNOWN_HEADS[-1] == schema.SCHEMA_HEAD


def test_create_all_equals_the_migrations(where: str, opening: Callable[..., Store]) -> None:
    store = opening(where)
    with store.engine.begin() as conn:
        assert differences(conn) == []
        created = described(conn)
        schema.metadata.drop_all(conn)
        schema.head.drop(conn)
    with store.engine.begin() as conn:
        migrations.upgrade(conn)
        assert differences(conn) == []
        assert described(conn) == created
        assert head_of(conn) == schema.SCHEMA_HEAD


def test_an_older_store_is_brought_up(where: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A store at an older known head goes through the migrations: here one that has only its head and meta table."""
    engine = make_engine(where)
    with engine.begin() as conn:
        schema.head.create(conn)
        schema.meta.create(conn)
        conn.execute(schema.head.insert().values(version_num="0000"))
    engine.dispose()
    called: list[str | None] = []

    def upgrade(conn: Connection) -> None:
        called.append(head_of(conn))
        conn.execute(text("UPDATE schema_head SET version_num = '0001'"))

    monkeypatch.setattr(schema, "KNOWN_HEADS", ("0000", "0001"))
    monkeypatch.setattr(migrations, "upgrade", upgrade)
    store = open_store(where, SystemClock())
    with store.reading() as conn:
        assert conn.execute(select(schema.head.c.version_num)).scalar_one() == "0001"
    store.close()
    assert called == ["0000"]


def test_readings_of_the_first_tables_are_read_as_before(where: str) -> None:
    """A store of the first tables with a weighing in it: brought up, the reading stood still on a pan at zero."""
    engine = make_engine(where)
    with engine.begin() as conn:
        migrations.upgrade(conn, "0001")
        conn.execute(text("INSERT INTO meta (name, value) VALUES ('store', 'x')"))
        columns = "id, piece_id, at, value, unit, division, mailer, copied_from"
        values = "1, 7, '2026-03-02T09:00:00+00:00', '4.2', 'oz', '0.1', 'Padded', ''"
        conn.execute(text(f"INSERT INTO weighings ({columns}) VALUES ({values})"))
    engine.dispose()
    store = open_store(where, SystemClock())
    with store.reading() as conn:
        assert head_of(conn) == schema.SCHEMA_HEAD
        ((_, found),) = weighings.of_piece(conn, 7)
    store.close()
    assert found == Weighing(Shown(Decimal("4.2"), WeightUnit.OUNCE, Decimal("0.1")), "Padded")


def test_products_and_mailers_of_an_older_store_take_the_form_of_today(where: str) -> None:
    """One restriction becomes a list of one, and what no file could set by hand goes by the kind of mailer."""
    old = {
        ("product", "M"): '{"sku":"M","name":"Magnets","restricted":"magnet"}',
        ("product", "C"): '{"sku":"C","name":"Card","restricted":null}',
        ("mailer", "Board"): '{"name":"Board","kind":"rigid","stiff":false}',
        ("mailer", "Bag"): '{"name":"Bag","kind":"apparel","paper":true}',
        ("mailer", "A7"): '{"name":"A7","kind":"envelope","stiff":false,"paper":true}',
    }
    engine = make_engine(where)
    with engine.begin() as conn:
        migrations.upgrade(conn, "0002")
        conn.execute(text("INSERT INTO meta (name, value) VALUES ('store', 'x')"))
        for place, ((kind, name), content) in enumerate(old.items()):
            row = {"id": place, "kind": kind, "name": name, "place": place, "content": content}
            conn.execute(schema.shop_rows.insert().values(version=1, revision=1, **row))
    engine.dispose()
    store = open_store(where, SystemClock())
    with store.reading() as conn:
        found = {row.name: row.content for row in conn.execute(select(schema.shop_rows))}
    store.close()
    assert from_text(Product, found["M"]).restricted == (Restriction.MAGNET,)
    assert from_text(Product, found["C"]).restricted == ()
    assert from_text(Mailer, found["Board"]).stiff
    assert not from_text(Mailer, found["Bag"]).paper
    assert found["A7"] == old["mailer", "A7"]
