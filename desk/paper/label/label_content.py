"""What a label says, in words made ready by the caller."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class PostageMark(StrEnum):
    """How the postage comes onto the piece; decides what the corner at the upper right says."""

    STAMPED = "stamped"
    METERED = "metered"
    COUNTER = "counter"  # still to be paid there
    PAID = "paid"  # paid at the counter: the corner is left free


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelContent:
    """One label. `reference` is what the barcode holds; `stamps` are (number, kind in words).

    `letter` asks for a label that keeps a letter's address area free; `envelope` is the length and height in inches of
    what it goes on, None where they are not known.
    """

    order: str
    reference: str
    piece_of: str
    billable: str
    service_words: str
    sender: tuple[str, ...]
    recipient: tuple[str, ...]
    weighed: str = ""
    stamps: tuple[tuple[int, str], ...] = ()
    payment: PostageMark = PostageMark.STAMPED
    remarks: tuple[str, ...] = ()
    letter: bool = False
    envelope: tuple[float, float] | None = None
