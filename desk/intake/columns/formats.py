"""How a column is written: day or month first, decimal comma or point, percent or amount.

Decided from all cells of the column: one cell that reads only one way settles the rest. Anything left is asked. Common
practice, no source.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from desk.intake.columns.amounts import DAY_FIRST, MONTH_FIRST, NotRead, ReadsTwoWays, day, money


class FormatWord(StrEnum):
    """A word of `[formats]` in a mapping."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"
    POINT_DECIMALS = "point decimals"
    COMMA_DECIMALS = "comma decimals"
    AMOUNT = "amount"
    PERCENT = "percent"
    FRACTION = "fraction"
    AS_WRITTEN = "as written"


DATE_FORMATS = {FormatWord.DAY_FIRST: DAY_FIRST, FormatWord.MONTH_FIRST: MONTH_FIRST}
DECIMAL_FORMATS = {FormatWord.POINT_DECIMALS: ".", FormatWord.COMMA_DECIMALS: ","}
DISCOUNT_FORMATS = (FormatWord.AMOUNT, FormatWord.PERCENT, FormatWord.FRACTION)
DATE_FIELDS = ("placed",)
DISCOUNT_FIELDS = ("discount", "line_discount")
AMOUNT_FIELDS = (
    "unit_price", "line_total", "shipping_paid", *DISCOUNT_FIELDS, "tax", "tip", "gift_wrap", "insurance", "total",
    "customs_value",
)  # fmt: skip
_NUMERIC_DATE = re.compile(r"\s*([0-9]{1,2})[-/.]([0-9]{1,2})[-/.](?:[0-9]{2}|[0-9]{4})(?:\D|$)")
_DIGITS = re.compile(r"[0-9][0-9.,' \u00a0\u202f]*")
_FRACTION = re.compile(r"0?[.,][0-9]{1,3}|0|1")


def allowed_formats(name: str) -> tuple[FormatWord, ...]:
    """Return the words allowed in `[formats]` of a mapping for a field; none for other text fields than the item."""
    if name in DATE_FIELDS:
        return tuple(DATE_FORMATS)
    if name in DISCOUNT_FIELDS:
        return (*DECIMAL_FORMATS, *DISCOUNT_FORMATS)
    if name == "item":
        return (FormatWord.AS_WRITTEN,)
    return tuple(DECIMAL_FORMATS) if name in AMOUNT_FIELDS else ()


@dataclass(frozen=True, slots=True)
class ColumnFormat:
    """How one column is read. When empty, cells that read two ways are not read.

    `first` is whether dates begin with the day or the month, `decimal` the decimal separator, `discount` one of
    DISCOUNT_FORMATS.
    """

    first: str = ""
    decimal: str = ""
    discount: str = ""


@dataclass(frozen=True, slots=True)
class FormatQuestion:
    """A column whose cells all read two ways: `readings` maps each format to what the first such cell would mean.

    `lines` are the first places, `values` the cells there, `count` the number of such cells, and `texts` all different ones.
    """

    field: str
    header: str
    count: int
    lines: tuple[int, ...]
    values: tuple[str, ...]
    readings: Mapping[FormatWord, str] = dataclasses.field(default_factory=dict, hash=False)
    texts: frozenset[str] = frozenset()

    @property
    def mapping_line(self) -> str:
        """Return the `[formats]` line that settles it with the first reading, and the others in a comment."""
        first, *others = (f'"{word}"' for word in self.readings)
        return f"{self.field} = {first}" + (f"  # or {' or '.join(others)}" if others else "")


def format_of(
    name: str, values: Iterable[str], words: Collection[FormatWord], others: Iterable[str] = ()
) -> ColumnFormat:
    """Return how a column is read, from the mapping's words and from its cells.

    `others` are the cells of the other money columns; they settle the decimal separator when this column does not.
    """
    if name in DATE_FIELDS:
        chosen = next((first for word, first in DATE_FORMATS.items() if word in words), "")
        return ColumnFormat(first=chosen or _one(_date_evidence(values)))
    chosen = next((mark for word, mark in DECIMAL_FORMATS.items() if word in words), "")
    decimal = chosen or _one(_decimal_evidence(values)) or _one(_decimal_evidence(others))
    discount = next((word for word in DISCOUNT_FORMATS if word in words), "")
    return ColumnFormat(decimal=decimal, discount=discount)


def _one(evidence: Iterable[str]) -> str:
    """Return the answer all cells agree on; empty when there is none, or they contradict each other."""
    answers = set(evidence)
    return answers.pop() if len(answers) == 1 else ""


def _date_evidence(values: Iterable[str]) -> Iterator[str]:
    for text in values:
        if numbers := _NUMERIC_DATE.match(text):
            if int(numbers[1]) > 12:
                yield DAY_FIRST
            elif int(numbers[2]) > 12:
                yield MONTH_FIRST


def _decimal_evidence(values: Iterable[str]) -> Iterator[str]:
    for text in values:
        digits = _DIGITS.search(text)
        marks = [char for char in digits[0] if char in ".,"] if digits else []
        if not marks or not digits:
            continue
        last = marks[-1]
        after = len(digits[0].rstrip(" '\u00a0\u202f.,").rpartition(last)[2])
        if len(set(marks)) == 2:  # 1,234.50
            yield last
        elif len(marks) > 1:  # 1,234,567
            yield "." if last == "," else ","
        elif after != 3:  # 12.5, 12,50
            yield last


def is_two_ways(name: str, text: str, form: ColumnFormat, currency: str) -> ReadsTwoWays | None:
    """Return the readings of a cell that reads two ways in a column of that format; None when it does not."""
    try:
        if name in DATE_FIELDS:
            day(text, form.first)
        else:
            money(text, currency, form.decimal)
    except ReadsTwoWays as doubt:
        return doubt
    except NotRead:
        return None
    return None


def may_be_fraction(values: Iterable[str]) -> bool:
    """Return whether all filled discount cells are from 0 to 1, so that 0.15 may be 15 percent as well as $0.15."""
    filled = [text.strip() for text in values if text.strip()]
    return all(_FRACTION.fullmatch(text) for text in filled) and any(text.strip("0.,") for text in filled)


def reading_words(name: str, answers: Mapping[str, str]) -> dict[FormatWord, str]:
    """Return the readings under the words used in `[formats]`."""
    words = DATE_FORMATS if name in DATE_FIELDS else DECIMAL_FORMATS
    return {word: answers[answer] for word, answer in words.items() if answer in answers}
