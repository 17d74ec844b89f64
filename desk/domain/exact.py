"""Exact numbers: from typed text to a decimal, and from a decimal to plain text."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

LARGEST = 17  # power of ten; `1E+999999` in a cell must not fill the memory


def exact(value: Decimal | str | int) -> Decimal:
    """Return the number as a decimal.

    Raises:
        ValueError: not a number, not finite, or over 18 digits before the point.
    """
    try:
        number = Decimal(value)
    except InvalidOperation:
        raise ValueError(f"not a number: {value!r}") from None
    if not number.is_finite() or number.adjusted() > LARGEST:
        raise ValueError(f"not a number: {value!r}")
    return number


def plain(number: Decimal) -> str:
    """Return the number in plain digits, without an exponent or trailing zeros."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def short(number: Decimal) -> str:
    """Return the number for a sentence: at most three decimals, without trailing zeros."""
    return plain(Decimal(f"{number:.3f}"))
