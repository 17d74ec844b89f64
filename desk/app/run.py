"""`tare-and-tag run`: the whole session without a window, from an order file and weights to labels."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from desk.app.paths import resources
from desk.domain.clock import Clock, SystemClock, today
from desk.domain.faults import Fault, FileFault
from desk.domain.stands import Stand
from desk.session.bench.weigh import weigh
from desk.session.importing.compare import take_in_all
from desk.session.importing.import_orders import take_in_shop
from desk.session.importing.run_inputs import read_brought
from desk.session.papers.run_results import leave_results
from desk.session.pile.batch import Batch
from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.setup.own_rules import shelf_in, with_own
from desk.session.sitting import Sitting
from desk.session.words.counts import pieces_in_words
from desk.store.engine import file_of
from desk.store.store import open_store

EXIT_READY, EXIT_LOOK, EXIT_NOTHING_DONE = 0, 1, 2
STORE_NAME = "store.sqlite"


def parser() -> argparse.ArgumentParser:
    """The options of `run`."""
    options = argparse.ArgumentParser(prog="tare-and-tag run", description=__doc__)
    options.add_argument("--orders", action="append", required=True, type=Path, metavar="FILE")
    options.add_argument("--weights", required=True, type=Path, metavar="FILE")
    options.add_argument("--shop", required=True, type=Path, metavar="FILE")
    options.add_argument("--out", required=True, type=Path, metavar="DIR")
    options.add_argument("--date", type=_day, default=None, metavar="YYYY-MM-DD")
    options.add_argument("--map", type=Path, metavar="FILE")
    options.add_argument("--zones", type=Path, metavar="FILE")
    options.add_argument("--store", metavar="FILE-OR-URL")
    return options


def run(arguments: Sequence[str]) -> int:
    """Do the run; 0 every piece is ready, 1 something is a stop or a look, 2 nothing was done."""
    wanted = parser().parse_args(arguments)
    try:
        return _run(wanted)
    except Fault as fault:
        print(fault.sentence, file=sys.stderr)
    except OSError as error:
        print(f"{error.filename or wanted.out}: {error.strerror}", file=sys.stderr)
    return EXIT_NOTHING_DONE


def _run(wanted: argparse.Namespace) -> int:
    clock = SystemClock()
    started = clock.now()
    where = wanted.store or wanted.out / STORE_NAME
    rulebook, damaged = _rules_of(where, wanted.out, clock)
    brought = read_brought(
        rulebook,
        orders=wanted.orders,
        weights=wanted.weights,
        shop=wanted.shop,
        mapping=wanted.map,
        zones=wanted.zones,
    )
    wanted.out.mkdir(parents=True, exist_ok=True)
    store = open_store(where, clock)
    try:
        sitting = Sitting(store, clock, brought.rulebook, wanted.date or today(clock))
        take_in_shop(sitting, brought.shop)
        take_in_all(sitting, brought.orders, brought.left_out)
        weighed = weigh(sitting, brought.weights)
        told = replace(brought, damaged=damaged)
        left = leave_results(sitting, wanted.out, resources(), told, weighed, started)
    finally:
        store.close()
    print(_closing_words(left.batch, wanted.out))
    return EXIT_READY if left.all_ready else EXIT_LOOK


def _rules_of(where: str | Path, out: Path, clock: Clock) -> tuple[Rulebook, tuple[FileFault, ...]]:
    """What a store goes by, just as the window does: the shipped rules, its own lists and its own zone chart.

    A store that is not there yet has none, and is not made here: what was brought may be unreadable. The own lists of a
    store on a server lie in the folder of the results.
    """
    shipped, file = read_rulebook(resources()), file_of(where)
    if file is not None and not file.exists():
        return shipped, ()
    store = open_store(where, clock)
    try:
        return with_own(shipped, store, shelf_in(file.parent if file else out, resources()))
    finally:
        store.close()


def _closing_words(batch: Batch, out: Path) -> str:
    looks = str(Stand.NEEDS_A_LOOK)
    named = {stand: "need a look" if stand == looks and count > 1 else stand for stand, count in batch.counts().items()}
    counted = ", ".join(f"{count} {named[stand]}" for stand, count in batch.counts().items() if count)
    where = "what to look at is in findings.csv there" if batch.counts()[looks] else "nothing to look at"
    pieces = pieces_in_words(len(batch.verdicts))
    return f"{pieces}: {counted}. In {out}; {where}."


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} found, expected a date as YYYY-MM-DD") from None
