"""Exact numbers: what was typed becomes a decimal, or is refused."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

LARGEST = 17  # power of ten; `1E+999999` in a cell must not fill the memory


def exact(value: Decimal | str | int) -> Decimal:
    """The number as a decimal; ValueError when it is none, not finite, or of more than 18 digits before the point."""
    try:
        number = Decimal(value)
    except InvalidOperation:
        raise ValueError(f"not a number: {value!r}") from None
    if not number.is_finite() or number.adjusted() > LARGEST:
        raise ValueError(f"not a number: {value!r}")
    return number
