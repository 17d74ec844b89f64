"""Size limits of the mail: what makes a letter, a large envelope or a parcel, and what costs more.

Sides are listed longest first. Sources: DMM 101.1.1, 101.2.1, 101.6.3.1 and 601.1.2 (updated 2023-07-09); the price
list's notes on nonstandard parcels and dimensional weight (Notice 123, July 12, 2026).
"""

from __future__ import annotations

from decimal import Decimal

from desk.domain.length import inches

LEAST_THICKNESS, LEAST_LENGTH, LEAST_HEIGHT = inches("0.007"), inches(5), inches("3.5")  # DMM 601.1.2
LETTER = (inches("11.5"), inches("6.125"), inches("0.25"))  # DMM 101.1.1b
LARGE_ENVELOPE = (inches(15), inches(12), inches("0.75"))  # DMM 101.2.1b
CARD = (inches(6), inches("4.25"), inches("0.016"))  # DMM 101.6.3.1
THIN_WHEN_LARGE = inches("0.009")  # DMM 101.1.1a, for letters larger than a card
CLERK_THICKNESS = inches("0.5")  # thicker stamped mail goes to a clerk (Publication 52 section 211)
LONG, VERY_LONG = inches(22), inches(30)  # fees of the price list
BULKY_CUBIC_INCHES = Decimal(3456)  # 2 cu ft, a fee of the price list
CUBIC_FOOT_INCHES = Decimal(1728)  # cubic inches in a cubic foot: dimensional weight above it (DMM 223)
