"""`tare-and-tag costs`: the ledger, its totals and the accountant's workbooks of a store, without a window."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from desk.app.exits import EXIT_NOTHING_DONE, EXIT_READY, NotWritten
from desk.app.paths import own_store
from desk.domain.clock import SystemClock, today
from desk.domain.faults import Fault, Refused
from desk.domain.resources import resources
from desk.domain.whole_file import make_private_folder
from desk.session.lists.ledger_list import save_ledger, save_totals
from desk.session.money.books import years_with_money
from desk.session.money.stock import read_stock, stock_sheet
from desk.session.money.year_file import write_year
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.session.words.figures import counted
from desk.store.engine import file_of
from desk.store.store import open_store

ABOUT = "Write the ledger, its totals and a workbook for each year into a folder."


def costs(arguments: Sequence[str]) -> int:
    """Write ledger.csv, totals.csv and a workbook a year into a folder; return 0 when done, 2 when refused."""
    options = argparse.ArgumentParser(prog="tare-and-tag costs", description=ABOUT)
    options.add_argument("--out", required=True, type=Path, metavar="DIR", help="the folder for the files")
    options.add_argument("--store", default=None, metavar="FILE-OR-URL", help="the data (your own)")
    options.add_argument("--year", type=int, default=None, metavar="YYYY", help="one year only (all years)")
    wanted = options.parse_args(arguments)
    try:
        done = _write(wanted.store or own_store(), wanted.out, wanted.year)
    except Fault as fault:
        print(fault.sentence, file=sys.stderr)
        return EXIT_NOTHING_DONE
    except OSError as error:
        where, why = error.filename or wanted.out, (error.strerror or str(error)).lower()
        raise NotWritten(f"The files could not be written to {where}: {why}.") from error
    print(done)
    return EXIT_READY


def _write(where: str | Path, out: Path, only: int | None) -> str:
    file = file_of(where)
    if file is not None and not file.exists():
        raise Refused(f"There is no data in {file}. Name the file or address with --store.")
    clock = SystemClock()
    store = open_store(where, clock, "costs")
    try:
        sitting = Sitting(store, clock, read_rulebook(resources()), today(clock))
        years = [year for year in years_with_money(sitting) if only in (None, year)]
        if not years:
            raise Refused(f"Nothing was handed over{f' in {only}' if only else ''}, so there are no costs.")
        make_private_folder(out)
        span = date(min(years), 1, 1), date(max(years), 12, 31)
        save_ledger(sitting, span, out / "ledger.csv")
        save_totals(sitting, span, out / "totals.csv")
        stock = read_stock(sitting, Pile(sitting))
        for year in years:
            write_year(sitting, year, stock_sheet(stock, year), out / f"costs-{year}.xlsx")
    finally:
        store.close()
    return f"Saved the ledger, its totals and {counted(len(years), 'workbook')} in {out}."
