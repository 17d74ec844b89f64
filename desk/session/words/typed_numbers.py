"""Numbers as people type them. One rule for money, weights, sizes, counts and rates.

The locale's decimal sign and group sign are read, and digits of any script. Where the comma is the decimal sign, a
point is read as one too, as on a keypad. What could be two numbers (`1.234` where points group) is refused: it is
neither 1234 nor 1,234 until the person says so.
"""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal

from desk.domain.faults import Refused
from desk.session.words.figures import decimal_sign, group_sign, system_locale

_COULD_GROUP = re.compile(r"-?[1-9]\d{0,2}\.\d{3}", re.ASCII)
_SPACES = re.compile(r"[ \u00a0\u2009\u202f]")
_ARABIC_DECIMAL, _ARABIC_GROUP, _MINUS = "\u066b", "\u066c", "\u2212"
# A number in a text, ended by a digit; an ordinary space ends it, because `43 1.3` are two numbers.
_NUMBER = re.compile(r"(?:(?<![\w.,])[.,\u066b])?\d(?:[\d.,'\u2019\u00a0\u2009\u202f\u066b\u066c]*\d)?")


class TwoReadings(Refused, ValueError):
    """A typed number that could be two."""


def number_typed(text: str) -> Decimal:
    """Return a number typed as the locale writes it; thousands may be grouped.

    Raises:
        ValueError: it can't be read, or its groups are wrong: `1,50` where the comma groups.
        TwoReadings: it could be two numbers: `1.234` where points group.
    """
    from babel.numbers import parse_decimal

    typed, sign = _with_locale_signs(text.strip()), decimal_sign()
    if sign != "." and sign not in typed and typed.count(".") == 1:
        if group_sign() == "." and _COULD_GROUP.fullmatch(typed):
            raise TwoReadings(_two_readings(typed, sign))
        typed = typed.replace(".", sign)
    if not set(typed) <= {*"-0123456789", sign, group_sign()} or not any(map(str.isdigit, typed)):
        raise ValueError(f"not a number: {text}")
    typed = f"0{typed}" if typed.startswith(sign) else typed
    return Decimal(parse_decimal(typed, locale=system_locale(), strict=True))


def count_typed(text: str) -> int | None:
    """Return a whole number of at least 0, typed as the locale writes it; None when it isn't one."""
    try:
        number = number_typed(text)
    except ValueError:
        return None
    return None if number.is_signed() or number != number.to_integral_value() else int(number)


def with_points(text: str) -> str:
    """Return a typed text with every number in it as programs write them: `1,3 oz` as `1.3 oz`.

    What can't be read as a number stays as it is. TwoReadings for a number that could be two.
    """
    return _NUMBER.sub(lambda number: _plain(number[0]), text)


def _plain(typed: str) -> str:
    try:
        return f"{number_typed(typed):f}" if set(typed) - set("0123456789") else typed
    except TwoReadings:
        raise
    except ValueError:
        return typed


def _with_locale_signs(text: str) -> str:
    """Return a typed number with ASCII digits, and its signs and spaces as the locale has them."""
    digits = "".join(str(unicodedata.decimal(one, one)) for one in text)
    signs = digits.replace(_ARABIC_DECIMAL, decimal_sign()).replace(_ARABIC_GROUP, group_sign()).replace(_MINUS, "-")
    group = group_sign()
    if group == "\u2019":
        return signs.replace("'", group)
    return _SPACES.sub(group, signs) if _SPACES.fullmatch(group) else signs


def _two_readings(typed: str, sign: str) -> str:
    return f"{typed} could be {typed.replace('.', '')} or {typed.replace('.', sign)}. Type one of these."
