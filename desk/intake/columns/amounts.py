"""Numbers, money, counts, and dates as people write them. A cell that reads two ways is refused, never guessed.

Each reader raises NotRead, whose text names what was expected. It raises ReadsTwoWays where the rest of the column, or a
person, can settle it: `decimal` is the decimal separator, `first` is whether day or month comes first.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, lru_cache

from desk.domain.money import Money, decimals_of
from desk.intake.columns.currencies import CURRENCIES, SIGNS


class NotRead(ValueError):
    """A cell that cannot be read; the text is a noun phrase naming what was expected."""


class ReadsTwoWays(NotRead):
    """A cell that reads two ways; `readings` maps each possible answer to what the cell would mean."""

    def __init__(self, what: str, readings: Mapping[str, str]) -> None:
        super().__init__(f"{what} that reads one way: {' or '.join(readings.values())}")
        self.readings = readings


DECIMAL_SIGNS = (",", ".")
DAY_FIRST, MONTH_FIRST = "day", "month"

_PLAIN = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_GROUPED = re.compile(r"([+-]?)([0-9]{1,3})((?:[.,' ][0-9]{3})+)([.,][0-9]*)?")
_THREE_DIGITS = re.compile(r"(-?[1-9][0-9]{0,2})([.,])([0-9]{3})")
_COMMA = re.compile(r"([+-]?[0-9]*),([0-9]+)")
_SPACES = re.compile(r"[\u00a0\u2009\u202f]")
_MONEY = re.compile(r"(-?)\s*([^\d.,-]*?)\s*(-?[0-9.,](?:[0-9.,' ]*[0-9.,])?)\s*([^0-9.,\s]*)")
_ACCOUNTING = re.compile(r"\((.*)\)|(.*)-")  # negative amounts in bookkeeping: (3.00) or 3.00-
_TWO_MARKS = re.compile(r"([^\d\s]+) ?(-?[0-9][0-9.,' ]*[0-9]|[0-9]) ([A-Za-z]{3})")  # $12.50 USD
FREE = frozenset("free gratis kostenlos gratuit gratuite offert offerte".split())
NO_VALUE = frozenset(
    {"-", "--", "\u2013", "\u2014", "n/a", "na", "null", "none", "nan"}
)  # an empty number or date in exports
LONGEST_NUMBER = 18  # digits; no shop needs more
LARGEST_AMOUNT = 10_000_000  # in any currency, for one cell; more is a mistake, never a small parcel
LARGEST_COUNT = 100_000
NOISE = 7  # decimals; an amount with this many is binary rounding noise, and is rounded


def number(text: str) -> Decimal:
    """Return a number with a decimal point (`4.125`, `.5`), or in a local form with one reading (`3,2`, `1.234,5`).

    A point alone is always a decimal point here; `1,234` alone reads two ways.

    Raises:
        NotRead: anything else.
    """
    typed = _SPACES.sub(" ", text.strip()).replace("\u2212", "-").replace("’", "'")
    if sum(char.isdigit() for char in typed) > LONGEST_NUMBER:
        raise NotRead(f"a number of at most {LONGEST_NUMBER} digits")
    if _PLAIN.fullmatch(typed):
        return Decimal(typed)
    if grouped := _GROUPED.fullmatch(typed):
        return _grouped(*grouped.groups(default=""))
    if comma := _COMMA.fullmatch(typed):
        return Decimal(f"{comma[1]}.{comma[2]}")
    raise NotRead("a number such as 12.50")


def _grouped(sign: str, first: str, groups: str, tail: str) -> Decimal:
    """Return a number with thousands separators, all the same and different from the decimal separator."""
    marks = {mark for mark in groups if not mark.isdigit()}
    whole = first + re.sub(r"[^0-9]", "", groups)
    if len(marks) != 1 or tail[:1] in marks:
        raise NotRead("a number such as 1,234.50, with one kind of mark between thousands")
    if not tail and len(groups) == 4 and marks <= {",", "."}:
        if first == "0":
            return Decimal(f"{sign}0.{groups[1:]}")
        raise NotRead(f"a number that reads one way: {whole} or {first}.{groups[1:]}")
    if first.startswith("0"):
        raise NotRead("a number such as 1,234.50, without a zero in front")
    return Decimal(f"{sign}{whole}.{tail[1:] or '0'}") if tail else Decimal(f"{sign}{whole}")


@lru_cache(maxsize=8192)  # saves 4% of reading orders
def money(text: str, currency: str, decimal: str = "", sub_cents: int = NOISE) -> Money:
    """Return an amount in that currency: `12.50`, `$12.50`, `12.50 USD`, `1.234,50`.

    A point before three digits is as ambiguous as a comma, unless the currency has no cents or `decimal` settles it. An
    amount with `sub_cents` decimals or more is rounded half up.

    Raises:
        NotRead: another currency, or not an amount.
        ReadsTwoWays: the decimal separator is unclear.
    """
    typed = _SPACES.sub(" ", text.strip()).replace("\u2212", "-")
    if typed.casefold() in FREE:
        return Money(0, currency)
    if accounting := _ACCOUNTING.fullmatch(typed):
        typed = f"-{(accounting[1] or accounting[2] or '').strip()}"
    if both := _TWO_MARKS.fullmatch(typed):
        _check_mark(both[1], currency)
        typed = f"{both[2]} {both[3]}"
    parts = _MONEY.fullmatch(typed)
    if parts is None:
        raise NotRead(f"an amount of {currency} such as {_example(currency)}")
    minus, before, digits, after = parts.groups()
    for mark in filter(None, (before.strip(), after)):
        _check_mark(mark, currency)
    value = _amount(digits, currency, decimal)
    if abs(value) > LARGEST_AMOUNT:
        raise NotRead(f"an amount of at most {LARGEST_AMOUNT:,} {currency}")
    if -int(value.as_tuple().exponent) >= sub_cents:
        value = value.quantize(Decimal(1).scaleb(-decimals_of(currency)), ROUND_HALF_UP)
    try:
        return Money.of(-value if minus else value, currency)
    except ValueError:
        raise NotRead(f"an amount of {currency} such as {_example(currency)}") from None


def _amount(digits: str, currency: str, decimal: str) -> Decimal:
    if doubtful := _THREE_DIGITS.fullmatch(digits):
        whole, mark, part = doubtful.groups()
        if decimals_of(currency) == 0 or decimal not in ("", mark):
            return Decimal(whole + part)
        if not decimal:
            other = DECIMAL_SIGNS[mark == ","]
            raise ReadsTwoWays(
                "an amount", {other: f"{whole}{part}", mark: f"{whole}.{part[:2] if part[2] == '0' else part}"}
            )
        return Decimal(f"{whole}.{part}")
    try:
        return number(digits)
    except NotRead as error:
        raise NotRead(str(error).replace("a number", f"an amount of {currency}")) from None


def _example(currency: str) -> str:
    return Money(1250 if decimals_of(currency) else 1200, currency).text()


def _check_mark(mark: str, currency: str) -> None:
    """Refuse another currency's sign or code; text that is no currency at all is refused as not an amount."""
    written = mark.upper()
    if written not in CURRENCIES and written not in SIGNS:
        raise NotRead(f"an amount of {currency} such as {_example(currency)}")
    if written != currency and currency not in SIGNS.get(written, ()):
        raise NotRead(f"an amount of {currency}, the currency of this order")


