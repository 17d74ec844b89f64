"""A bug writes a report and the program goes on: versions, platform, the traceback, the last log lines, and no people.

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

KEPT_LINES = 60
log = logging.getLogger("desk")


class LastLines(logging.Handler):
    """The last lines of the log, kept in memory for a report. Lines hold ids, never people."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: deque[str] = deque(maxlen=KEPT_LINES)

    def emit(self, record: logging.LogRecord) -> None:
        """Keep the line by its pattern, without what was filled in unless that is a number."""
        given = record.args if isinstance(record.args, tuple) else ()
        numbers = [str(value) for value in given if isinstance(value, int)]
        when = datetime.fromtimestamp(record.created, UTC).isoformat(timespec="seconds")
        self.lines.append(f"{when} {record.levelname} {record.name}: {record.msg} {' '.join(numbers)}".rstrip())


def report_text(error: BaseException, lines: Sequence[str] = ()) -> str:
    """The report of a bug."""
    from desk import __version__

    head = [f"Tare & Tag {__version__}", f"Python {platform.python_version()}", platform.platform(), ""]
    return "\n".join([*head, *_chain(error), "", "Last log lines:", *lines, ""])


def _chain(error: BaseException) -> list[str]:
    """Where it happened, the first cause first: files, lines and functions of ours and others, no values."""
    cause = error.__cause__ or error.__context__
    before = [*_chain(cause), "which led to"] if cause is not None else []
    frames = [
        f"  {_short(frame.filename)}:{frame.lineno} in {frame.name}"
        for frame in traceback.extract_tb(error.__traceback__)
    ]
    return [*before, *frames, type(error).__qualname__]


def _short(filename: str) -> str:
    """A file without the folders above it, in which a person's name may stand."""
    return "/".join(Path(filename).parts[-3:])


class CrashReports:
    """Writes reports into a folder and tells of each."""

    def __init__(self, folder: Path, told: Callable[[Path, str], None]) -> None:
        self.folder = folder
        self.lines = LastLines()
        self._told = told

    def watch(self) -> None:
        """Report every exception nobody caught from now on."""
        logging.getLogger().addHandler(self.lines)
        sys.excepthook = self.caught

    def caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Write the report of an exception and tell of it; whoever looks at the console sees it too."""
        sys.__excepthook__(kind, error, trace)
        if issubclass(kind, KeyboardInterrupt):
            return
        text = report_text(error.with_traceback(trace), tuple(self.lines.lines))
        file = self.folder / f"report-{datetime.now(UTC):%Y-%m-%d-%H%M%S}.txt"
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8")
        except OSError:
            log.warning("a report could not be written")
        self._told(file, text)
