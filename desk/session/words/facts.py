"""Facts in words: countries, fees, tax numbers, traits, days and sums that rules give as codes or bare decimals."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache

_MONTHS = (
    "January February March April May June July August September October November December"  # whatever the locale
).split()
FEES = {
    "nonmachinable": "a letter that a machine cannot sort",
    "long-22": "a side over 22 in",
    "long-30": "a side over 30 in",
    "bulky": "more than 2 cubic feet",
    "tube": "a tube or roll",
}
TAX_NUMBERS = {
    "ioss": "IOSS",
    "voec": "VOEC",
    "uk_vat": "UK VAT",
    "au_arn": "Australian ARN",
    "nz_gst": "New Zealand GST",
    "cpf or cnpj": "CPF or CNPJ",
    "kr": "Korean personal customs",
}
TRAITS = {
    "proportions": "its length is not 1.3 to 2.5 times its height",
    "not-paper": "its outside is not paper",
    "clasp": "it has a clasp or string",
    "uneven": "it is uneven",
    "stiff": "it does not bend",
    "thin": "it is too thin for its size",
    "address": "its address runs along the short side",
}
SHAPES = {"letter": "a letter", "flat": "a large envelope", "parcel": "a parcel", "": "a piece of this size"}
GOODS = {"magnet": "magnets", "battery": "batteries", "flammable": "flammable goods", "aerosol": "aerosols"}
FORM = "it is not written like one"
WHY: Mapping[str, Mapping[str, str]] = {  # by code, since rules use one word for several things
    "form-not-needed": {"domestic": "domestic mail", "documents": "documents alone"},
    "hs-missing": {
        "none": "none is given",
        "not digits": "not all of it is digits",
        "too short": "too few digits",
        "too long": "too many digits",
    },
    "postal-code-odd": {
        "none used": "there are none in that country",
        "shape": FORM,
        "state": "it is another state's",
    },
    "tax-id-malformed": {
        "shape": FORM,
        "length": "too few or too many digits",
        "member state": "it names no member state of the European Union",
        "intermediary": "it is the number of an agent, which no parcel carries",
        "check digit": "its check digit does not fit",
    },
    "words-too-vague": {
        "empty": "nothing is written",
        "no letters": "there is no word in it",
        "general words": "it could be anything",
    },
}
PLACES = {"GB-BT": "Northern Ireland", "EU": "the European Union"}
WITH_THE = frozenset("AE BS CF CK DO FK FO GB GM KM KY MH MP MV NL PH PN SB SC TC US VA VG VI".split())
MILITARY = frozenset(("AA", "AE", "AP"))


@cache
def country_in_words(code: str) -> str:
    """`FR` as `France`, `GB` as `the United Kingdom`; a code nobody knows as it stands. Names of the CLDR, by babel."""
    if code in PLACES:
        return PLACES[code]
    from babel import Locale

    name = Locale("en").territories.get(code, code)
    return f"the {name}" if code in WITH_THE and name != code else str(name)


def domestic_place_in_words(code: str) -> str:
    """`GU` as `Guam`, `AP` as `the military post (AP)`: places of domestic mail, by their state code."""
    return f"the military post ({code})" if code in MILITARY else country_in_words(code)


def why_in_words(code: str, why: str) -> str:
    """What a rule gives in a word as the reason for a finding of that code; a word without better ones as it stands."""
    return WHY.get(code, {}).get(why, why)


def traits_in_words(traits: str) -> str:
    """`stiff+uneven` as `it does not bend and it is uneven`."""
    return " and ".join(TRAITS.get(trait, trait) for trait in traits.split("+"))


def day_in_words(day: date) -> str:
    """`12 July 2026`: in English, whatever the machine's own language."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def sum_in_words(amount: str, currency: str) -> str:
    """`$1.11` for dollars of the United States, `1.11 EUR` for anything else."""
    return f"${amount}" if currency == "USD" else f"{amount} {currency}"


def fees_in_words(codes: str) -> str:
    """`long-22+tube` as `a side over 22 in and a tube or roll`."""
    return " and ".join(FEES.get(code, code) for code in codes.split("+"))


def tax_number_in_words(kind: str) -> str:
    """`uk_vat` as `UK VAT`; a kind nobody knows as it stands."""
    return TAX_NUMBERS.get(kind, kind)
