"""A loss of power: the process is killed while it weighs, and no weighing it had reported is lost.

Outside check: SQLite's own promise for synchronous=FULL with a write-ahead log (sqlite.org, "Write-Ahead Logging",
section 3), as far as the death of a process can show it. It does not show the death of a disk.
"""

from __future__ import annotations

import os
import random
import subprocess
from pathlib import Path

from desk.domain.clock import SystemClock
from desk.store.store import open_store
from desk.store.tables import pieces, weighings
from tests.faults.forking import forking
from tests.store.samples import with_pieces

KILLS = int(os.environ.get("KILLS", "20"))

# Forks a child for each line it is given, so that twenty of them do not import everything twenty times.
DESK = """
import os, sys
from pathlib import Path
from desk.domain.clock import SystemClock
from desk.store.tables import pieces
from desk.store.store import open_store
from tests.store.samples import weighing

def weigh(where):
    store = open_store(where, SystemClock())
    while True:
        with store.act("weigh") as tx:
            number = pieces.record(tx, 1, weighing())
        os.write(1, f"{number}\\n".encode())

for line in sys.stdin:
    child = os.fork()
    if child == 0:
        weigh(Path(line.strip()))
    os.write(1, f"child {child}\\n".encode())
    os.waitpid(child, 0)
    os.write(1, b"dead\\n")
"""


def weigh_until_killed(running: subprocess.Popen[str], where: Path, announced: int) -> list[int]:
    """Let a child weigh until it has reported that many weighings, kill it, and return all it reported."""
    assert running.stdin is not None
    assert running.stdout is not None
    running.stdin.write(f"{where}\n")
    running.stdin.flush()
    numbers: list[int] = []
    child = 0
    for line in running.stdout:
        if line == "dead\n":
            return numbers
        if line.startswith("child"):
            child = int(line.split()[1])
        else:
            numbers.append(int(line))
        if child and len(numbers) == announced:
            os.kill(child, 9)
    raise AssertionError("the desk ended by itself")


def test_no_reported_weighing_is_lost(tmp_path: Path) -> None:
    where = tmp_path / "batch.store"
    store = open_store(where, SystemClock())
    with_pieces(store)
    store.close()
    chance = random.Random(7)
    announced: list[int] = []
    with forking(DESK) as running:
        for kill in range(1, KILLS + 1):
            announced += weigh_until_killed(running, where, chance.randint(1, 25))
            store = open_store(where, SystemClock())
            with store.reading() as conn:
                kept = [found for _, found in weighings.of_piece(conn, 1)]
                piece = pieces.piece(conn, 1)
                assert conn.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
            store.close()

            assert (
                len(announced) <= len(kept) <= len(announced) + kill
            )  # at most one weighing per kill was saved but not reported
            assert piece.weighing == kept[-1]
            assert announced == sorted(set(announced))
            assert announced[-1] <= len(kept)
    assert len(announced) >= KILLS
