"""A package's status as the end of a sentence."""

from __future__ import annotations

from desk.domain.status import PieceStatus

_SAID = {
    PieceStatus.TO_WEIGH: "has not been weighed",
    PieceStatus.NEEDS_A_LOOK: "needs a check",
    PieceStatus.READY: "is ready",
    PieceStatus.LABELED: "is labeled",
    PieceStatus.HANDED_OVER: "was handed over",
    PieceStatus.SET_ASIDE: "is set aside",
    PieceStatus.CAME_BACK: "came back",
    PieceStatus.LOST: "was lost",
    PieceStatus.CANCELED: "was canceled",
}


def status_said(number: str, status: PieceStatus) -> str:
    """Return a sentence's beginning such as `1004 needs a check`."""
    return f"{number} {_SAID[status]}"
