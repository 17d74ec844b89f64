"""The status of a piece: one pure function of what was weighed, found and done.

| weighed | worst open finding | postage on it | handed over | status |
|---------|--------------------|---------------|-------------|--------|
| no      | any                | no            | no          | to weigh |
| yes     | stop or look       | no            | no          | needs a look |
| yes     | note or none       | no            | no          | ready |
| any     | any                | yes           | no          | labeled |
| any     | any                | any           | yes         | handed over |

Outside the table there are *set aside*, *came back*, *lost* and *canceled*; the last one set overrides it. A look
answered with "It's right" is no longer open. Stops, and looks whose cause must be fixed, cannot be answered.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from desk.domain.codes import FIXED
from desk.domain.finding import Finding, Severity


class PieceStatus(StrEnum):
    """A piece's status, as displayed and as written in tables."""

    TO_WEIGH = "to weigh"
    NEEDS_A_LOOK = "needs a look"
    READY = "ready"
    LABELED = "labeled"
    HANDED_OVER = "handed over"
    SET_ASIDE = "set aside"
    CAME_BACK = "came back"
    LOST = "lost"
    CANCELED = "canceled"


BESIDE_THE_LINE = (PieceStatus.SET_ASIDE, PieceStatus.CAME_BACK, PieceStatus.LOST, PieceStatus.CANCELED)
ORDER_CANCELED = "order-cancelled"  # kept among a piece's answers while its order is canceled; never a finding


def status(
    *,
    weighed: bool,
    findings: Iterable[Finding] = (),
    answered: frozenset[str] = frozenset(),
    postage_on: bool = False,
    handed_over: bool = False,
    beside: PieceStatus | None = None,
) -> PieceStatus:
    """Return a piece's status by the table above. `answered` has the codes of issues checked and found right."""
    if beside is PieceStatus.SET_ASIDE and ORDER_CANCELED in answered:
        return PieceStatus.CANCELED
    if beside is not None:
        return beside
    if handed_over:
        return PieceStatus.HANDED_OVER
    if postage_on:
        return PieceStatus.LABELED
    if not weighed:
        return PieceStatus.TO_WEIGH
    return PieceStatus.NEEDS_A_LOOK if any(is_open(issue, answered) for issue in findings) else PieceStatus.READY


def is_paid_for(*, postage_on: bool, handed_over: bool) -> bool:
    """Return True once postage is on a piece or it has left.

    From then on its weight, mailer, size, service and contents stay as they were when it was paid for.
    """
    return postage_on or handed_over


def is_open(issue: Finding, answered: frozenset[str]) -> bool:
    """Return True for a stop, for a look that must be fixed, and for one that is not answered yet."""
    if issue.severity is Severity.STOP:
        return True
    return issue.severity is Severity.LOOK and not (issue.code in answered and is_answerable(issue))


def is_answerable(issue: Finding) -> bool:
    """Return True for an issue a person may answer with "It's right"; False for one whose cause must be fixed."""
    return issue.severity is Severity.LOOK and issue.code not in FIXED
