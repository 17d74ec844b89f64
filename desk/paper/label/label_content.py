"""What a label shows, as text prepared by the caller."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class PostageMark(StrEnum):
    """How the postage gets onto the piece; decides what the upper right corner shows."""

    STAMPED = "stamped"
    METERED = "metered"
    COUNTER = "counter"  # still to be paid there
    PAID = "paid"  # paid at the counter: the corner stays empty


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelContent:
    """One label. `reference` is the barcode's text; `stamps` are (number, kind in words);
    `postage` is the amount in words, shown while no stamps are chosen.

    `letter` asks for a label that keeps a letter's address area free; `envelope` is the envelope's length and height in
    inches, None where unknown.
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
    postage: str = ""
    payment: PostageMark = PostageMark.STAMPED
    remarks: tuple[str, ...] = ()
    letter: bool = False
    envelope: tuple[float, float] | None = None
