"""Read a spreadsheet workbook in a process with limits of memory and time, so that no file takes the program down."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import IO, Any  # as json gives it

import desk
from desk.tables.decoding import BETWEEN_CELLS
from desk.tables.faults_found import unreadable
from desk.tables.watch import UNWATCHED, WHOLE, Watch

ARCHIVE = b"PK\x03\x04"
OLDER_FORM = b"\xd0\xcf\x11\xe0"  # binary workbooks, older than the two open formats
MEMORY = 1_500_000_000  # bytes of address space; 100,000 rows of 21 columns take about a third of it
SECONDS = 60  # of processor time, and of waiting
_POLL = 0.005  # seconds between checks for cancellation
_CODE = str(Path(desk.__file__).parents[1])
_TOO_MUCH = (
    "a smaller workbook; reading this one takes too long or needs too much memory. Save the sheet of orders as CSV"
)

Sheets = dict[str, list[tuple[int, list[str]]]]


def is_workbook(raw: bytes) -> bool:
    """Return True when the bytes begin like a workbook, whatever the file name."""
    return raw.startswith((ARCHIVE, OLDER_FORM))


def workbook_sheets(
    raw: bytes, file: str, watch: Watch = UNWATCHED, memory: int = MEMORY, seconds: float = SECONDS
) -> Sheets:
    """Return the sheets that hold cells, by name: each row with its number in the sheet.

    Unreadable when it is no workbook, damaged, or needs more than `memory` bytes or `seconds`; Stopped when the watch
    canceled it.
    """
    if raw.startswith(OLDER_FORM):
        raise unreadable(file, "a workbook saved as XLSX or ODS; this one is in an older form")
    with tempfile.TemporaryFile() as book, tempfile.TemporaryFile() as answer, tempfile.TemporaryFile() as progress:
        book.write(raw)
        book.seek(0)
        command = [sys.executable, "-m", "desk.tables.workbook_process", str(memory), str(int(seconds))]
        running = subprocess.Popen(command, stdin=book, stdout=answer, stderr=progress, env=_environment())  # noqa: S603
        try:
            _wait(running, progress, watch.part(0, 900), time.monotonic() + seconds)
        finally:
            running.kill()
            running.wait()
        answer.seek(0)
        sheets = _read_answer(answer.read(), file)
    watch.at(1, 1)
    return sheets


def _environment() -> dict[str, str]:
    """Return this process's environment, in which the other process finds the same code."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, (_CODE, os.environ.get("PYTHONPATH", ""))))}


def _wait(running: subprocess.Popen[bytes], progress: IO[bytes], watch: Watch, until: float) -> None:
    """Wait for the end of the process or the time limit, and report progress. Raises Stopped."""
    while running.poll() is None and time.monotonic() < until:
        progress.seek(0)
        lines = progress.read().split()
        watch.at(int(lines[-1]) if lines and lines[-1].isdigit() else 0, WHOLE)
        time.sleep(_POLL)


def _read_answer(answer: bytes, file: str) -> Sheets:
    try:
        content: dict[str, Any] = json.loads(answer)
    except ValueError:  # it was ended, or ended itself
        raise unreadable(file, _TOO_MUCH) from None
    if "expected" in content:
        raise unreadable(file, content["expected"])
    return {
        name: [(line, text.split(BETWEEN_CELLS)) for line, text in enumerate(rows, first)]
        for name, (first, rows) in content["sheets"].items()
    }
