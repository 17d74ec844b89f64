"""Faults around a run: a full disk, a read-only folder, a busy or newer store, a clock that goes backwards.

Each time: one sentence and no traceback, exit code 2 (74 where results could not be written), and a run afterward that ends as if nothing had been.
"""

from __future__ import annotations

import errno
import json
import os
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from desk.domain import whole_file
from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.history import history_of
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.session.undo import redo, undo
from desk.store import engine as store_engine
from desk.store.store import open_store
from tests.app.headless import WEIGHTS, Desk
from tests.conftest import StillClock
from tests.session import made

TABLES = ("pieces.csv", "findings.csv", "declarations.csv", "postage-list.csv")
RESULTS = (
    *TABLES,
    "labels.pdf",
    "slips.pdf",
    "packing-slips.pdf",
    "keying-sheets.pdf",
    "hand-over.pdf",
    "summary.json",
)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def tables(desk: Desk) -> dict[str, bytes]:
    return {name: (desk.out / name).read_bytes() for name in TABLES}


def full_at(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """From that file on the disk has no room."""
    real = whole_file._write_new

    def write(part: Path, content: bytes) -> None:
        if part.name == f".{name}.part":
            part.write_bytes(content[: len(content) // 2])
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(part.with_name(name)))
        real(part, content)

    monkeypatch.setattr(whole_file, "_write_new", write)


def one_sentence(capsys: pytest.CaptureFixture[str], *words: str) -> None:
    printed = capsys.readouterr().err
    assert "Traceback" not in printed
    assert len(printed.splitlines()) == 1
    assert all(word in printed for word in words), printed


@pytest.mark.parametrize("name", RESULTS)
def test_a_full_disk_is_reported_and_the_next_run_is_complete(desk, monkeypatch, capsys, name):
    with monkeypatch.context() as full:
        full_at(full, name)
        assert desk.run() == 74
    one_sentence(capsys, name, "No space left on device")
    assert not [each for each in RESULTS if (desk.out / each).exists()]
    assert desk.run() == 0
    assert all((desk.out / each).stat().st_size for each in RESULTS)


@pytest.mark.parametrize("name", RESULTS)
def test_a_full_disk_leaves_earlier_results_unchanged(desk, monkeypatch, capsys, name):
    assert desk.run() == 0
    before = {each: (desk.out / each).read_bytes() for each in RESULTS}
    desk.weights = WEIGHTS.replace("0.7", "1.7")
    with monkeypatch.context() as full:
        full_at(full, name)
        assert desk.run() == 74
    assert {each: (desk.out / each).read_bytes() for each in RESULTS} == before
    assert not list(desk.out.glob(".*.part"))
    assert desk.run() == 0
    assert desk.table("pieces.csv")[0]["gross_oz"] == "1.700"


def test_changes_not_reported_because_of_a_full_disk_are_reported_later(desk, monkeypatch):
    """A change counts as reported only once the summary is complete."""
    assert desk.run() == 0
    desk.weights = WEIGHTS.replace("0.7", "1.7")
    with monkeypatch.context() as full:
        full_at(full, "summary.json")
        assert desk.run() == 74
    assert desk.run() == 0
    assert json.loads((desk.out / "summary.json").read_text())["changed"] == [{"order": "1", "piece": 1}]
    assert desk.run() == 0
    assert json.loads((desk.out / "summary.json").read_text())["changed"] == []


def test_a_truncated_summary_is_replaced(desk):
    assert desk.run() == 0
    whole = tables(desk)
    file = desk.out / "summary.json"
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    with pytest.raises(json.JSONDecodeError):
        json.loads(file.read_text())
    assert desk.run() == 0
    assert json.loads(file.read_text())["counts"]["pieces"] == 2
    assert tables(desk) == whole


def test_a_store_that_another_bench_is_writing_is_reported_as_busy(desk, monkeypatch, capsys):
    assert desk.run() == 0
    before = tables(desk)
    capsys.readouterr()
    monkeypatch.setattr(store_engine, "BUSY_SECONDS", 0.1)
    other = open_store(desk.out / "store.sqlite", StillClock(datetime(2026, 7, 15, tzinfo=UTC)), "bench 2")
    desk.weights = WEIGHTS.replace("0.7", "1.7")
    with other.engine.connect() as conn, conn.begin():
        assert desk.run() == 2
    one_sentence(capsys, "The data is busy")
    assert tables(desk) == before
    other.close()
    assert desk.run() == 0


def test_a_store_of_a_newer_version_is_left_unchanged(desk, capsys):
    assert desk.run() == 0
    store = open_store(desk.out / "store.sqlite", StillClock(datetime(2026, 7, 15, tzinfo=UTC)))
    with store.engine.begin() as conn:
        table = conn.execute(text("SELECT name FROM sqlite_master WHERE sql LIKE '%version_num%'")).scalar_one()
        conn.execute(text(f"UPDATE \"{table}\" SET version_num = '9999'"))
    store.close()
    capsys.readouterr()
    before = tables(desk)
    desk.weights = WEIGHTS.replace("0.7", "1.7")
    assert desk.run() == 2
    one_sentence(capsys, "newer version", "9999")
    assert tables(desk) == before


@pytest.mark.parametrize("hours", [1, 24, 24 * 365 * 30])
def test_a_clock_that_goes_backwards_loses_no_weighing(resources, tmp_path, hours):
    clock = StillClock(datetime(2026, 7, 15, 12, tzinfo=UTC))
    store = open_store(tmp_path / "kept.sqlite", clock)
    sitting = Sitting(store, clock, read_rulebook(resources), made.ON)
    import_shop(sitting, made.shop())
    import_orders(sitting, [made.order("1")])
    weigh(sitting, [(PieceKey("1"), made.weighing("0.7"))])
    clock._now -= timedelta(hours=hours)
    weigh(sitting, [(PieceKey("1"), made.weighing("1.7"))])
    past = history_of(sitting, 1)
    assert past[0].at < past[1].at  # newest first by the journal's own count, whatever the clock says
    assert undo(sitting) == past[0].name
    assert redo(sitting) == past[0].name
    store.close()


def test_results_are_readable_only_by_their_owner(desk):
    """They hold the addresses of buyers."""
    desk.run()
    assert {stat.S_IMODE(path.stat().st_mode) for path in desk.out.iterdir()} == {0o600}
    assert stat.S_IMODE(desk.out.stat().st_mode) == 0o700
