"""Typing slips: two neighboring digits exchanged, or one left out."""

from __future__ import annotations

import numpy as np

from desk.learning.densities import Array
from desk.learning.parcel import ShownWeight


def slips(reading: ShownWeight) -> Array:
    """Return the readings, in grams, that one slip turns into this one. Empty for a reading that was not typed."""
    whole, _, decimals = reading.digits.partition(".")
    digits, places = whole + decimals, len(decimals)
    if not digits.isdigit():
        return np.zeros(0)
    meant = {digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :] for at in range(len(digits) - 1)}
    meant |= {digits[:at] + digit + digits[at:] for at in range(len(digits) + 1) for digit in "0123456789"}
    values = {int(text) for text in meant} - {int(digits)}
    meant_g: Array = np.array(sorted(values), dtype=np.float64) / 10**places * reading.unit_g
    return meant_g
