"""Tracking numbers: which texts are one, and how they are kept."""

from __future__ import annotations

from desk.domain.orders.check_digits import normalised, s10_digit, split_s10, tracking_digit, without_routing

DOMESTIC_LENGTHS = (20, 22, 26)


def tracking_number(text: str) -> str | None:
    """Return the number as it is kept: no spaces, no 420 and ZIP before it; None when it is not a tracking number.

    Twenty, 22 or 26 digits whose last brings the weighted sum to a multiple of ten, or a UPU S10 identifier.
    """
    code = without_routing(normalised(text))
    if code.isdigit() and code.isascii():
        return code if len(code) in DOMESTIC_LENGTHS and tracking_digit(code[:-1]) == int(code[-1]) else None
    parts = split_s10(code)
    return code if parts and parts[2] != "?" and s10_digit(parts[1]) == int(parts[2]) else None
