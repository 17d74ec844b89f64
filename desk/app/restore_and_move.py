"""`tare-and-tag restore` and `tare-and-tag move`: restore a copy, and move between a file and a server."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from desk.app.exits import EXIT_NOTHING_DONE, EXIT_READY
from desk.app.paths import own_store
from desk.domain.clock import SystemClock
from desk.domain.faults import Fault

RESTORE = "Restore a copy over a store, even a damaged one."
MOVE = "Copy all data of a store into a new one, a file or a PostgreSQL address."


def restore(arguments: Sequence[str]) -> int:
    """Restore a copy over a store, even a damaged one; return 0 when done, 2 when refused."""
    options = argparse.ArgumentParser(prog="tare-and-tag restore", description=RESTORE)
    options.add_argument("copy", type=Path, metavar="COPY")
    options.add_argument("--store", type=Path, default=None, metavar="FILE")
    wanted = options.parse_args(arguments)
    from desk.store import backup

    where = wanted.store or own_store()
    try:
        aside = backup.restore(wanted.copy, where)
    except Fault as fault:
        print(fault.sentence, file=sys.stderr)
        return EXIT_NOTHING_DONE
    except OSError as error:
        print(f"{error.filename or where}: {(error.strerror or str(error)).lower()}.", file=sys.stderr)
        return EXIT_NOTHING_DONE
    print(f"Restored {wanted.copy} to {where}." + (f" What was there before is in {aside}." if aside else ""))
    return EXIT_READY


def move(arguments: Sequence[str]) -> int:
    """Copy all data of a store into a new one, a file or a PostgreSQL address; return 0 when done, 2 when refused."""
    options = argparse.ArgumentParser(prog="tare-and-tag move", description=MOVE)
    options.add_argument("source", metavar="FROM")
    options.add_argument("target", metavar="TO")
    wanted = options.parse_args(arguments)
    from desk.store.move import move as move_store

    try:
        moved = move_store(wanted.source, wanted.target, SystemClock())
    except Fault as fault:
        print(fault.sentence, file=sys.stderr)
        return EXIT_NOTHING_DONE
    rows = sum(moved.values())
    print(f"Moved {rows} rows of {len(moved)} tables; counts and hashes are equal. The old data is still there.")
    return EXIT_READY