def currency_code(text: str) -> str:
    """Return an ISO 4217 code in any case, or the code for a sign only one currency uses.

    Raises:
        NotRead: anything else.
    """
    code = text.strip().upper()
    if code in CURRENCIES:
        return code
    if len(SIGNS.get(code, ())) == 1:
        return SIGNS[code][0]
    raise NotRead("an ISO 4217 currency code such as USD")


def count(text: str) -> int:
    """Return a whole number of at least 1; `2.0` reads as 2. Raises NotRead for anything else."""
    value = whole_number(text)
    if value < 1:
        raise NotRead("a whole number of at least 1")
    return value


_PIECES = re.compile(
    r"(?:[x\u00d7]\s*)?([^\sx\u00d7a-z]+)\s*(?:(?:x|\u00d7|pcs?|pieces?|ea|units?|stk|st\u00fcck|pi\u00e8ces?|uds?|unidad(?:es)?|piezas?)\.?)?",
    re.IGNORECASE,
)  # "2 x", "3 pcs"


def whole_number(text: str) -> int:
    """Return a whole number, also 0 or less: returned goods have negative counts. Raises NotRead for anything else.

    It may say that it counts pieces: `2 x`, `3 pcs`.
    """
    pieces = _PIECES.fullmatch(text.strip())
    try:
        value = number(pieces[1] if pieces else text)
    except NotRead:
        value = Decimal("0.5")
    if value != value.to_integral_value():
        raise NotRead("a whole number of at least 1")
    if abs(value) > LARGEST_COUNT:
        raise NotRead(f"a whole number from 1 to {LARGEST_COUNT:,}")
    return int(value)


