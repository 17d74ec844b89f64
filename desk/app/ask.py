"""`tare-and-tag ask`: one question a line in, one answer a line out, both JSON."""

from __future__ import annotations

import json
import logging
import signal
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from types import FrameType
from typing import NoReturn, TextIO

from desk.domain.clock import SystemClock, today
from desk.domain.faults import Fault
from desk.domain.resources import resources
from desk.session.ask import customs as ask_customs
from desk.session.ask import postage as ask_post
from desk.session.ask import scale as ask_scale
from desk.session.ask.question import Answer, Question, expect_fields
from desk.session.rulebook import Rulebook, read_rulebook

ANSWERS: dict[str, Callable[[Question, Rulebook, date], Answer]] = {
    "shape": ask_post.shape,
    "price": ask_post.price,
    "zone": ask_post.zone,
    "stamps": ask_post.stamps,
    "doubt": ask_post.doubt_answer,
    "may-go": ask_post.may_go_answer,
    **ask_customs.ANSWERS,
    "hid": ask_scale.hid,
    "line": ask_scale.line,
}
FIELDS: Mapping[str, tuple[str, ...]] = {**ask_post.FIELDS, **ask_customs.FIELDS, **ask_scale.FIELDS}
EXIT_OUTPUT_CLOSED, EXIT_INTERRUPTED = 74, 130
LONGEST_LINE = 1_000_000  # characters
MOST_SECONDS = 1.5  # for one answer
_ONE_OBJECT = "expected one JSON object on the line"
log = logging.getLogger(__name__)


class _TooLong(Exception):
    """An answer took too long."""


def ask(questions: TextIO, answers: TextIO) -> int:
    """Answer every line and return the exit code: 0 even when a question gets an error as its answer.

    74 when the answers can't be written, 130 when interrupted from the keyboard.
    """
    rulebook = read_rulebook(resources())
    on = today(SystemClock())
    try:
        for line in questions:
            if line.strip():
                answers.write(json.dumps(_answer(line, rulebook, on)) + "\n")
                answers.flush()
    except OSError:
        return EXIT_OUTPUT_CLOSED
    except KeyboardInterrupt:
        return EXIT_INTERRUPTED
    return 0


def _answer(line: str, rulebook: Rulebook, on: date) -> Answer:
    if len(line) > LONGEST_LINE:
        return {"error": f"expected a line of at most {LONGEST_LINE} characters"}
    try:
        fields = json.loads(line, parse_float=str, parse_int=_whole, parse_constant=_no_constant)
    except (ValueError, RecursionError):
        return {"error": _ONE_OBJECT}
    if not isinstance(fields, dict):
        return {"error": _ONE_OBJECT}
    head = {"id": fields.pop("id")} if "id" in fields else {}
    name = str(fields.pop("ask", None))
    if name not in ANSWERS:
        return {**head, "error": f"ask: expected one of {', '.join(ANSWERS)}"}
    try:
        expect_fields(fields, FIELDS[name])
        with _limited_time():
            return {**head, **ANSWERS[name](Question(fields), rulebook, on)}
    except Fault as fault:
        return {**head, "error": fault.sentence}
    except _TooLong:
        return {**head, "error": f"no answer within {MOST_SECONDS} seconds"}
    except Exception:  # a bug: this question gets no answer, and the next one is read
        log.exception("ask %s", name)
        return {**head, "error": "this question could not be answered because of a bug in the program"}


@contextmanager
def _limited_time() -> Iterator[None]:
    """Stop an answer that takes too long, where the system supports it."""
    if not hasattr(signal, "setitimer"):
        yield
        return
    before = signal.signal(signal.SIGALRM, _too_long)
    signal.setitimer(signal.ITIMER_REAL, MOST_SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def _too_long(_number: int, _frame: FrameType | None) -> NoReturn:
    raise _TooLong


def _no_constant(text: str) -> NoReturn:
    raise ValueError(text)  # NaN and Infinity are not JSON


def _whole(text: str) -> int | str:
    """Return a whole number; too many digits stay text."""
    return int(text) if len(text) <= 40 else text
