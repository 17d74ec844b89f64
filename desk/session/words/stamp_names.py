"""Kinds of stamps as people call them, and what is drawn on each."""

from __future__ import annotations

from collections.abc import Iterable

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind
from desk.rates.stamps.stamps import StampCount
from desk.session.words.figures import amount_words

_NAMES = {
    StampKind.FOREVER: "Forever",
    StampKind.GLOBAL_FOREVER: "Global Forever",
    StampKind.TWO_OUNCE: "two-ounce",
    StampKind.THREE_OUNCE: "three-ounce",
    StampKind.FACE: "face value",
}
_COUNTS_FOR = {
    StampKind.FOREVER: "1",
    StampKind.SEMIPOSTAL: "1",
    StampKind.TWO_OUNCE: "2",
    StampKind.THREE_OUNCE: "3",
    StampKind.ADDITIONAL_OUNCE: "+1",
    StampKind.NONMACHINABLE: "1*",
    StampKind.POSTCARD: "card",
    StampKind.GLOBAL_FOREVER: "globe",
}


def name_of_stamp(kind: StampKind, value: Money | None = None) -> str:
    """Return `Forever`, `additional ounce`, or the face value of a stamp that has one: `$0.05`."""
    return _NAMES.get(kind, str(kind).replace("_", " ")) if value is None else amount_words(value)


def stamp_counts(stamps: Iterable[StampCount]) -> str:
    """Return `2 Forever, 1 additional ounce`; stamps with a face value give it: `3 of $0.10`."""
    return ", ".join(
        f"{number} {name_of_stamp(kind)}" if value is None else f"{number} of {name_of_stamp(kind, value)}"
        for kind, value, number in stamps
    )


def counts_for(kind: StampKind, value: Money | None) -> str:
    """Return the text drawn on a stamp: `1` ounce, `+1`, or its face value."""
    return _COUNTS_FOR.get(kind, "") if value is None else amount_words(value)
