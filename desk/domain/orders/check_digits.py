"""Check digits of item identifiers: UPU S10, and the post's package identification codes.

Sources: UPU S10-12 (2017-10-17) for the weights 8 6 4 2 3 5 9 7; the post's package-barcode specification, section
2.5.1.7 and Appendix E (from quotations; its printed example recomputed), for the mod-10 sum.
"""

from __future__ import annotations

import re

S10_WEIGHTS = (8, 6, 4, 2, 3, 5, 9, 7)
_S10 = re.compile(r"([A-Z]{2})([0-9]{8})([0-9?])([A-Z]{2})")
TRACKING_LENGTHS = (20, 22, 26, 30, 34)


def s10_digit(serial: str) -> int:
    """Return the check digit of an eight-digit serial: 11 minus the weighted sum mod 11; 10 becomes 0, 11 becomes 5."""
    total = sum(weight * int(digit) for weight, digit in zip(S10_WEIGHTS, serial, strict=True))
    return {10: 0, 11: 5}.get(digit := 11 - total % 11, digit)


def split_s10(text: str) -> tuple[str, str, str, str] | None:
    """Return service letters, serial, check digit (or `?`) and country of an S10 identifier; None for another shape."""
    match = _S10.fullmatch(normalized(text))
    return (match[1], match[2], match[3], match[4]) if match else None


def tracking_digit(body: str) -> int:
    """Return the digit that makes the sum a multiple of ten; `body` is the code without it and without routing."""
    total = sum(int(digit) * (3 if place % 2 == 0 else 1) for place, digit in enumerate(reversed(body)))
    return -total % 10


def without_routing(code: str) -> str:
    """Return the code without a leading 420 and five- or nine-digit ZIP, which the sum ignores.

    Of 34 digits, a nine-digit ZIP and 22 digits come first, then a five-digit ZIP and 26 digits: the one that begins
    with 9, or of two such, the one with the right check digit (common practice, no source).
    """
    if not code.startswith("420") or len(code) not in (30, 34):
        return code
    short, long = code[-22:], code[-26:]
    if len(code) == 30 or long[0] != "9":
        return short
    return long if short[0] != "9" or (_is_right(long) and not _is_right(short)) else short


def _is_right(code: str) -> bool:
    return code.isdigit() and tracking_digit(code[:-1]) == int(code[-1])


def normalized(text: str) -> str:
    """Return the text in upper case without spaces and hyphens."""
    return re.sub(r"[\s-]", "", text).upper()
