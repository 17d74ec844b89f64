"""The migrations end with the tables of `create_all`, and the constants name the same schema."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, inspect, select, text

from desk.domain.clock import SystemClock
from desk.domain.faults import Refused
from desk.domain.orders.piece import Weighing
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product, Restriction
from desk.domain.weight import Shown, WeightUnit
from desk.store import copies, health, journal, migrations, schema, undo
from desk.store.engine import make_engine
from desk.store.records import from_text
from desk.store.store import Store, open_store
from desk.store.tables import orders, papers, pieces, shop, weighings
from desk.store.upgrade import head_of


def differences(conn: Connection) -> list[object]:
    options = {"compare_type": True, "compare_server_default": True, "version_table": schema.head.name}
    return compare_metadata(MigrationContext.configure(conn, opts=options), schema.metadata)


def described(conn: Connection) -> dict[str, object]:
    """Return the tables as the database describes them."""
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


def test_known_schemas_are_the_revisions_in_the_folder() -> None:
    scripts = ScriptDirectory.from_config(migrations.config()).walk_revisions()  # newest first
    assert tuple(script.revision for script in scripts)[::-1] == schema.KNOWN_HEADS
    assert schema.KNOWN_HEADS[-1] == schema.SCHEMA_HEAD


def test_a_new_store_has_the_tables_of_the_migrations(where: str, opening: Callable[..., Store]) -> None:
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


SCHEMAS = sorted((Path(__file__).parent / "schemas").glob("*.sql"))


def older(tmp_path: Path, dump: Path) -> Path:
    """Return a store as written by the program of that schema."""
    file = tmp_path / "store.sqlite"
    with closing(sqlite3.connect(file)) as conn:
        conn.executescript(dump.read_text(encoding="utf-8"))
    return file


def test_the_tests_have_a_store_of_every_earlier_schema() -> None:
    assert tuple(dump.stem for dump in SCHEMAS) == schema.KNOWN_HEADS[:-1]


@pytest.mark.parametrize("dump", SCHEMAS, ids=lambda dump: dump.stem)
def test_a_store_of_each_schema_is_upgraded_with_all_its_rows(tmp_path: Path, dump: Path) -> None:
    store = open_store(older(tmp_path, dump), SystemClock())
    with store.reading() as conn:
        assert head_of(conn) == schema.SCHEMA_HEAD
        assert differences(conn) == []
        assert conn.exec_driver_sql("PRAGMA foreign_key_check").all() == []
        assert [one.order.address.recipient for one in orders.all_orders(conn)] == [
            "Ada Vell",
            "Cy Bell",
            "Cy Bell",
            "Solene Mercadier",
        ]
        one, two, three, four = pieces.all_pieces(conn)
        assert one.weighing == Weighing(ounces("0.8"), "A7", earlier=ounces("0.7"))
        assert (one.postage_on, two.answered, three.together_with) == (True, {"hs-missing"}, 2)
        assert (four.weighing, four.mailer_override) == (Weighing(ounces("0.9"), "A7"), "")
        kept = shop.load(conn)
        assert kept is not None
        assert (kept.choices, kept.tax_ids) == ({"by letter": ("letter-stamped",)}, {"ioss": "IM0400000000"})
        assert [stamp.count for stamp in kept.stamps] == [8, 9]
        assert len(papers.all_papers(conn)) == 1
        assert [step.name for step in journal.steps_of_piece(conn, 1)][:2] == ["Print", "Stamps on 1-1"]
    assert health.damage_of(tmp_path / "store.sqlite") == ""
    store.close()


@pytest.mark.parametrize("dump", SCHEMAS, ids=lambda dump: dump.stem)
def test_importing_the_same_files_again_after_an_upgrade_changes_nothing(tmp_path: Path, dump: Path) -> None:
    """Digests and shop rows are compared by content, not by how their text was written."""
    store = open_store(older(tmp_path, dump), SystemClock())
    with store.reading() as conn:
        saved_orders, kept = [one.order for one in orders.all_orders(conn)], shop.load(conn)
        assert orders.compare_with_stored(conn, saved_orders).same == tuple(saved_orders)
    assert kept is not None
    with store.act("the shop again") as tx:
        counted = replace(kept, stamps=tuple(replace(stamp, count=9) for stamp in kept.stamps))
        assert shop.save(tx, counted) == ()
    store.close()


def test_formats_of_saved_mappings_become_lists_of_words(tmp_path: Path) -> None:
    """The store of schema 0008 has a mapping whose discount is "percent, comma decimals"."""
    file = older(tmp_path, Path(__file__).parent / "schemas" / "0008.sql")
    store = open_store(file, SystemClock())
    with store.reading() as conn:
        content = conn.execute(select(schema.settings.c.content)).scalar_one()
    mapping = json.loads(content)["all"][0]["mapping"]
    assert mapping["formats"] == {"placed": ["day first"], "discount": ["percent", "comma decimals"]}
    assert (mapping["name"], mapping["prefix"], mapping["columns"]) == ("Fair", "F-", {"recipient": "Who"})
    store.close()


@pytest.mark.parametrize("corrupted", ["[]", '{"all":[{"mapping":{"formats":{"placed":3}}}]}'])
def test_saved_mappings_that_cannot_be_read_do_not_stop_the_upgrade(tmp_path: Path, corrupted: str) -> None:
    file = older(tmp_path, Path(__file__).parent / "schemas" / "0008.sql")
    with closing(sqlite3.connect(file)) as conn, conn:
        conn.execute("UPDATE settings SET content = ?", (corrupted,))
    store = open_store(file, SystemClock())
    with store.reading() as conn:
        assert conn.execute(select(schema.settings.c.content)).scalar_one() == corrupted
    store.close()


@pytest.mark.parametrize("dump", SCHEMAS, ids=lambda dump: dump.stem)
def test_a_backup_is_made_before_an_older_store_is_upgraded(tmp_path: Path, dump: Path) -> None:
    file = older(tmp_path, dump)
    open_store(file, SystemClock()).close()
    (kept,) = copies.copies_of(file)
    assert kept.why == "before upgrade"
    with closing(sqlite3.connect(kept.file)) as conn:
        assert conn.execute("SELECT version_num FROM schema_head").fetchone() == (dump.stem,)
    open_store(file, SystemClock()).close()
    assert len(copies.copies_of(file)) == 1


def test_a_store_whose_rows_do_not_fit_is_left_as_it_was(tmp_path: Path) -> None:
    file = older(tmp_path, SCHEMAS[0])
    with closing(sqlite3.connect(file)) as conn, conn:
        conn.execute("UPDATE pieces SET weighing_id = 4711 WHERE id = 1")
    before = file.read_bytes()
    with pytest.raises(Refused, match="could not be updated: the weighing of piece 1 is not there"):
        open_store(file, SystemClock())
    with closing(sqlite3.connect(file)) as conn:
        assert conn.execute("SELECT version_num FROM schema_head").fetchone() == ("0001",)
    assert len(file.read_bytes()) >= len(before)


def test_steps_from_before_the_upgrade_are_not_undone(tmp_path: Path) -> None:
    store = open_store(older(tmp_path, SCHEMAS[-1]), SystemClock())
    with pytest.raises(Refused, match="was done by an earlier version of the program and stays as it is"):
        undo.undo(store)
    store.close()


def test_an_older_store_on_a_server_is_upgraded(postgres_where: str) -> None:
    engine = make_engine(postgres_where)
    with engine.begin() as conn:
        migrations.upgrade(conn, "0001")
        conn.execute(text("INSERT INTO meta (name, value) VALUES ('store', 'x')"))
        conn.execute(text("INSERT INTO ids (name, next) VALUES ('weighings', 2), ('settings', 3)"))
        columns = "id, piece_id, at, value, unit, division, mailer, copied_from"
        values = "1, 7, '2026-03-02T09:00:00+00:00', '4.2', 'oz', '0.1', 'Padded', ''"
        conn.execute(text(f"INSERT INTO weighings ({columns}) VALUES ({values})"))
        conn.execute(text("INSERT INTO settings VALUES (1, 1, 1, 'a', '[1]'), (2, 1, 1, 'b', '{\"c\"\\:2}')"))
    engine.dispose()
    store = open_store(postgres_where, SystemClock())
    with store.reading() as conn:
        assert head_of(conn) == schema.SCHEMA_HEAD
        ((_, found),) = weighings.of_piece(conn, 7)
        contents = list(conn.execute(select(schema.settings.c.content).order_by(schema.settings.c.id)).scalars())
    store.close()
    assert found == Weighing(ounces("4.2"), "Padded")
    assert contents == ['{"v":1,"is":[1]}', '{"v":1,"c":2}']


def test_products_and_mailers_of_an_older_store_are_converted(where: str) -> None:
    """One restriction becomes a list of one, and fields no file could set follow from the kind of mailer."""
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
        conn.execute(text("INSERT INTO ids (name, next) VALUES ('shop_rows', 9)"))
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
    assert found["A7"] == '{"v":1,' + old["mailer", "A7"][1:]


def ounces(value: str) -> Shown:
    return Shown(Decimal(value), WeightUnit.OUNCE, Decimal("0.01") if value < "4" else Decimal("0.1"))
