"""`tare-and-tag ask`: one question a line in, one answer a line out, both JSON."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any, TextIO

from desk.app.paths import resources
from desk.domain.faults import Fault
from desk.session.ask import customs as ask_customs
from desk.session.ask import postage as ask_post
from desk.session.ask import scale as ask_scale
from desk.session.ask.question import Answer, Question
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


def ask(questions: TextIO, answers: TextIO) -> int:
    """Answer every line; always 0, since a question that cannot be answered gets an error as its answer."""
    rulebook = read_rulebook(resources())
    today = datetime.now(UTC).astimezone().date()
    for line in questions:
        if line.strip():
            answers.write(json.dumps(_answer(line, rulebook, today)) + "\n")
            answers.flush()
    return 0


def _answer(line: str, rulebook: Rulebook, today: date) -> dict[str, Any]:
    try:
        fields = json.loads(line, parse_float=str, parse_int=_whole)
    except (ValueError, RecursionError):
        return {"error": "expected one JSON object on the line"}
    if not isinstance(fields, dict):
        return {"error": "expected one JSON object on the line"}
    head = {"id": fields["id"]} if "id" in fields else {}
    answer = ANSWERS.get(str(fields.get("ask")))
    if answer is None:
        return {**head, "error": f"ask: expected one of {', '.join(ANSWERS)}"}
    try:
        return {**head, **answer(Question(fields), rulebook, today)}
    except Fault as fault:
        return {**head, "error": fault.sentence}


def _whole(text: str) -> int | str:
    """Digits too many to be a number of anything stay text."""
    return int(text) if len(text) <= 40 else text
