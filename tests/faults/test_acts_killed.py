"""A bench killed while it weighs, imports, prints and undoes, on both databases: no step is lost, doubled or halved.

Before each step the bench reports what it is about to do, and afterward that it is done. After a kill the data must be as
after the last step that was done, or as after the one that was begun. `KILLS` says how often, on each database.
Outside checks: SQLite's promise for synchronous=FULL with a write-ahead log (sqlite.org, "Write-Ahead Logging") and
PostgreSQL's for a committed transaction (postgresql.org, "Reliability"), as far as a killed process can show them.
"""

from __future__ import annotations

import json
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
from desk.store.tables import papers, pieces
from tests.faults.forking import forking
from tests.session import made
from tests.store.conftest import *  # noqa: F403

KILLS = int(os.environ.get("KILLS", "3"))
LONGEST = 0.4  # seconds from the first step done to the kill, at most
PIECES = 12
State = dict[str, tuple[int, int]]  # by order: grams (0: not weighed) and how often a label was printed

# Forks a child for each line it is given (data, random number), which works until it is killed.
BENCH = """
import json, os, random, sys
from datetime import date
from decimal import Decimal
from pathlib import Path
from desk.domain.clock import SystemClock
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.weigh import record_weight
from desk.session.importing.import_orders import import_orders
from desk.session.papers.kinds import Paper
from desk.session.papers.printed import note_printed
from desk.session.pile.packing import Placement
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.session.undo import undo
from desk.store.store import open_store
from tests.session import made

RULEBOOK = read_rulebook(Path("resources"))

def say(*words):
    os.write(1, (json.dumps(words) + "\\n").encode())

def work(where, first):
    clock, chance, last = SystemClock(), random.Random(first), ""
    sitting = Sitting(open_store(where if "://" in where else Path(where), clock), clock, RULEBOOK, date(2026, 7, 15))
    pile = Pile(sitting)
    sitting.listeners.append(pile.follow)
    by_order = {verdict.case.key.order: piece for piece, verdict in pile.verdicts.items()}
    for step in range(1, 1_000_000):
        kind = chance.choice(["weigh", "weigh", "import", "print", *(["undo", "undo"] if last in ("weigh", "import") else [])])
        order, number = str(chance.randint(1, 12)), first * 1000 + step
        say("begins", kind, order, number)
        if kind == "weigh":
            record_weight(sitting, by_order[order], Shown(Decimal(number), WeightUnit.GRAM, Decimal(1)), Placement("A7"))
        elif kind == "import":
            import_orders(sitting, [made.order(f"{number}-{part}") for part in range(8)])
        elif kind == "print":
            note_printed(sitting, [by_order[order]], Paper.LABELS)
        else:
            undo(sitting)
        say("done", kind, order, number)
        last = kind

for line in sys.stdin:
    child = os.fork()
    if child == 0:
        where, first = json.loads(line)
        work(where, first)
    say("child", child)
    os.waitpid(child, 0)
    say("dead")
"""


def work_until_killed(running: subprocess.Popen[str], where: str, first: int, seconds: float) -> list[list[object]]:
    """Let a child work, kill it that long after its first step, and return everything it reported."""
    assert running.stdin is not None
    assert running.stdout is not None
    running.stdin.write(json.dumps([where, first]) + "\n")
    running.stdin.flush()
    messages: list[list[object]] = []
    child = 0
    for line in running.stdout:
        words = json.loads(line)
        if words[0] == "dead":
            return messages
        if words[0] == "child":
            child = words[1]
        else:
            messages.append(words)
        if child and len(messages) > 1:
            time.sleep(seconds)  # the pipe buffers what is reported meanwhile
            os.kill(child, 9)
            child = 0
    raise AssertionError("the bench ended by itself")


def after(state: State, before: State, kind: object, order: str, number: int) -> State:
    """Return the state after one more step; `before` is the state before the last one, to which undo returns."""
    grams, printed = state.get(order, (0, 0))
    if kind == "weigh":
        return state | {order: (number, printed)}
    if kind == "print":
        return state | {order: (grams, printed + 1)}
    if kind == "import":
        return state | {f"{number}-{part}": (0, 0) for part in range(8)}
    return before


def stored(store: Store) -> State:
    """Return the state of the data, which must be sound and have a journal without gaps."""
    with store.writing():  # the server may still be ending the killed bench's transaction
        pass
    with store.reading() as conn:
        if store.file is not None:
            assert conn.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
        steps = [step.revision for step in reversed(journal.steps(conn, 1_000_000))]
        assert steps == list(range(1, len(steps) + 1))
        printed = Counter(one.piece_id for one in papers.all_papers(conn))
        found = [(p.key.order, int(p.weighing.shown.value) if p.weighing else 0, p.id) for p in pieces.all_pieces(conn)]
    assert len(found) == len({order for order, _, _ in found})
    return {order: (grams, printed[number]) for order, grams, number in found}


def test_no_step_is_lost_or_repeated_when_a_bench_is_killed(where: str | Path) -> None:
    chance, clock, done, unsaid = random.Random(20260715), SystemClock(), Counter[object](), 0
    store = open_store(where, clock)
    sitting = Sitting(store, clock, None, date(2026, 7, 15))  # type: ignore[arg-type]
    made.stock(sitting, [made.order(str(number)) for number in range(1, PIECES + 1)])
    state = stored(store)
    with forking(BENCH) as running:
        for kill in range(1, KILLS + 1):
            before = state
            messages = work_until_killed(running, str(where), kill, chance.uniform(0, LONGEST))
            begun = [words for words in messages if words[0] == "begins"]
            for words in messages:
                if words[0] == "done":
                    state, before = after(state, before, *words[1:]), state  # type: ignore[arg-type]
                    done[words[1]] += 1
            found = stored(store)
            if found != state:
                unsaid += 1
                assert len(begun) == sum(words[0] == "done" for words in messages) + 1
                assert found == after(state, before, *begun[-1][1:])  # type: ignore[arg-type]
            state = found
    store.close()
    assert done["weigh"] > 0
    sys.stdout.write(f"{KILLS} kills, {dict(done)} done, none lost, none twice; {unsaid} done and not said\n")