def written_currency(text: str) -> str:
    """Return the ISO 4217 code written with an amount, as a code or as a sign only one currency uses; else empty."""
    words: list[str] = re.findall(r"[^\d\s.,'()+-]+", text)
    for word in words:
        mark = word.upper()
        if mark in CURRENCIES:
            return mark
        if len(SIGNS.get(mark, ())) == 1:
            return SIGNS[mark][0]
    return ""


_TIME = r"(?:[T,\s]+[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:[.,][0-9]+)?)?\s*(?:[AaPp]\.?[Mm]\.?)?\s*(?:Z|UTC|[+-][0-9]{2}:?[0-9]{2})?)?"
_ISO = re.compile(rf"([0-9]{{4}})([-/.])([0-9]{{1,2}})\2([0-9]{{1,2}}){_TIME}")
_NUMERIC = re.compile(rf"([0-9]{{1,2}})([-/.])([0-9]{{1,2}})\2([0-9]{{4}}|[0-9]{{2}}){_TIME}")
_COMPACT = re.compile(r"(20[0-9]{2})([0-9]{2})([0-9]{2})")
_CENTURY = 2000  # of a two-digit year: no order list is older
_DAY_FIRST = re.compile(
    rf"([0-9]{{1,2}})(?:st|nd|rd|th|er|\.)?[\s-]+(?:de\s+)?([^\W\d_]+)\.?,?[\s-]+(?:de\s+)?([0-9]{{4}}){_TIME}"
)
_MONTH_FIRST = re.compile(rf"([^\W\d_]+)\.?\s+([0-9]{{1,2}})(?:st|nd|rd|th)?,?\s+([0-9]{{4}}){_TIME}")
_MONTH_LANGUAGES = ("en", "de", "de_AT", "es", "fr")
_OTHER_MONTHS = {"maerz": 3, "mrz": 3, "fev": 2, "sep": 9, "sept": 9}  # usual, and not in CLDR for each language


@cache  # read once: 0.3 ms
def _months() -> dict[str, int]:
    """Return the months by their names and short names, without accents. Names: CLDR, by babel."""
    from babel import Locale

    names = {
        _plain(name): number
        for language in _MONTH_LANGUAGES
        for forms in Locale.parse(language).months.values()
        for width in ("wide", "abbreviated")
        for number, name in forms[width].items()
    }
    return names | _OTHER_MONTHS


def _plain(name: str) -> str:
    """Return a name in lower case, without accents and the dot of a short form."""
    letters = unicodedata.normalize("NFKD", name.casefold().rstrip("."))
    return "".join(letter for letter in letters if not unicodedata.combining(letter))


def day(text: str, first: str = "") -> date:
    """Return a date: ISO, with the month in words, or in numbers that read only one way. A time is ignored.

    `first` settles dates in numbers that read two ways: day or month first.

    Raises:
        NotRead: not a date.
        ReadsTwoWays: day and month could be swapped.
    """
    typed = text.strip()
    if match := _ISO.fullmatch(typed):
        return _date(match[1], int(match[3]), match[4])
    if match := _NUMERIC.fullmatch(typed):
        return _numeric(int(match[1]), int(match[3]), match[4], first)
    if match := _COMPACT.fullmatch(typed):
        return _date(match[1], int(match[2]), match[3])
    if (match := _DAY_FIRST.fullmatch(typed)) and (month := _months().get(_plain(match[2]))):
        return _date(match[3], month, match[1])
    if (match := _MONTH_FIRST.fullmatch(typed)) and (month := _months().get(_plain(match[1]))):
        return _date(match[3], month, match[2])
    raise NotRead("a date such as 2026-11-25")


def _numeric(one: int, two: int, year: str, first: str) -> date:
    if max(one, two) > 12 or one == two:
        return _date(year, two, one) if one > 12 else _date(year, one, two)
    month_first, day_first = _date(year, one, two), _date(year, two, one)
    if not first:
        raise ReadsTwoWays("a date", {MONTH_FIRST: str(month_first), DAY_FIRST: str(day_first)})
    return day_first if first == DAY_FIRST else month_first


def _date(year: str, month: int, day_of_month: str | int) -> date:
    try:
        return date(int(year) + (_CENTURY if len(year) == 2 else 0), month, int(day_of_month))
    except ValueError:
        raise NotRead("a date that exists, such as 2026-11-25") from None
