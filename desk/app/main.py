"""The two entry points: the command `tare-and-tag`, and the window's own script without a console."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from io import TextIOWrapper

USAGE = """Tare & Tag: weigh, decide the postage, declare, label, hand over.

  tare-and-tag                     the window (with no screen: the demo batch, headless)
  tare-and-tag --demo              the window on the demo batch, in a store of its own
  tare-and-tag --store FILE-OR-URL the window on that data; a PostgreSQL address lets several benches share it
  tare-and-tag run --orders FILE [--orders FILE ...] --weights FILE --shop FILE --out DIR
                   [--date YYYY-MM-DD] [--map FILE] [--suggest-map FILE] [--zones FILE]
                   [--store FILE-OR-URL]
  tare-and-tag ask < questions.jsonl > answers.jsonl
  tare-and-tag costs --out DIR [--store FILE-OR-URL] [--year YYYY]
                                   the ledger, its totals, and a workbook for each year
  tare-and-tag restore COPY [--store FILE]
                                   restore a copy of your data, even over damaged data
  tare-and-tag move FROM TO        copy your data between a file and a PostgreSQL address
  tare-and-tag --version

Exit codes of run: 0, every piece is ready; 1, something needs a check; 2, an input could not be read.
With 2 nothing is written. Also 70, the program failed; 74, the results could not be written.
"""


def console(arguments: Sequence[str] | None = None) -> int:
    """Run the command with its arguments (default: the process's) and return the exit code."""
    from desk.app.exits import ended

    words = list(sys.argv[1:] if arguments is None else arguments)
    return ended(lambda: _command(words))


def _command(words: list[str]) -> int:
    match words:
        case ["run", *rest]:
            from desk.app.run import run

            return run(rest)
        case ["ask"]:
            from desk.app.ask import ask

            if isinstance(sys.stdin, TextIOWrapper):
                sys.stdin.reconfigure(encoding="utf-8-sig", errors="replace")  # JSON is UTF-8, whatever the terminal is
            return ask(sys.stdin, sys.stdout)
        case [("costs" | "restore" | "move") as name, *rest]:
            return _about_the_data(name, rest)
        case ["--version"]:
            from desk import __version__

            print(f"Tare & Tag {__version__}")
            return 0
        case ["-h" | "--help" | "help"]:
            print(USAGE, end="")
            return 0
        case [] | ["--demo"] | ["--store", _]:
            return window(words)
        case _:
            print(USAGE, end="", file=sys.stderr)
            return 2


def _about_the_data(name: str, rest: Sequence[str]) -> int:
    """Run one of the commands that work on a store as a whole."""
    if name == "costs":
        from desk.app.costs import costs

        return costs(rest)
    from desk.app import restore_and_move

    return restore_and_move.restore(rest) if name == "restore" else restore_and_move.move(rest)


def window(arguments: Sequence[str] | None = None) -> int:
    """Open the window; without a screen, process the demo batch headless. Return the exit code."""
    from desk.app.screen import has_screen

    if not has_screen():
        from desk.app.demo import run_demo

        return run_demo()
    from desk.app.wiring import open_window

    return open_window(list(sys.argv[1:] if arguments is None else arguments))


if __name__ == "__main__":
    raise SystemExit(console())
