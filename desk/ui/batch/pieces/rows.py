"""Rows of the batch: each piece as text, made once, with keys for sorting and filtering."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from desk.domain.finding import Code, Finding, Severity
from desk.domain.orders.order import OrderLine
from desk.domain.status import PieceStatus, is_open
from desk.session.bench.bench_view import status_words
from desk.session.contents.piece_words import billable_words, place_words, recipient_name
from desk.session.verdict.price_age import FRESH, Age, age_of
from desk.session.verdict.verdict import Verdict
from desk.session.words.facts import shape_name
from desk.session.words.figures import amount_words
from desk.session.words.issue_names import issue_name
from desk.session.words.weights import reading_words

NUMBER, RECIPIENT, PLACE, CONTENTS, MAILER, GROSS, RULER, BILLABLE, VERDICT, POSTAGE, STATUS = range(11)
HEADS = (
    "Number",
    "Recipient",
    "Destination",
    "Contents",
    "Mailer",
    "Weight",
    "",
    "Billed as",
    "Result",
    "Postage",
    "Status",
)
FIGURES = frozenset({GROSS, BILLABLE, POSTAGE})
_DIGITS = re.compile(r"\d+")
_TOLD_APART = {Code.NO_WEIGHT, Code.UNTRACKED}  # status and shape say this already


class BatchRow(NamedTuple):
    """One piece. `keys` sort each column; `mark` is None while nothing is known about it.

    `age` is the last valid day of its price list, short and in words; empty while the list is valid.
    """

    cells: tuple[str, ...]
    keys: tuple[str | int, ...]
    piece_id: int
    mark: Severity | None
    ounces: Decimal | None
    status: PieceStatus
    codes: frozenset[str]
    searched: str
    age: Age = FRESH


def row_of(piece_id: int, verdict: Verdict, on: date | None = None) -> BatchRow:
    """Return the row of a piece on the mailing date (None: without checking for outdated prices)."""
    case = verdict.case
    reading = case.weighing.shown if case.weighing else None
    grams = reading.weight.grams if reading else None
    worst = worst_of(verdict)
    mark = worst.severity if worst else Severity.FINE if verdict.offer else None
    texts = (
        case.number,
        recipient_name(verdict),
        place_words(verdict),
        ", ".join(_in_short(line) for line in case.order.lines),
        case.mailer_name,
    )
    cells = (
        *texts,
        reading_words(reading) if reading else "",
        "",
        billable_words(verdict),
        verdict_word(verdict, worst),
        amount_words(verdict.postage) if verdict.postage is not None else "",
        status_words(verdict),
    )
    folded = tuple(text.casefold() for text in texts)
    milligrams = -1 if grams is None else int(grams * 1000)
    billed = int(verdict.offer.billable.weight.grams * 1000) if verdict.offer else -1
    postage = verdict.postage.minor if verdict.postage is not None else -1
    line = (milligrams, milligrams, billed, cells[VERDICT], postage, _LINE[verdict.status])
    return BatchRow(
        cells,
        (natural(case.number), *folded[1:], *line),
        piece_id,
        mark,
        reading.weight.ounces() if reading else None,
        verdict.status,
        frozenset(issue.code for issue in verdict.findings if issue.severity is not Severity.FINE),
        "\n".join(folded),
        age_of(verdict.offer, on) if on else FRESH,
    )


_LINE = {status: place for place, status in enumerate(PieceStatus)}


def worst_of(verdict: Verdict) -> Finding | None:
    """Return the most serious open issue: stop, then look, then note; None when there is none."""
    issues = [
        issue
        for issue in verdict.findings
        if issue.code not in _TOLD_APART and (issue.severity is Severity.NOTE or is_open(issue, verdict.case.answered))
    ]
    return min(issues, key=lambda issue: issue.severity.rank, default=None)


def verdict_word(verdict: Verdict, worst: Finding | None) -> str:
    """Return the name of a stop or look, else the shape the piece pays as, with any note."""
    if worst is not None and worst.severity.is_issue:
        return issue_name(worst.code)
    shape = shape_name(str(verdict.quote.shape.pays_as)) if verdict.quote and verdict.offer else ""
    note = issue_name(worst.code) if worst is not None else ""
    return ", ".join(filter(None, (shape, note)))


def natural(number: str) -> str:
    """Return an order number that sorts as people count: 9 before 10."""
    return _DIGITS.sub(lambda digits: digits.group().rjust(18, "0"), number.casefold())


def _in_short(line: OrderLine) -> str:
    name = f"{line.item} {line.variant}".strip()
    return name if line.quantity == 1 else f"{line.quantity} × {name}"
