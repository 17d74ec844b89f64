"""Stamps on hand, by kind."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from desk.domain.money import Money


class StampKind(StrEnum):
    """What a stamp pays for; the value is its spelling in files."""

    FOREVER = "forever"
    ADDITIONAL_OUNCE = "additional_ounce"
    TWO_OUNCE = "two_ounce"
    THREE_OUNCE = "three_ounce"
    NONMACHINABLE = "nonmachinable"
    POSTCARD = "postcard"
    SEMIPOSTAL = "semipostal"
    GLOBAL_FOREVER = "global_forever"
    FACE = "face"


@dataclass(frozen=True, slots=True)
class StampStock:
    """How many of one stamp there are. `value` is the printed value, only for `face` stamps."""

    kind: StampKind
    count: int
    value: Money | None = None
