"""A package's status as people read it, alone and as the end of a sentence."""

from __future__ import annotations

from desk.domain.status import PieceStatus
from desk.session.words.figures import number_in_words

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


def status_name(status: PieceStatus) -> str:
    """Return a status as screens and papers name it; the tables keep `needs a look`."""
    return _SAID[status] if status is PieceStatus.NEEDS_A_LOOK else status.value


def status_counted(count: int, status: PieceStatus) -> str:
    """Return `3 ready`, `1 needs a check` or `2 need a check`."""
    words = "need a check" if status is PieceStatus.NEEDS_A_LOOK and count != 1 else status_name(status)
    return f"{number_in_words(count)} {words}"


def status_said(number: str, status: PieceStatus) -> str:
    """Return a sentence's beginning such as `1004 needs a check`."""
    return f"{number} {_SAID[status]}"
