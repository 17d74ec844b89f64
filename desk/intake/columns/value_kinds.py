"""What the values of a column look like, held against the field its header says: postal codes are no cities.

A share of values decides, never one: people type odd things. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from desk.intake.columns.amounts import NotRead, TwoWays, count, currency_code, day

Looks = Callable[[str], bool]
_LETTER = re.compile(r"[^\W\d_]")
_DIGIT = re.compile(r"\d")
_MAIL = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s]+")
_AMOUNT = re.compile(r"[^\d]{0,5}\d[\d.,' \u00a0\u202f]*[^\d]{0,5}")
_CODE = re.compile(r"(?=.*\d)[A-Za-z0-9][A-Za-z0-9 -]{1,11}")
_NUMERALS = re.compile(r"(?:\d[ -]?){3,}")  # three digits or more and nothing else: a code, a number
_STREET = re.compile(r"\d+\w?[\s,]+\D{3,}|\D{3,}\s\d+\w?")
LEAST_VALUES = 2  # different values that must speak against a header before it is doubted


def _reads(reader: Callable[[str], object]) -> Looks:
    def looks(text: str) -> bool:
        try:
            reader(text)
        except TwoWays:
            return True
        except NotRead:
            return False
        return True

    return looks


_date, _count, _currency = _reads(day), _reads(count), _reads(currency_code)


def _words(text: str) -> bool:
    """Text with a letter in it, and no date or mail address."""
    return bool(_LETTER.search(text)) and not _date(text) and not _MAIL.fullmatch(text)


def _place(text: str) -> bool:
    """The name of a town: words with no house number before or after them, and no postal code."""
    return _words(text) and not _CODE.fullmatch(text) and not _STREET.fullmatch(text)


def _region(text: str) -> bool:
    return (_words(text) and not _STREET.fullmatch(text)) or (text.isdigit() and len(text) <= 3)


def _country(text: str) -> bool:
    return _words(text) and not _DIGIT.search(text)


def _phone(text: str) -> bool:
    return len(_DIGIT.findall(text)) >= 5 and not _MAIL.fullmatch(text) and not _date(text)


LOOKS: Mapping[str, Looks] = {
    "placed": _date,
    "recipient": lambda text: _words(text) and not _CODE.fullmatch(text),
    "company": lambda text: bool(_LETTER.search(text)) and not _MAIL.fullmatch(text),
    "address1": _words,
    "city": _place,
    "region": _region,
    "postal_code": lambda text: bool(_CODE.fullmatch(text)),
    "country": _country,
    "email": lambda text: bool(_MAIL.fullmatch(text)),
    "phone": _phone,
    "item": lambda text: not _date(text) and not _MAIL.fullmatch(text),
    "quantity": lambda text: _count(text) and len(text) < 5,  # nobody buys ten thousand of a thing
    "unit_price": lambda text: bool(_AMOUNT.fullmatch(text)) and not _date(text),
    "currency": _currency,
    "shipping_paid": lambda text: bool(_AMOUNT.fullmatch(text)) and not _date(text),
    "discount": lambda text: bool(_AMOUNT.fullmatch(text)) and not _date(text),
}


def fits(ours: str, values: Sequence[str]) -> bool:
    """False when most of the values cannot be what the field holds; fields of free text take anything."""
    filled = [value for value in values if value]
    looks = LOOKS.get(ours)
    return looks is None or not filled or 2 * sum(map(looks, filled)) >= len(filled)


def contradicted(ours: str, values: Sequence[str]) -> bool:
    """True when none of several different values can be what the field holds: the header cannot mean it.

    Asked of names of people, places and things alone, which have letters; what is read as a number or a date is told
    where it cannot be read.
    """
    different = {value for value in values if value}
    if ours not in _HAVE_LETTERS or len(different) < LEAST_VALUES:
        return False
    return all(_NUMERALS.fullmatch(value) for value in different)


_HAVE_LETTERS = frozenset({"recipient", "city", "country"})
