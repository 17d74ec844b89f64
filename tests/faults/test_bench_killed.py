"""A bench that is killed while one piece after another is weighed: each weight it had shown as taken is there, once.

The act is that of the window, with a pile that follows; the moment is any. `KILLS` says how often.
Outside check: SQLite's promise for synchronous=FULL with a write-ahead log (sqlite.org, "Write-Ahead Logging"), as far
as the death of a process can show it.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from collections import Counter
from datetime import date
from pathlib import Path

from desk.domain.clock import SystemClock
from desk.session.sitting import Sitting
from desk.store import journal
from desk.store.store import Store, open_store
from desk.store.tables import pieces, weighings
from tests.faults.forking import forking
from tests.session import made

KILLS = int(os.environ.get("KILLS", "3"))
ORDERS = [made.order(str(number)) for number in range(1, 13)]
LONGEST = 0.6  # seconds from the first reported weight to the kill, at most

# Forks a child for each line it is given (store, first weight in grams), which weighs until it is killed.
BENCH = """
import os, sys
from datetime import date
from decimal import Decimal
from itertools import count, cycle
from pathlib import Path
from desk.domain.clock import SystemClock
from desk.domain.weight import Shown, WeightUnit
from desk.session.pile.pile import Pile
from desk.session.pile.packing import Placement
from desk.session.bench.weigh import record_weight
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.store.store import open_store

RULEBOOK = read_rulebook(Path("resources"))

def weigh(where, first):
    clock = SystemClock()
    sitting = Sitting(open_store(Path(where), clock), clock, RULEBOOK, date(2026, 7, 15))
    pile = Pile(sitting)
    sitting.listeners.append(pile.follow)
    for piece, grams in zip(cycle(list(pile.verdicts)), count(int(first))):
        if record_weight(sitting, piece, Shown(Decimal(grams), WeightUnit.GRAM, Decimal(1)), Placement("A7")):
            os.write(1, f"{piece} {grams}\\n".encode())

for line in sys.stdin:
    child = os.fork()
    if child == 0:
        weigh(*line.split())
    os.write(1, f"child {child}\\n".encode())
    os.waitpid(child, 0)
    os.write(1, b"dead\\n")
"""


def weigh_until_killed(
    running: subprocess.Popen[str], where: Path, first: int, seconds: float
) -> list[tuple[int, int]]:
    """Let a child weigh from a weight on, kill it that long after; return every (piece, grams) it reported."""
    assert running.stdin is not None
    assert running.stdout is not None
    running.stdin.write(f"{where} {first}\n")
    running.stdin.flush()
    reports: list[tuple[int, int]] = []
    child = 0
    for line in running.stdout:
        if line == "dead\n":
            return reports
        if line.startswith("child"):
            child = int(line.split()[1])
        else:
            piece, grams = line.split()
            reports.append((int(piece), int(grams)))
        if child and reports:
            time.sleep(seconds)  # the pipe buffers what is reported meanwhile
            os.kill(child, 9)
            child = 0
    raise AssertionError("the bench ended by itself")


def kept(store: Store) -> Counter[tuple[int, int]]:
    """Every weighing of the store as (piece, grams), with how often it is there; the file is sound, the journal whole."""
    with store.reading() as conn:
        assert conn.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
        steps = [step.revision for step in reversed(journal.steps(conn, 1_000_000))]
        ids = [piece.id for piece in pieces.all_pieces(conn)]
        found = Counter((number, int(w.shown.value)) for number in ids for _, w in weighings.of_piece(conn, number))
        last = {piece.id: int(piece.weighing.shown.value) for piece in pieces.all_pieces(conn) if piece.weighing}
    assert steps == list(range(1, len(steps) + 1))
    assert len(steps) - 2 == found.total()  # the shop and the orders were two steps
    assert last == {number: max(grams for piece, grams in found if piece == number) for number in last}
    return found


def test_each_reported_weight_is_stored_exactly_once(tmp_path: Path) -> None:
    where, chance = tmp_path / "batch.store", random.Random(20260715)
    clock = SystemClock()
    store = open_store(where, clock)
    sitting = Sitting(store, clock, None, date(2026, 7, 15))  # type: ignore[arg-type]
    made.stock(sitting, ORDERS)
    store.close()
    reports: list[tuple[int, int]] = []
    with forking(BENCH) as running:
        for kill in range(1, KILLS + 1):
            fresh = weigh_until_killed(running, where, kill * 100_000, chance.uniform(0, LONGEST))
            assert fresh
            reports += fresh
            store = open_store(where, clock)
            found = kept(store)
            store.close()
            assert set(reports) - found.keys() == set()
            assert max(found.values()) == 1
            assert found.total() - len(reports) <= kill  # at most one weight per kill was saved but not reported
    sys.stdout.write(f"{KILLS} kills: {len(reports)} weights said, all there, none twice; ")
    sys.stdout.write(f"{found.total() - len(reports)} kept and not said\n")
