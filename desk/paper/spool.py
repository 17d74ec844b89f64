"""Spool: send a PDF to a print queue with its medium named and no scaling, and check what happened to it.

Two traps shaped this (measured): without a medium a 4 × 6 in page prints on the queue's default paper, without an
error; and a stopped queue accepts the job and holds it, again without an error.
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
    """What happened to a file sent to a queue."""

    PRINTED = "printed"  # it left the queue
    WAITING = "waiting"  # accepted, but still there when we stopped waiting
    OUT_OF_PAPER = "out of paper"  # accepted, but the queue reports that paper is missing
    STOPPED = "stopped"  # the queue is paused, so nothing was sent
    NO_QUEUE = "no queue"
    REFUSED = "refused"  # the spooler did not accept it
    NO_SPOOLER = "no spooler"  # no lp command, or it does not answer


@dataclass(frozen=True, slots=True)
class QueueAnswer:
    """The outcome, the spooler's job id, and the spooler's answer."""

    outcome: PrintOutcome
    job: str = ""
    answer: str = ""


@dataclass(frozen=True, slots=True)
class CommandResult:
    """A finished command: its exit code and output."""

    code: int
    output: str


def run_command(words: Sequence[str]) -> CommandResult:
    """Run a command, in English, without a shell. Code 127: no such command; 124: it did not end."""
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
    """How commands are run and how long a job is watched, in seconds."""

    run: Callable[[Sequence[str]], CommandResult] = run_command
    sleep: Callable[[float], None] = time.sleep
    patience: float = 8.0
    interval: float = 0.25


def queues(spooler: Spooler) -> list[str]:
    """Return the names of this computer's queues; empty when there is no spooler."""
    ran = spooler.run(("lpstat", "-e"))
    return ran.output.split() if ran.code == 0 else []


def medium(size: PageSize) -> str:
    """Return the spooler's name for a page size in points: `Letter`, `A4`, `Custom.4x6in`, `Custom.100x150mm`."""
    for name, known in NAMED.items():
        if all(abs(side - other) < 0.5 for side, other in zip(size, known, strict=True)):
            return name
    for unit, points in (("in", INCH), ("mm", MILLIMETER)):
        sides = [round(side / points, 2) for side in size]
        if unit == "mm" or all(abs(side * points - stated) < 0.05 for side, stated in zip(sides, size, strict=True)):
            return "Custom." + "x".join(f"{side:g}" for side in sides) + unit
    raise AssertionError("millimeters name any size")


NAMED = {"Letter": (8.5 * INCH, 11 * INCH), "A4": (210 * MILLIMETER, 297 * MILLIMETER)}


def hand_to_queue(file: Path, queue: str, size: PageSize, spooler: Spooler) -> QueueAnswer:
    """Send the file to the queue on paper of `size` (points), and watch until it leaves the queue or time is up."""
    asked = spooler.run(("lpstat", "-p", queue))
    if asked.code in (124, 127):
        return QueueAnswer(PrintOutcome.NO_SPOOLER)
    if asked.code:
        return QueueAnswer(PrintOutcome.NO_QUEUE, answer=asked.output)
    if _is_stopped(asked.output):
        return QueueAnswer(PrintOutcome.STOPPED, answer=asked.output)
    options = ("-o", f"media={medium(size)}", "-o", "print-scaling=none")
    answer = spooler.run(("lp", "-d", queue, *options, "--", str(file)))
    job = _JOB.search(answer.output)
    if answer.code or not job:
        return QueueAnswer(PrintOutcome.REFUSED, answer=answer.output)
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
    """Return whether lpstat's first line reads `printer NAME disabled since ...`."""
    return re.match(r"printer \S+ disabled\b", answer) is not None


def _lacks_paper(answer: str) -> bool:
    """Return whether the queue lacks paper, from `printer-state-reasons` such as `media-empty` (RFC 8011, 5.4.12)."""
    return re.search(r"\bmedia-(empty|needed)\b", answer) is not None
