"""Find pieces among cases by the number someone types or scans."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.status import BESIDE_THE_LINE, PieceStatus
from desk.session.pile.stored_cases import StoredCase
from desk.session.verdict.verdict import Verdict


def named(cases: Mapping[int, StoredCase], typed: str) -> int | None:
    """Return the id of the case with this order number or reference, or the one it is packed in; None if there is no such case."""
    for piece_id, stored in cases.items():
        key = stored.case.key
        if typed == key.reference or (typed == key.order and key.piece == 1) or typed in stored.case.packed_with:
            return piece_id
    return None


def named_ending(cases: Mapping[int, StoredCase], typed: str) -> list[int]:
    """Return the ids of the cases whose longer number, or reference, ends with these digits."""
    keys = ((piece_id, stored.case.key) for piece_id, stored in cases.items())
    return [
        piece_id
        for piece_id, key in keys
        if (key.piece == 1 and _ends_with_number(key.order, typed))
        or ("-" in typed and _ends_with_number(key.reference, typed))
    ]


def _ends_with_number(number: str, digits: str) -> bool:
    """Return whether a longer number ends with these digits, counted from where its own digits start."""
    return len(number) > len(digits) and number.endswith(digits) and not number[-len(digits) - 1].isdigit()


def in_progress_ending(verdicts: Mapping[int, Verdict], digits: str) -> list[int]:
    """Return the ids of first packages whose order number ends with these digits, unless handed over or set aside."""
    if not digits.isdecimal():
        return []
    out = {PieceStatus.HANDED_OVER, *BESIDE_THE_LINE}
    return [
        piece_id
        for piece_id, verdict in verdicts.items()
        if verdict.case.key.piece == 1 and verdict.case.key.order.endswith(digits) and verdict.status not in out
    ]
