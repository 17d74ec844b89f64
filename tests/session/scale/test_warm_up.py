"""A rehearsed weighing leaves nothing behind, and the first real one puts no statement together any more."""

from __future__ import annotations

from decimal import Decimal

import pytest
from sqlalchemy import select

from desk.domain.faults import Refused
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.weigh import record_weight
from desk.session.pile.packing import Placement
from desk.session.pile.stored_cases import read_stored
from desk.session.scale import warm_up as warm
from desk.session.scale.warm_up import warm_up
from desk.session.sitting import Sitting
from desk.store import schema
from tests.session import made


@pytest.fixture
def taken_in(sitting: Sitting) -> Sitting:
    return made.stock(sitting, [made.order("1001"), made.order("1002")])


def contents(sitting: Sitting) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table."""
    with sitting.store.reading() as conn:
        return {
            table.name: [tuple(row) for row in conn.execute(select(table))] for table in schema.metadata.sorted_tables
        }


def test_a_rehearsal_leaves_no_data(taken_in: Sitting) -> None:
    reported: list[object] = []
    taken_in.listeners.append(reported.append)
    before, changes = contents(taken_in), taken_in.store.last_changes
    assert warm_up(taken_in) is True
    assert contents(taken_in) == before
    assert (taken_in.store.last_changes, reported) == (changes, [])


def test_after_a_rehearsal_every_statement_of_a_weighing_is_cached(taken_in: Sitting) -> None:
    warm_up(taken_in)
    known = len(taken_in.store.engine._compiled_cache)
    shown = Shown(Decimal("4.2"), WeightUnit.OUNCE, Decimal("0.1"))
    (first, _) = read_stored(taken_in)
    before_all = len(taken_in.store.engine._compiled_cache)  # reading all of them has statements of its own
    assert record_weight(taken_in, first.id, shown, Placement("A7"))
    assert len(taken_in.store.engine._compiled_cache) == before_all > known > 0


def test_without_a_rehearsal_some_statements_must_be_compiled(taken_in: Sitting) -> None:
    (first, _) = read_stored(taken_in)
    before = len(taken_in.store.engine._compiled_cache)
    record_weight(taken_in, first.id, Shown(Decimal("4.2"), WeightUnit.OUNCE, Decimal("0.1")), Placement("A7"))
    assert len(taken_in.store.engine._compiled_cache) > before


def test_without_a_piece_nothing_is_rehearsed(sitting: Sitting) -> None:
    assert warm_up(sitting) is False


def test_a_busy_store_is_left_alone(taken_in: Sitting, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_conn: object, _piece: int) -> None:
        raise Refused("The store is busy.")

    monkeypatch.setattr(warm.pieces, "piece", refuse)
    assert warm_up(taken_in) is False
