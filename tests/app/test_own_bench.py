"""Two windows of one computer are two benches, each with a name that stays the same after a restart."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from desk.app.own_bench import OwnBench
from desk.app.sitting import open_own
from desk.domain.faults import Refused
from desk.session.bench.weigh import record_weight
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.undo import next_steps, undo
from desk.store.following import Follower
from tests.conftest import ROOT
from tests.session import made

HELD = """
import os, sys, time
from pathlib import Path
from desk.app.own_bench import OwnBench
bench = OwnBench(Path(sys.argv[1]))
print(bench.name, flush=True)
time.sleep(60)
"""


def test_the_name_of_a_bench_is_the_same_after_a_restart(tmp_path: Path) -> None:
    first = OwnBench(tmp_path / "new")
    first.leave()
    assert OwnBench(tmp_path / "new").name == first.name
    assert first.name.startswith("bench ")


def test_windows_open_at_once_have_different_names_and_the_first_free_one_is_used_again(tmp_path: Path) -> None:
    one, two, three = (OwnBench(tmp_path) for _ in range(3))
    assert [two.name, three.name] == [f"{one.name} window 2", f"{one.name} window 3"]
    two.leave()
    assert OwnBench(tmp_path).name == two.name


def test_the_bench_of_a_killed_window_is_free_again(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", HELD, str(tmp_path)], cwd=ROOT, stdout=subprocess.PIPE, text=True
    ) as window:
        assert window.stdout is not None
        theirs = window.stdout.readline().strip()
        mine = OwnBench(tmp_path)
        assert mine.name == f"{theirs} window 2"
        window.send_signal(signal.SIGKILL)
        window.wait()
    assert OwnBench(tmp_path).name == theirs


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_bench_has_a_name_even_if_its_folder_is_read_only(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    assert OwnBench(tmp_path / "deep").name.startswith("bench ")


def test_a_bench_has_a_name_even_if_a_file_has_the_name_of_its_folder(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    assert OwnBench(tmp_path / "file").name.startswith("bench ")


@pytest.fixture
def windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: object):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    desks = [open_own(tmp_path / "shared.sqlite") for _ in range(2)]
    yield desks
    for desk in desks:
        desk.closing.emit()
        desk.sitting.store.close()


def test_two_windows_on_one_computer_undo_only_their_own_steps_and_see_each_others_pieces(windows) -> None:
    one, two = windows
    import_shop(one.sitting, made.shop())
    import_orders(one.sitting, [made.order("1"), made.order("2")])
    record_weight(two.sitting, 1, made.weighing().shown, made.Placement("A7"))
    record_weight(one.sitting, 2, made.weighing().shown, made.Placement("A7"))
    assert [next_steps(desk.sitting)[0] for desk in windows] == ["Weighed 2", "Weighed 1"]
    undo(two.sitting)
    with pytest.raises(Refused, match="nothing to undo"):
        undo(two.sitting)
    assert next_steps(one.sitting)[0] == "Weighed 2"
    here, there = (Follower(desk.sitting.store, desk.sitting.clock) for desk in windows)
    there.open_piece = 2
    heard = [follower.news() for _ in range(6) for follower in (there, here)]
    assert {two.sitting.store.bench: 2} in [news.open_pieces for news in heard if news]
    for follower in (here, there):
        follower.leave()


def test_the_next_window_reuses_the_bench_of_a_closed_one(windows, tmp_path: Path) -> None:
    one, two = windows
    assert two.sitting.store.bench == f"{one.sitting.store.bench} window 2"
    one.closing.emit()
    again = open_own(tmp_path / "shared.sqlite")
    assert again.sitting.store.bench == one.sitting.store.bench
    again.closing.emit()
    again.sitting.store.close()
