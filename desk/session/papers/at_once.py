"""Make several papers at once, in as many processes as there are cores: they share nothing but what they read."""

from __future__ import annotations

import multiprocessing
import os
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from importlib.resources.abc import Traversable
from itertools import count
from multiprocessing.connection import Connection
from typing import Any  # multiprocessing's context has no useful type

from desk.session.papers.making import MadePaper, PaperRequest, make_checked, press_for

FEWEST = 200  # pieces; fewer are done sooner than another process has started


def make_all(requests: Sequence[PaperRequest], resources: Traversable) -> list[MadePaper]:
    """Make and proofread these papers of batches checked by `check_printable`; return them in order."""
    made: dict[int, MadePaper] = {}
    if _can_share(requests):
        with _others_drawing(requests, resources) as (turns, answers):
            made |= _drawn(turns, requests, resources)
            for answer in answers:
                with suppress(EOFError):  # that process ended early; its papers are made below
                    made |= answer.recv()
    return [made[index] if index in made else _made(one, resources) for index, one in enumerate(requests)]


def _made(request: PaperRequest, resources: Traversable) -> MadePaper:
    press = press_for(request.paper, request.terms, request.settings, resources)
    made = make_checked(request, press)
    assert made is not None, "nobody cancels this"
    return made


def _can_share(requests: Sequence[PaperRequest]) -> bool:
    """Return True where forking is safe, and there is enough to do for more than one process."""
    most = max((len(one.batch.verdicts) for one in requests), default=0)
    alone = threading.active_count() == 1
    return sys.platform == "linux" and alone and most >= FEWEST and (os.cpu_count() or 1) > 1


class _Turns:
    """Deals out the numbers of papers: each is taken by exactly one process."""

    def __init__(self, context: Any) -> None:
        self._next = context.Value("i", 0)

    def taken(self, papers: int) -> Iterator[int]:
        """Yield the next number as long as there is one."""
        for _ in count():
            with self._next.get_lock():
                index, self._next.value = self._next.value, self._next.value + 1
            if index >= papers:
                return
            yield index


def _drawn(turns: _Turns, requests: Sequence[PaperRequest], resources: Traversable) -> dict[int, MadePaper]:
    return {index: _made(requests[index], resources) for index in turns.taken(len(requests))}


@contextmanager
def _others_drawing(
    requests: Sequence[PaperRequest], resources: Traversable
) -> Iterator[tuple[_Turns, list[Connection]]]:
    """Start the other processes; they end by themselves, even when this one was killed."""
    context = multiprocessing.get_context("fork")  # nothing is copied but what a process changes
    turns = _Turns(context)
    answers, processes = [], []
    for _ in range(min(os.cpu_count() or 1, len(requests)) - 1):
        here, there = context.Pipe(duplex=False)
        process = context.Process(target=_answer, args=(here, there, turns, requests, resources), daemon=True)
        process.start()
        there.close()
        answers.append(here)
        processes.append(process)
    try:
        yield turns, answers
    finally:
        for answer, process in zip(answers, processes, strict=True):
            answer.close()
            process.join()


def _answer(
    here: Connection, there: Connection, turns: _Turns, requests: Sequence[PaperRequest], resources: Traversable
) -> None:
    here.close()
    made = _drawn(turns, requests, resources)
    with suppress(BrokenPipeError):
        there.send(made)
