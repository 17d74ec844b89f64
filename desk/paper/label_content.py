"""What a label says, in words made ready by the caller."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Payment(StrEnum):
    """How the postage comes onto the piece; decides what stands in the frame at the upper right."""

    STAMPED = "stamped"
    METERED = "metered"
    COUNTER = "counter"


@dataclass(frozen=True, slots=True)
class StampMark:
    """One stamp to stick on: its words (`forever`), and what it counts for (`1`, `+1`)."""

    words: str
    counts_for: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelContent:
    """One label. `reference` is what the barcode holds; `letter` asks for the small label."""

    order: str
    reference: str
    piece_of: str
    batch_words: str
    billable: str
    service_words: str
    sender: tuple[str, ...]
    recipient: tuple[str, ...]
    stamps: tuple[StampMark, ...] = ()
    payment: Payment = Payment.STAMPED
    remarks: tuple[str, ...] = ()
    letter: bool = False
