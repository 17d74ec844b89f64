"""Tracking numbers: which texts are one, and how they are stored."""

from __future__ import annotations

from desk.domain.orders.check_digits import normalized, s10_digit, split_s10, tracking_digit, without_routing

DOMESTIC_LENGTHS = (20, 22, 26)


def tracking_number(text: str) -> str | None:
    """Return the number as stored, without spaces or a leading 420 and ZIP; None when it is not a tracking number.

    Twenty, 22 or 26 digits whose last makes the weighted sum a multiple of ten, or a UPU S10 identifier.
    """
    code = without_routing(normalized(text))
    if code.isdigit() and code.isascii():
        return code if len(code) in DOMESTIC_LENGTHS and tracking_digit(code[:-1]) == int(code[-1]) else None
    parts = split_s10(code)
    return code if parts and parts[2] != "?" and s10_digit(parts[1]) == int(parts[2]) else None
