"""Check addresses: is everything there, does the postal code look right, and does it fit a label?"""

from __future__ import annotations

import unicodedata

from desk.customs.postal_codes import bare_postal_code, postal_code_fault, postal_rules
from desk.domain.finding import Code, Finding, finding
from desk.domain.places.address import Address
from desk.domain.places.address_format import SOURCE
from desk.domain.places.country import DOMESTIC_PLACES, HOME

# Computed, no source: at 8 points, the smallest type Publication 28 allows in an address, capitals of the label's font
# are about 5.4 points wide. A four-inch label leaves 3.75 inches between its margins, so 50 of them fit. Our own label
# wraps a longer text; one that needs more than two lines stops here, and whether the rest fits is measured on the label.
LONGEST_LINE = 100
LONGEST_UNWRAPPED = 50  # for labels that others print: whether they wrap a line is unknown

HOME_PARTS = ("address1", "city", "region", "postal_code")  # Publication 28, section 22; DMM 602.1.3


def check_address(address: Address, longest: int = LONGEST_LINE) -> tuple[Finding, ...]:
    """Return what is missing, odd, unreadable or too long in an address; empty when nothing is.

    `longest` is how many characters one text may have; double-width characters count as two.
    """
    home = address.country == HOME or address.country in DOMESTIC_PLACES
    missing = _missing_at_home(address) if home else _missing_abroad(address)
    issues: list[Finding] = []
    if missing:
        source = "Publication 28, section 22" if home else "IMM 122.1"
        issues.append(
            finding(Code.ADDRESS_INCOMPLETE, source, missing=tuple(missing), country_typed=address.country_typed)
        )
    issues += _without_latin(address)
    issues += _postal_code(address)
    issues += _too_long(address, longest)
    return tuple(issues)


def _missing_at_home(address: Address) -> list[str]:
    """Return missing parts of a domestic address; a place written as a country (`PR`) is its own state."""
    state_known = address.country in DOMESTIC_PLACES
    parts = [part for part in HOME_PARTS if not (part == "region" and state_known)]
    return _who(address) + [part for part in parts if not getattr(address, part).strip()]


def _missing_abroad(address: Address) -> list[str]:
    missing = _who(address)
    if not address.address1.strip():
        missing.append("address1")
    if not address.country:
        return [*missing, *([] if address.city.strip() else ["city"]), "country"]
    required = postal_rules(address.country).required
    if "C" in required or "S" in required:  # where a state is enough, a city is too
        place = address.city if "C" in required else address.city + address.region
        missing += [] if place.strip() else ["city"]
    if "Z" in required and not address.postal_code.strip():
        missing.append("postal_code")
    return missing


def _who(address: Address) -> list[str]:
    """Return `recipient` when it is missing and no company replaces it."""
    return [] if address.recipient.strip() or address.company.strip() else ["recipient"]


def _without_latin(address: Address) -> list[Finding]:
    """Return a finding unless name, street and town each have a line in Latin letters, which the post here needs.

    Source: IMM 122.1.
    """
    if not address.country or address.country == HOME or address.country in DOMESTIC_PLACES:
        return []
    named = {"recipient": address.recipient or address.company, "address1": address.address1, "city": address.city}
    unread = [part for part, text in named.items() if _has_letters(text) and not _has_latin(text)]
    if not unread:
        return []
    return [finding(Code.LATIN_LINE_MISSING, "IMM 122.1", missing=tuple(unread), country=address.country)]


def _has_letters(text: str) -> bool:
    return any(character.isalpha() for character in text)


def _has_latin(text: str) -> bool:
    return any(character.isalpha() and unicodedata.name(character, "").startswith("LATIN") for character in text)


def _postal_code(address: Address) -> list[Finding]:
    if not address.country or not address.postal_code.strip():
        return []
    home = address.country in DOMESTIC_PLACES
    country, region = (HOME, address.country) if home else (address.country, address.region)
    bare = bare_postal_code(country, address.postal_code)
    issues: list[Finding] = []
    if bare != address.postal_code.strip():
        issues.append(
            finding(Code.POSTAL_CODE_MENDED, SOURCE, typed=address.postal_code, corrected=bare, country=country)
        )
    if why := postal_code_fault(country, bare, region):
        facts = {"postal_code": address.postal_code, "country": country, "region": region, "why": why}
        issues.append(finding(Code.POSTAL_CODE_ODD, SOURCE, None, **facts))
    return issues


def _too_long(address: Address, longest: int) -> list[Finding]:
    last = f"{address.city} {address.region}  {address.postal_code}".strip()
    lines = {
        "recipient": address.recipient,
        "company": address.company,
        "address1": address.address1,
        "address2": address.address2,
        "city": last,
    }
    return [
        finding(Code.ADDRESS_TOO_LONG, "computed from the width of a label", part=part, longest=longest, length=width)
        for part, line in lines.items()
        if (width := _width(line.strip())) > longest
    ]


def _width(line: str) -> int:
    if line.isascii():
        return len(line)
    return sum(0 if unicodedata.combining(char) else 1 + (unicodedata.east_asian_width(char) in "WF") for char in line)
