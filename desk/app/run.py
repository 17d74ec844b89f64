"""`tare-and-tag run`: the whole session without a window, from an order file and weights to labels."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from uuid import uuid4

from desk.app.exits import EXIT_CHECK, EXIT_NOTHING_DONE, EXIT_READY, NotWritten, ended
from desk.domain.clock import Clock, SystemClock, today
from desk.domain.faults import Fault, FileFault, Unreadable, fault_lines
from desk.domain.resources import resources
from desk.domain.status import PieceStatus
from desk.domain.whole_file import make_private_folder
from desk.session.bench.splitting import split_unpaid
from desk.session.bench.weigh import weigh
from desk.session.importing.compare import import_all
from desk.session.importing.import_orders import import_shop
from desk.session.importing.preview import list_rules
from desk.session.importing.run_inputs import read_run_inputs
from desk.session.importing.suggested_mapping import write_suggested_mapping
from desk.session.papers.run_results import Left, leave_results
from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.setup.own_rules import shelf_in, with_own
from desk.session.sitting import Sitting
from desk.session.unfinished import run_noted
from desk.session.words.figures import pieces_in_words
from desk.session.words.statuses import status_counted
from desk.store.copies import copy_when_due
from desk.store.engine import file_of
from desk.store.store import open_store

STORE_NAME = "store.sqlite"


def parser() -> argparse.ArgumentParser:
    """Return the parser of `run`'s options."""
    options = argparse.ArgumentParser(prog="tare-and-tag run", description=__doc__)
    options.add_argument("--orders", action="append", required=True, type=Path, metavar="FILE", help="an order list")
    options.add_argument("--weights", required=True, type=Path, metavar="FILE", help="the scale readings, as CSV")
    options.add_argument("--shop", required=True, type=Path, metavar="FILE", help="sender, rules, mailers and products")
    options.add_argument("--out", required=True, type=Path, metavar="DIR", help="the folder for the results")
    options.add_argument("--date", type=_day, default=None, metavar="YYYY-MM-DD", help="the mailing date (today)")
    options.add_argument("--map", type=Path, metavar="FILE", help="which column of the order list is which field")
    options.add_argument("--suggest-map", type=Path, metavar="FILE", help="write a suggested --map here")
    options.add_argument("--zones", type=Path, metavar="FILE", help="the post's zone chart for your ZIP code")
    options.add_argument("--store", metavar="FILE-OR-URL", help="keep the batch in this data file or server")
    return options


def run(arguments: Sequence[str]) -> int:
    """Do the run and return its exit code, as `desk.app.exits` names them."""
    wanted = parser().parse_args(arguments)
    return ended(lambda: _guarded(wanted))


def _guarded(wanted: argparse.Namespace) -> int:
    try:
        left = _run(wanted)
    except Unreadable as unreadable:
        _tell(*fault_lines(unreadable.faults))
    except Fault as fault:
        _tell(fault.sentence)
    except OSError as error:
        _tell(f"{error.filename or wanted.out}: {error.strerror}")
    else:
        print(_closing_words(left, wanted.out))
        return EXIT_READY if left.all_ready else EXIT_CHECK
    return EXIT_NOTHING_DONE


def _tell(*lines: str) -> None:
    for line in lines:
        print(line, file=sys.stderr)


def _refuse_inside(wanted: argparse.Namespace) -> None:
    """Refuse inputs inside the results folder, where files are replaced."""
    out = wanted.out.resolve()
    faults = [
        FileFault(str(path), 0, "", "", f"a file outside {wanted.out}, where the results go")
        for path in wanted.orders
        if path.resolve().is_relative_to(out)
    ]
    if faults:
        raise Unreadable(faults)


def _run(wanted: argparse.Namespace) -> Left:
    clock = SystemClock()
    started = clock.now()
    _refuse_inside(wanted)
    where = wanted.store or wanted.out / STORE_NAME
    rulebook, damaged = _rules_of(where, wanted.out, clock)
    if wanted.suggest_map:
        write_suggested_mapping(wanted.orders[0], wanted.map, wanted.suggest_map, list_rules(rulebook.countries))
    inputs = read_run_inputs(
        rulebook,
        orders=wanted.orders,
        weights=wanted.weights,
        shop=wanted.shop,
        mapping=wanted.map,
        zones=wanted.zones,
    )
    with _writing(wanted.out):
        make_private_folder(wanted.out)
    if wanted.store and (store_file := file_of(where)) is not None:
        copy_when_due(store_file, clock.now())
    store = open_store(where, clock, f"run {uuid4()}")  # a window's undo takes back its own steps only
    try:
        sitting = Sitting(store, clock, inputs.rulebook, wanted.date or today(clock))
        with run_noted(sitting, ", ".join(path.name for path in wanted.orders)):
            import_shop(sitting, inputs.shop)
            import_all(sitting, inputs.orders, inputs.left_out, inputs.shipped)
            weighed = weigh(sitting, inputs.weights)
            split_unpaid(sitting, inputs.packings)
            complete = replace(inputs, damaged=damaged)
            with _writing(wanted.out):
                return leave_results(sitting, wanted.out, resources(), complete, weighed, started)
    finally:
        store.close()


@contextmanager
def _writing(folder: Path) -> Iterator[None]:
    """Turn an OSError into NotWritten when it is about the results folder, not an input."""
    try:
        yield
    except OSError as error:
        where, why = error.filename or folder, error.strerror or str(error)
        raise NotWritten(f"The results could not be written to {where}: {why}. Nothing there was replaced.") from error


def _rules_of(where: str | Path, out: Path, clock: Clock) -> tuple[Rulebook, tuple[FileFault, ...]]:
    """Return a store's rules, as the window uses them: the shipped ones, its own lists and its own zone chart.

    A store that doesn't exist yet has none, and is not created here, since the inputs may be unreadable. The own lists
    of a store on a server are in the results folder.
    """
    shipped, file = read_rulebook(resources()), file_of(where)
    if file is not None and not file.exists():
        return shipped, ()
    store = open_store(where, clock)
    try:
        return with_own(shipped, store, shelf_in(file.parent if file else out, resources()))
    finally:
        store.close()


def _closing_words(left: Left, out: Path) -> str:
    batch = left.batch
    by_status = {PieceStatus(code): count for code, count in batch.counts().items() if count}
    counted = ", ".join(status_counted(count, status) for status, count in by_status.items())
    where = "nothing to check" if left.all_ready else "see findings.csv there for what to check"
    pieces = pieces_in_words(len(batch.verdicts))
    return f"{pieces}: {counted}. In {out}; {where}."


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"found “{text}”, expected a date as YYYY-MM-DD") from None
