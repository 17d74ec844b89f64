"""Split an address in one cell into its parts by its country's rules."""

from __future__ import annotations

import re
from typing import NamedTuple

from desk.domain.places.address_format import address_format
from desk.domain.places.country import HOME, Countries

_DEFAULT_POSTAL = r"\d{4,6}"
_REGION_BEFORE_CODE = re.compile(r"(.+?)[\s,]+([A-Z]{2,3})\.?")
_HAS_REGION = frozenset({"US", "CA", "AU"})  # write a state between city and postal code


class SplitAddress(NamedTuple):
    """The parts of an address; empty where missing."""

    recipient: str = ""
    address1: str = ""
    address2: str = ""
    city: str = ""
    region: str = ""
    postal_code: str = ""
    country: str = ""


class SplitExample(NamedTuple):
    """An address in one cell, and its parts as they are read."""

    text: str
    parts: SplitAddress


def split_address(text: str, countries: Countries, country: str = "", has_recipient: bool = True) -> SplitAddress:
    """Return the parts of an address written as one text.

    `country` comes from another column; without it the last part is the country if it names one. With it, a last part
    that names another country stays: it may be a city. When `has_recipient` is false the first line is the recipient's
    name. Parts we cannot place stay in the street lines, so nothing is lost.
    """
    parts = [part.strip() for part in re.split(r"[,\n;|]+", text) if part.strip()]
    typed, code = country, countries.find(country) or ""
    last = parts[-1] if parts else ""
    named = countries.find(last) if country else _country_of(last, countries)
    if named and code in ("", named):
        typed, code, parts = typed or last, named, parts[:-1]
    city, region, postal, used = _city_line(parts, code or HOME)
    street = [part for at, part in enumerate(parts) if at not in used]
    recipient = ""
    if not has_recipient and len(street) > 1 and not re.search(r"\d", street[0]):
        recipient, *street = street
    first, rest = (street[0], ", ".join(street[1:])) if street else ("", "")
    return SplitAddress(recipient, first, rest, city, region, postal, typed)


def split_city_line(text: str, country: str) -> SplitAddress:
    """Return the city, region, and postal code that are in one text."""
    city, region, postal, _ = _city_line(["", text], country or HOME)
    return SplitAddress(city=city, region=region, postal_code=postal)


def _country_of(text: str, countries: Countries) -> str:
    """Return a country's code, or empty; two letters are read as a state unless no state has them."""
    return countries.find(text) or "" if len(text) > 2 or text.upper() not in STATES else ""


STATES = frozenset(
    "AL AK AZ AR CA CO CT DE FL GA HI ID IL IN IA KS KY LA ME MD MA MI MN MS MO MT NE NV NH NJ NM NY NC ND OH OK OR PA RI SC SD TN TX "
    "UT VT VA WA WV WI WY DC".split()
)


def _city_line(parts: list[str], country: str) -> tuple[str, str, str, set[int]]:
    """Return city, region, postal code, and the indexes of the parts they came from."""
    for at in range(len(parts) - 1, 0, -1):
        codes = list(re.finditer(rf"(?<!\w)({postal_pattern(country)})(?!\w)", parts[at], re.IGNORECASE))
        if not codes:
            continue
        code = codes[-1]
        before, after = parts[at][: code.start()].strip(" ,"), parts[at][code.end() :].strip(" ,")
        rest, region, used = before or after, "", {at}
        if not rest and at > 1:
            rest, used = parts[at - 1], {at, at - 1}
        elif not rest and at + 1 < len(parts) and country not in _HAS_REGION:
            rest, used = parts[at + 1], {at, at + 1}  # before the code is only the street
        if country in _HAS_REGION:
            rest, region, used = _with_region(rest, parts, used)
        return rest, region, code[1], used
    if len(parts) > 1:
        return parts[-1], "", "", {len(parts) - 1}
    return "", "", "", set()


def _with_region(rest: str, parts: list[str], used: set[int]) -> tuple[str, str, set[int]]:
    """Return city, region, and the parts used: the region follows the city in its part, or is its own part."""
    if split := _REGION_BEFORE_CODE.fullmatch(rest):
        return split[1], split[2], used
    before = min(used) - 1
    return (parts[before], rest, {*used, before}) if before > 0 else (rest, "", used)


def postal_pattern(country: str) -> str:
    """Return the pattern of a country's postal codes."""
    known = address_format(country)
    pattern = known.postal_code if known else ""
    return pattern.replace("(", "(?:").replace("(?:?:", "(?:") or _DEFAULT_POSTAL


def with_house_number(street: str, house: str, country: str) -> str:
    """Return a street and its house number in the order the country writes them."""
    if not house or not street or street.split(maxsplit=1)[0] == house or street.rsplit(maxsplit=1)[-1] == house:
        return street or house
    return f"{house} {street}" if country in _NUMBER_FIRST else f"{street} {house}"


# Countries that write the house number before the street (formats of UPU S42; from memory).
_NUMBER_FIRST = frozenset("US CA GB IE AU NZ FR LU ZA IN SG HK MY PH TH IL".split())
