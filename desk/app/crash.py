"""Report a bug and continue: versions, platform, the traceback, the last log lines, and no personal data.

A refusal that no screen expected, such as a server that falls silent while a list is painted, is no bug.

Nothing is sent anywhere. Texts of errors may carry a name or an address, so only their types are written.
"""

from __future__ import annotations

import logging
import platform
import sys
import traceback
from collections import deque
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from desk.domain.faults import Refused
from desk.domain.whole_file import make_private_folder, write_whole

KEPT_LINES = 60
log = logging.getLogger("desk")


class LastLines(logging.Handler):
    """The last log lines, kept in memory for a report. Lines hold ids, never names."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: deque[str] = deque(maxlen=KEPT_LINES)

    def emit(self, record: logging.LogRecord) -> None:
        """Keep a line's pattern without its arguments, except numbers."""
        arguments = record.args if isinstance(record.args, tuple) else ()
        numbers = [str(value) for value in arguments if isinstance(value, int)]
        when = datetime.fromtimestamp(record.created, UTC).isoformat(timespec="seconds")
        self.lines.append(f"{when} {record.levelname} {record.name}: {record.msg} {' '.join(numbers)}".rstrip())


def report_text(error: BaseException, lines: Sequence[str] = ()) -> str:
    """Return the text of a bug report."""
    from desk import __version__

    head = [f"Tare & Tag {__version__}", f"Python {platform.python_version()}", platform.platform(), ""]
    return "\n".join([*head, *_chain(error), "", "Last log lines:", *lines, ""])


def _chain(error: BaseException) -> list[str]:
    """Return where it happened, first cause first: files, lines and functions, no values."""
    cause = error.__cause__ or error.__context__
    before = [*_chain(cause), "which led to"] if cause is not None else []
    frames = [
        f"  {_short(frame.filename)}:{frame.lineno} in {frame.name}"
        for frame in traceback.extract_tb(error.__traceback__)
    ]
    return [*before, *frames, type(error).__qualname__]


def _short(filename: str) -> str:
    """Return a file name without its parent folders, which may contain a person's name."""
    return "/".join(Path(filename).parts[-3:])


def write_report(folder: Path, error: BaseException, lines: Sequence[str] = ()) -> Path | None:
    """Write a bug report readable by its owner only; return the file, or None when it can't be written."""
    file = folder / f"report-{datetime.now(UTC):%Y-%m-%d-%H%M%S}.txt"
    try:
        make_private_folder(folder)
        write_whole(file, report_text(error, lines).encode())
    except OSError:
        log.warning("a report could not be written")
        return None
    return file


class CrashReports:
    """Writes reports into a folder and announces each. A refusal is passed on to `refused` instead."""

    def __init__(
        self, folder: Path, report: Callable[[Path, str], None], refused: Callable[[Refused], None] | None = None
    ) -> None:
        self.folder = folder
        self.lines = LastLines()
        self._report, self._refused = report, refused

    def watch(self) -> None:
        """Report every uncaught exception from now on."""
        logging.getLogger().addHandler(self.lines)
        sys.excepthook = self.caught

    def caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Write and announce a report of an exception, and log it to the console too."""
        if isinstance(error, Refused) and self._refused is not None:
            self._refused(error)
            return
        sys.__excepthook__(kind, error, trace)
        if issubclass(kind, KeyboardInterrupt):
            return
        lines = tuple(self.lines.lines)
        file = write_report(self.folder, error.with_traceback(trace), lines)
        self._report(file or self.folder, report_text(error, lines))
