"""The process that reads a workbook: its bytes on standard input, its sheets as JSON on standard output.

A sheet is the number of its first row and one text for each row, since two million texts take JSON three times as long.
Progress is written to standard error, in thousandths, a number a line. Arguments: bytes of memory, seconds of processor.
"""

from __future__ import annotations

import gc
import json
import sys
from contextlib import suppress

from desk.domain.faults import Unreadable
from desk.tables.decoding import BETWEEN_CELLS
from desk.tables.watch import Watch
from desk.tables.workbook_cells import sheets_of_workbook

_STEP = 50  # thousandths between two lines of progress


def main(memory: int, seconds: int) -> int:
    """Read the workbook within these limits; exit with 0 whatever it contains, with 1 when memory runs out."""
    _limit(memory, seconds)
    gc.disable()  # the cells form no cycles, and this process ends with them
    try:
        raw = sys.stdin.buffer.read()
        sheets = sheets_of_workbook(raw, "", Watch(_Progress().tell))
        answer: dict[str, object] = {
            "sheets": {
                name: [rows[0][0], [BETWEEN_CELLS.join(cells) for _, cells in rows]] for name, rows in sheets.items()
            }
        }
    except Unreadable as fault:
        answer = {"expected": fault.faults[0].expected}
    except MemoryError:
        return 1
    sys.stdout.write(json.dumps(answer))  # in one go: json.dump takes 25 times as long
    return 0


class _Progress:
    """Writes how far the reading is, not too often."""

    def __init__(self) -> None:
        self._last = 0

    def tell(self, done: int, of: int) -> None:
        """Write it when it has moved on enough."""
        share = done * 1000 // max(of, 1)
        if share >= self._last + _STEP:
            self._last = share
            sys.stderr.write(f"{share}\n")
            sys.stderr.flush()


def _limit(memory: int, seconds: int) -> None:
    """Bound memory and processor time, where the system can."""
    with suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), int(sys.argv[2])))
