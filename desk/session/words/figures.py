"""Dates, times, money and numbers by the system's locale, else as in the United States.

The tables that other programs read (`pieces.csv` and the rest) keep plain decimals and ISO dates.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from functools import cache, lru_cache
from typing import Literal

from desk.domain.money import Money

_NO_LOCALE = "en_US_POSIX"  # babel's locale for LANG=C, which lacks commas and dollar signs
_DEFAULT = "en_US"
_KEPT = 4096
_NAMED = 3
_POINT = re.compile(r"(?<=\d)\.(?=\d)", re.ASCII)
_DIRECTION = str.maketrans("", "", "\u200e\u200f")  # marks for text from right to left, which our sentences are not


@cache  # 4.5 microseconds a call, for every day and sum in words
def system_locale() -> str:
    """Return the system's locale for dates and money, such as `en_US`; `en_US` where none is set or babel lacks it."""
    from babel import Locale, UnknownLocaleError, default_locale

    try:
        name = default_locale(("LC_ALL", "LC_MONETARY", "LANG")) or _DEFAULT
        return _DEFAULT if name == _NO_LOCALE else str(Locale.parse(name))
    except (UnknownLocaleError, ValueError):
        return _DEFAULT


@lru_cache(_KEPT)  # 12 microseconds a call, for every row with a day
def day_in_words(day: date) -> str:
    """Return `July 12, 2026`."""
    from babel.dates import format_date

    return format_date(day, "long", locale=system_locale())


@lru_cache(_KEPT)  # 8 microseconds a call, for every row with a day
def short_day(day: date, seen_on: date | None = None) -> str:
    """Return `Jul 12, 2026`, for narrow places; `Jul 12` when seen in the same year."""
    from babel.dates import format_date, format_skeleton

    if seen_on is not None and seen_on.year == day.year:
        return format_skeleton("MMMd", day, locale=system_locale())
    return format_date(day, "medium", locale=system_locale())


def month_in_words(day: date) -> str:
    """Return `July 2026`."""
    from babel.dates import format_skeleton

    return format_skeleton("yMMMM", day, locale=system_locale())


def moment_in_words(moment: datetime) -> str:
    """Return a moment in local time: `November 28, 2026, 9:05 AM`."""
    local = moment.astimezone()
    return f"{day_in_words(local.date())}, {time_in_words(moment)}"


def time_in_words(moment: datetime) -> str:
    """Return the time of day of a moment, in local time: `9:05 AM`."""
    from babel.dates import format_time

    words: str = format_time(moment.astimezone().time(), "short", locale=system_locale())
    return words.replace("\u202f", " ")  # CLDR puts a narrow space before AM, which some fonts lack


@cache  # 5 microseconds a call
def day_pattern() -> str:
    """Return how the locale writes a day, as a CLDR pattern: `MMMM d, y`."""
    from babel.dates import get_date_format

    return str(get_date_format("long", locale=system_locale()).pattern)


@lru_cache(_KEPT)  # saves 5.5% of a run of 200 orders
def sum_in_words(amount: Decimal | str, currency: str) -> str:
    """Return `$1.11` for US dollars and `EUR 3.00` for other money; a text that is no usable number is returned unchanged."""
    from babel.numbers import format_currency

    pattern = None if currency == "USD" else f"\u00a4\u00a4 {_grouped()}"
    try:
        value = Decimal(amount)
        words = format_currency(value, currency, pattern, locale=system_locale()) if value.is_finite() else ""
    except ArithmeticError:
        words = ""
    return words.translate(_DIRECTION).replace("\u00a0", " ") or f"{currency} {amount}"


def _grouped() -> str:
    """Return the locale's pattern of a number: `#,##0.###`, or `#,##,##0.###` in India."""
    from babel import Locale

    return str(Locale.parse(system_locale()).decimal_formats[None].pattern)


def amount_words(money: Money) -> str:
    """Return an amount that stands alone: `$1.11`, `EUR 3.00`."""
    return sum_in_words(money.text(), money.currency)


def number_in_words(value: Decimal | int) -> str:
    """Return `12,345`, or `0.25`: grouped, with the locale's decimal sign and all its decimals."""
    from babel.numbers import format_decimal

    return format_decimal(value, locale=system_locale(), decimal_quantization=False)


@cache  # read once, as the locale is
def decimal_sign() -> str:
    """Return the character between the whole and the parts of a number: `.`, or `,` in much of Europe."""
    from babel.numbers import get_decimal_symbol

    return str(get_decimal_symbol(system_locale()))


@cache
def group_sign() -> str:
    """Return the character between groups of digits: `,`, `.`, a narrow space in France."""
    from babel.numbers import get_group_symbol

    return str(get_group_symbol(system_locale()))


def measure(figures: str) -> str:
    """Return figures with the locale's decimal sign: `1.3 oz`, `9 × 6 × 0.25 in`.

    All its decimals stay, because a reading shows the step of the scale. The text is of numbers and units only: a
    point between digits of a name would change too.
    """
    sign = decimal_sign()
    return figures if sign == "." else _POINT.sub(sign, figures)


def share_in_words(share: float, decimals: int = 0) -> str:
    """Return a part of one as a percentage: `12%`, or `12.3%` with one decimal."""
    from babel.numbers import format_percent

    rounded = Decimal(f"{share:.{decimals + 2}f}")
    words: str = format_percent(rounded, decimal_quantization=False, locale=system_locale())
    return words.translate(_DIRECTION).replace("\u00a0", " ")


def counted(count: int, one: str, many: str = "") -> str:
    """Return `1 piece` or `1,200 pieces`; `many` is for words that take more than an s."""
    return f"{number_in_words(count)} {one if count == 1 else many or one + 's'}"


def pieces_in_words(count: int) -> str:
    """Return `1 piece` or `3 pieces`."""
    return counted(count, "piece")


def some_of(references: Sequence[str]) -> str:
    """Return `(3 pieces: 1001-1, 1002-1, 1003-1)` with at most three named; empty for none."""
    if not references:
        return ""
    more = ", …" if len(references) > _NAMED else ""
    return f"({pieces_in_words(len(references))}: {', '.join(references[:_NAMED])}{more})"


def listed(parts: Sequence[str], last: Literal["and", "or"] = "and") -> str:
    """Return `a`, `a and b` or `a, b, and c`, with `last` before the last; empty for none. In English, by CLDR."""
    from babel.lists import format_list

    return format_list(parts, "or" if last == "or" else "standard", locale="en_US")
