"""Compare what a column's values look like with the field its header names: postal codes are not cities.

A share of the values decides, never a single one: people type odd things. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from desk.domain.places.states import STATE_NAMES
from desk.intake.columns.amounts import NotRead, ReadsTwoWays, count, currency_code, day
from desk.intake.columns.yes_no import is_yes_or_no

Looks = Callable[[str], bool]
_LETTER = re.compile(r"[^\W\d_]")
_DIGIT = re.compile(r"\d")
_MAIL = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s]+")
_AMOUNT = re.compile(r"[^\d]{0,5}\d[\d.,' \u00a0\u202f]*[^\d]{0,5}")
_CODE = re.compile(r"(?=.*\d)[A-Za-z0-9][A-Za-z0-9 -]{1,11}")
_HOUSE = re.compile(r"\d+\s?(?:\w|bis|ter)?(?:[-/]\d+\w?)?", re.IGNORECASE)  # "12", "5 b", "12-14", "7 bis"
_LEFT_BY_A_PROGRAM = re.compile(r"^'|\.0$")  # "'05401", "5401.0": what spreadsheets add to a number
_STATE_CODE = re.compile("[A-Z]{2,3}")
_STATES = frozenset(name.casefold() for name in STATE_NAMES.values())
_NUMERALS = re.compile(r"(?:\d[ -]?){3,}")  # three or more digits and nothing else: a code, a number
_STREET = re.compile(r"\d+\w?[\s,]+\D{3,}|\D{3,}\s\d+\w?")
MONEY = re.compile(r"[^\d]{0,5}\d[\d.,' \u00a0\u202f]*[.,]\d{2}[^\d]{0,5}|[$€£¥]\s?\d+")
_UNIT = re.compile(
    r"(?:apt|apartment|suite|ste|unit|floor|fl|room|rm|bldg|building|c/o|po box|p\.o\.)\b", re.IGNORECASE
)
# A column called "state" may be an order's state, not an address's (common practice, no source).
STATUS_WORDS = frozenset(
    "paid unpaid open closed pending processing completed complete shipped unshipped cancelled canceled refunded new on-hold failed draft "
    "fulfilled unfulfilled pagado pendiente enviado cancelado abierto bezahlt offen storniert versendet payé expédié annulé".split()
)
MOST_NAME_WORDS = 6
SALUTATIONS = frozenset(
    "mr mrs ms miss mx dr prof sir herr frau m mme mlle monsieur madame sr sra srta senor senora".split()
)
LEAST_ADDRESS_PARTS = 3
NOTE_WORDS = 4
LONGEST_ORDER_NUMBER, LONGEST_STATUS, LONGEST_HOUSE_NUMBER = 40, 40, 8  # characters
LEAST_VALUES = 2  # distinct values that must contradict a header before it is doubted


def _reads(reader: Callable[[str], object]) -> Looks:
    def looks(text: str) -> bool:
        try:
            reader(text)
        except ReadsTwoWays:
            return True
        except NotRead:
            return False
        return True

    return looks


is_date, _count, _currency = _reads(day), _reads(count), _reads(currency_code)


def _words(text: str) -> bool:
    """Return whether text has a letter, and is no date or email address."""
    return bool(_LETTER.search(text)) and not is_date(text) and not _MAIL.fullmatch(text)


def _place(text: str) -> bool:
    """Return whether text may be a town: words without a house number, and no postal code."""
    return _words(text) and not _CODE.fullmatch(text) and not _STREET.fullmatch(text)


def _is_status_alone(text: str) -> bool:
    return text.casefold() in STATUS_WORDS  # "New", but not "New York"


def _is_state(text: str) -> bool:
    return bool(_STATE_CODE.fullmatch(text)) or text.casefold() in _STATES


def _region(text: str) -> bool:
    if _is_status_alone(text):
        return False
    return (_words(text) and not _STREET.fullmatch(text)) or (text.isdigit() and len(text) <= 3)


def _country(text: str) -> bool:
    return _words(text) and not _DIGIT.search(text)


def _phone(text: str) -> bool:
    return len(_DIGIT.findall(text)) >= 5 and not _MAIL.fullmatch(text) and not is_date(text)


def is_person_name(text: str) -> bool:
    """Return whether text may be a person or company: one to six words without digits."""
    words = text.split()
    return (
        1 <= len(words) <= MOST_NAME_WORDS
        and not _DIGIT.search(text)
        and not _MAIL.fullmatch(text)
        and bool(_LETTER.search(text))
    )


def _full_address(text: str) -> bool:
    """Return whether a cell has street and city: several parts with a number among them."""
    return bool(_DIGIT.search(text)) and len(re.split(r"[,\n;]", text)) >= LEAST_ADDRESS_PARTS


def _note(text: str) -> bool:
    """Return whether text is a message: at least two words; a code or a single word is none."""
    return bool(_LETTER.search(text)) and len(text.split()) > 1 and not is_date(text) and not _MAIL.fullmatch(text)


def _amount(text: str) -> bool:
    return bool(_AMOUNT.fullmatch(text)) and not is_date(text)


def _item(text: str) -> bool:
    """Return whether text may name goods: words, but no salutation, which a column called "title" may hold."""
    return _words(text) and text.casefold().strip(" .") not in SALUTATIONS


def _order_number(text: str) -> bool:
    return not _MAIL.fullmatch(text) and not is_date(text) and len(text) <= LONGEST_ORDER_NUMBER


def _status(text: str) -> bool:
    return bool(_LETTER.search(text)) and not _AMOUNT.fullmatch(text) and len(text) <= LONGEST_STATUS


def is_plain_count(text: str) -> bool:
    """Return whether text is a count that is not written like money: `12`, not `12.00`."""
    return _count(text) and not MONEY.fullmatch(text)


def is_status(text: str) -> bool:
    """Return whether text has a word that only the status of an order has."""
    return not STATUS_WORDS.isdisjoint(text.casefold().split())


def _house(text: str) -> bool:
    return bool(_HOUSE.fullmatch(text)) and len(text) <= LONGEST_HOUSE_NUMBER


LOOKS: Mapping[str, Looks] = {
    "order": _order_number,
    "placed": is_date,
    "recipient": lambda text: _words(text) and not _CODE.fullmatch(text) and not _full_address(text),
    "first_name": lambda text: _words(text) and not _DIGIT.search(text),
    "last_name": lambda text: _words(text) and not _DIGIT.search(text),
    "company": lambda text: bool(_LETTER.search(text)) and not _MAIL.fullmatch(text) and not is_yes_or_no(text),
    "full_address": _full_address,
    "address1": _words,
    "house_number": _house,
    "address2": lambda text: not _MAIL.fullmatch(text) and not is_date(text) and not MONEY.fullmatch(text),
    "address3": lambda text: not _MAIL.fullmatch(text) and not is_date(text) and not MONEY.fullmatch(text),
    "city_line": lambda text: bool(_DIGIT.search(text)) and bool(_LETTER.search(text)),
    "city": _place,
    "region": _region,
    "postal_code": lambda text: bool(_CODE.fullmatch(_LEFT_BY_A_PROGRAM.sub("", text))),
    "country": _country,
    "email": lambda text: bool(_MAIL.fullmatch(text)),
    "phone": _phone,
    "item": _item,
    "quantity": lambda text: _count(text) and len(text) < 5,  # no order is for ten thousand of one item
    **dict.fromkeys(
        "unit_price line_total shipping_paid discount line_discount tax tip gift_wrap insurance total customs_value".split(),
        _amount,
    ),
    "currency": _currency,
    "shipping_choice": lambda text: _words(text) and not _amount(text) and not _full_address(text),
    "status": _status,
    "shipped": _status,
    "buyer_note": _note,
}


def fits(ours: str, values: Sequence[str]) -> bool:
    """Return False when most values cannot be what the field contains; free-text fields take anything."""
    filled = [value for value in values if value]
    looks = LOOKS.get(ours)
    return looks is None or not filled or 2 * sum(map(looks, filled)) >= len(filled)


def contradicted(ours: str, values: Sequence[str]) -> bool:
    """Return True when the values show that the header cannot mean this field.

    A name, city or country: several distinct values are all just numbers. A street: several are all house numbers. A
    house number: one is a whole street. A region: one is a status, as "state" may be that of the order, and at most
    half are states. Other fields are never contradicted; numbers and dates report their own errors.
    """
    different = {value for value in values if value}
    if ours == "address1":
        return len(different) >= LEAST_VALUES and all(map(_house, different))
    if ours == "house_number":
        return any(_STREET.fullmatch(value) and not _house(value) for value in different)
    if ours == "region":
        return any(map(_is_status_alone, different)) and 2 * sum(map(_is_state, different)) <= len(different)
    if ours not in _HAVE_LETTERS or len(different) < LEAST_VALUES:
        return False
    return all(_NUMERALS.fullmatch(value) for value in different)


def looks_like_an_address_part(values: Sequence[str]) -> bool:
    """Return whether most values look like a street or a unit within a building."""
    return 2 * sum(bool(_STREET.fullmatch(value) or _UNIT.match(value)) for value in values) >= len(values) > 0


def looks_like_a_unit(values: Sequence[str]) -> bool:
    """Return whether most of the values are a unit in a house: an apartment, a floor."""
    return 2 * sum(bool(_UNIT.match(value)) for value in values) >= len(values) > 0


def looks_like_a_note(values: Sequence[str]) -> bool:
    """Return whether most of the values are sentences."""
    return 2 * sum(_note(value) and len(value.split()) >= NOTE_WORDS for value in values) >= len(values) > 0


def looks_like_money(values: Sequence[str]) -> bool:
    """Return whether most of the values are amounts with decimals or a currency's sign."""
    return 2 * sum(bool(MONEY.fullmatch(value)) for value in values) >= len(values) > 0


_HAVE_LETTERS = frozenset({"recipient", "city", "country", "first_name", "last_name"})
