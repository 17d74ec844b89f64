"""Spool: hand a PDF to a print queue with its medium named and no scaling, and ask what became of it.

Two traps decide the shape (measured): without a medium a 4 × 6 in page comes out on the queue's default paper, with no
error; and a stopped queue takes the job and keeps it, again with no error.
"""

from __future__ import annotations

import os
import re
import subprocess
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from desk.paper.stock import INCH, MILLIMETER, PageSize

_JOB = re.compile(r"request id is (\S+)")
COMMAND_SECONDS = 20


class PrintOutcome(StrEnum):
    """What became of a file handed to a queue."""

    PRINTED = "printed"  # it left the queue
    WAITING = "waiting"  # taken, and still there when patience ended
    OUT_OF_PAPER = "out of paper"  # taken, and the queue says that it lacks paper
    STOPPED = "stopped"  # the queue is paused: nothing was given to it
    NO_QUEUE = "no queue"
    REFUSED = "refused"  # the spooler would not take it
    NO_SPOOLER = "no spooler"  # this machine has no lp command, or it does not answer


@dataclass(frozen=True, slots=True)
class QueueAnswer:
    """The outcome, the spooler's name of the job, and what the spooler answered."""

    outcome: PrintOutcome
    job: str = ""
    answer: str = ""


@dataclass(frozen=True, slots=True)
class CommandResult:
    """A command that ran: its exit code and what it wrote."""

    code: int
    output: str


def run_command(words: Sequence[str]) -> CommandResult:
    """Run a command, in English, without a shell. Code 127: there is none of that name; 124: it did not end."""
    try:
        done = subprocess.run(  # noqa: S603 - a list of words, no shell, the command's name is ours
            list(words),
            capture_output=True,
            text=True,
            errors="replace",
            check=False,
            timeout=COMMAND_SECONDS,
            env={**os.environ, "LC_ALL": "C"},
        )
    except FileNotFoundError:
        return CommandResult(127, "")
    except subprocess.TimeoutExpired:
        return CommandResult(124, "")
    return CommandResult(done.returncode, (done.stdout + done.stderr).strip())


@dataclass(frozen=True, slots=True)
class Spooler:
    """How commands are run and how long a job is watched (seconds)."""

    run: Callable[[Sequence[str]], CommandResult] = run_command
    sleep: Callable[[float], None] = time.sleep
    patience: float = 8.0
    interval: float = 0.25


def queues(spooler: Spooler) -> list[str]:
    """The names of the queues on this machine; empty when there is no spooler."""
    ran = spooler.run(("lpstat", "-e"))
    return ran.output.split() if ran.code == 0 else []


def medium(size: PageSize) -> str:
    """How the spooler names a page of that size in points: `Letter`, `A4`, `Custom.4x6in`, `Custom.100x150mm`."""
    for name, known in NAMED.items():
        if all(abs(side - other) < 0.5 for side, other in zip(size, known, strict=True)):
            return name
    for unit, points in (("in", INCH), ("mm", MILLIMETER)):
        sides = [round(side / points, 2) for side in size]
        if unit == "mm" or all(abs(side * points - given) < 0.05 for side, given in zip(sides, size, strict=True)):
            return "Custom." + "x".join(f"{side:g}" for side in sides) + unit
    raise AssertionError("millimeters name any size")


NAMED = {"Letter": (8.5 * INCH, 11 * INCH), "A4": (210 * MILLIMETER, 297 * MILLIMETER)}


def hand_to_queue(file: Path, queue: str, size: PageSize, spooler: Spooler) -> QueueAnswer:
    """Give the file to the queue on paper of `size` (points), and watch until it left the queue or patience ends."""
    asked = spooler.run(("lpstat", "-p", queue))
    if asked.code in (124, 127):
        return QueueAnswer(PrintOutcome.NO_SPOOLER)
    if asked.code:
        return QueueAnswer(PrintOutcome.NO_QUEUE, answer=asked.output)
    if _is_stopped(asked.output):
        return QueueAnswer(PrintOutcome.STOPPED, answer=asked.output)
    options = ("-o", f"media={medium(size)}", "-o", "print-scaling=none")
    given = spooler.run(("lp", "-d", queue, *options, "--", str(file)))
    job = _JOB.search(given.output)
    if given.code or not job:
        return QueueAnswer(PrintOutcome.REFUSED, answer=given.output)
    return _watch(job[1], queue, spooler)


def _watch(job: str, queue: str, spooler: Spooler) -> QueueAnswer:
    answer = ""
    for _ in range(max(1, int(spooler.patience / spooler.interval))):
        ran = spooler.run(("lpstat", "-o", queue))
        answer = ran.output
        if ran.code == 0 and job not in answer.split():
            return QueueAnswer(PrintOutcome.PRINTED, job)
        spooler.sleep(spooler.interval)
    if _lacks_paper(spooler.run(("lpstat", "-l", "-p", queue)).output):
        return QueueAnswer(PrintOutcome.OUT_OF_PAPER, job, answer)
    return QueueAnswer(PrintOutcome.WAITING, job, answer)


def _is_stopped(answer: str) -> bool:
    """`printer NAME disabled since ...` in the first line of what lpstat answers."""
    return re.match(r"printer \S+ disabled\b", answer) is not None


def _lacks_paper(answer: str) -> bool:
    """`Alerts: media-empty-error` and the like: keywords of `printer-state-reasons` (RFC 8011, section 5.4.12)."""
    return re.search(r"\bmedia-(empty|needed)\b", answer) is not None
