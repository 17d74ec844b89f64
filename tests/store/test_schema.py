"""The tables keep the rules the store depends on."""

from __future__ import annotations

import pytest
from sqlalchemy import Float, Numeric, Table

from desk.store import schema

TABLES = schema.metadata.sorted_tables
JOURNALED = list(schema.JOURNALED.values())


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_no_column_is_a_float(table: Table) -> None:
    assert [column.name for column in table.c if isinstance(column.type, Float | Numeric)] == []


@pytest.mark.parametrize("table", JOURNALED, ids=lambda table: table.name)
def test_only_changeable_tables_have_version_and_revision(table: Table) -> None:
    carried = {"version", "revision"} & set(table.c.keys())
    assert carried == (set() if table.name in schema.APPEND_ONLY else {"version", "revision"})


@pytest.mark.parametrize("table", JOURNALED, ids=lambda table: table.name)
def test_the_store_assigns_ids_and_not_the_database(table: Table) -> None:
    assert [column.name for column in table.primary_key] == ["id"]
    assert table.c.id.autoincrement is False


def test_parent_tables_are_listed_before_their_children() -> None:
    place = {name: at for at, name in enumerate(schema.JOURNALED)}
    wrong = [
        (table.name, key.column.table.name)
        for table in JOURNALED
        for key in table.foreign_keys
        if place[key.column.table.name] > place[table.name]
    ]
    assert wrong == []


def test_every_table_is_journaled_or_internal() -> None:
    assert {table.name for table in TABLES} - schema.JOURNALED.keys() == {
        "meta",
        "ids",
        "journal",
        "journal_pieces",
        "benches",
    }
    assert schema.JOURNALED.keys() >= schema.APPEND_ONLY


@pytest.mark.parametrize("name", sorted(schema.APPEND_ONLY))
def test_append_only_rows_outlive_their_piece(name: str) -> None:
    assert schema.JOURNALED[name].foreign_keys == set()


def test_the_current_schema_is_the_last_known_one() -> None:
    assert schema.KNOWN_HEADS[-1] == schema.SCHEMA_HEAD
    assert list(schema.KNOWN_HEADS) == sorted(set(schema.KNOWN_HEADS))
