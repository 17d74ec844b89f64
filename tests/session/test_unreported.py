"""Changes wait in the store until they are reported: in order, each once, even after a restart."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from desk.domain.orders.piece import PieceKey
from desk.session.rulebook import Rulebook
from desk.session.sitting import Sitting
from desk.session.unreported import mark_reported, report_later, unreported
from desk.store.store import open_store
from tests.conftest import StillClock
from tests.session import made


def later(sitting: Sitting, orders: Sequence[str] = (), pieces: Sequence[PieceKey] = ()) -> None:
    with sitting.store.act("Change") as tx:
        report_later(tx, orders, pieces)


def test_at_first_there_are_no_changes(sitting: Sitting) -> None:
    assert unreported(sitting) == []


def test_changed_orders_come_before_changed_pieces_in_sequence(sitting: Sitting) -> None:
    later(sitting, pieces=[PieceKey("5", 2)])
    later(sitting, orders=["9", "2"], pieces=[PieceKey("1")])
    assert unreported(sitting) == [
        {"order": "9"},
        {"order": "2"},
        {"order": "5", "piece": 2},
        {"order": "1", "piece": 1},
    ]


def test_repeated_changes_are_reported_once(sitting: Sitting) -> None:
    later(sitting, orders=["9"], pieces=[PieceKey("1")])
    later(sitting, orders=["9", "9"], pieces=[PieceKey("1"), PieceKey("1", 2)])
    assert unreported(sitting) == [{"order": "9"}, {"order": "1", "piece": 1}, {"order": "1", "piece": 2}]


def test_without_changes_nothing_is_written(sitting: Sitting) -> None:
    before = sitting.store.revision
    later(sitting)
    mark_reported(sitting)
    assert sitting.store.revision == before


def test_a_reported_change_is_not_reported_again(sitting: Sitting) -> None:
    later(sitting, orders=["9"])
    mark_reported(sitting)
    assert unreported(sitting) == []
    later(sitting, orders=["4"])
    assert unreported(sitting) == [{"order": "4"}]


def test_a_failed_step_stores_no_change(sitting: Sitting) -> None:
    def fails() -> None:
        with sitting.store.act("Change") as tx:
            report_later(tx, ["9"])
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fails()
    assert unreported(sitting) == []


def test_unreported_changes_survive_a_restart(rulebook: Rulebook, clock: StillClock, tmp_path: Path) -> None:
    for expected in ([], [{"order": "9"}]):
        store = open_store(tmp_path / "kept.sqlite", clock)
        sitting = Sitting(store, clock, rulebook, made.ON)
        assert unreported(sitting) == expected
        later(sitting, orders=["9"])
        store.close()
