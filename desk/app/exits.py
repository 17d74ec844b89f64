"""How a command ends: its exit codes, and the message when it failed.

Codes 70 and 74 are those of `sysexits.h` (BSD): a bug in the program, and output that could not be written.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from contextlib import suppress

EXIT_READY, EXIT_CHECK, EXIT_NOTHING_DONE = 0, 1, 2
EXIT_BUG, EXIT_NOT_WRITTEN, EXIT_INTERRUPTED = 70, 74, 130


class NotWritten(Exception):
    """Results could not be written; the message says which and why."""


def ended(command: Callable[[], int]) -> int:
    """Run a command and return its exit code; a bug gives a sentence and a report without names, never a traceback."""
    try:
        code = command()
        if sys.stdout is not None:  # None when it was closed from the start
            sys.stdout.flush()
    except NotWritten as fault:
        _say(str(fault))
        return EXIT_NOT_WRITTEN
    except KeyboardInterrupt:
        return EXIT_INTERRUPTED
    except Exception as error:  # noqa: BLE001 - the last place: whatever happens is reported here
        return _output_failed(error) if _is_of_output(error) else _bug(error)
    return code


def _is_of_output(error: Exception) -> bool:
    """Return whether the error is about standard output; errors about files carry a file name."""
    return isinstance(error, OSError) and error.filename is None


def _output_failed(error: Exception) -> int:
    with suppress(OSError, ValueError):  # what is left in the buffer would fail again when the process ends
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    _say(f"Standard output could not be written ({_why(error)}). Files that were named are complete.")
    return EXIT_NOT_WRITTEN


def _bug(error: Exception) -> int:
    from platformdirs import user_state_path

    from desk.app.crash import write_report

    file = write_report(user_state_path("tare-and-tag", appauthor=False) / "reports", error)
    where = f"A report without names or addresses is in {file}." if file else "A report could not be written."
    _say(f"Something went wrong in the program ({type(error).__name__}). {where}")
    return EXIT_BUG


def _why(error: Exception) -> str:
    return (getattr(error, "strerror", None) or str(error)).lower()


def _say(words: str) -> None:
    with suppress(OSError, ValueError):
        print(words, file=sys.stderr, flush=True)
