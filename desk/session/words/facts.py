"""Words for countries, fees, tax numbers, traits, and reasons that rules give as codes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from desk.domain.codes import Code
from desk.domain.places.country import MILITARY_STATES
from desk.session.words.figures import measure

FEES = {
    "nonmachinable": "a nonmachinable letter",
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
    "cpf": "CPF",
    "cnpj": "CNPJ",
    "kr": "Korean personal customs",
}
TRAITS = {
    "proportions": "length not 1.3 to 2.5 times its height",
    "not-paper": "outside not paper",
    "clasp": "with a clasp or string",
    "uneven": "lumpy",
    "stiff": "rigid",
    "thin": "too thin for its size",
    "address": "address along the short side",
}
SHAPES = {"letter": "a letter", "flat": "a large envelope", "parcel": "a parcel", "": "a piece of this size"}
GOODS = {
    "plants": "plants or seeds",
    "magnet": "magnets",
    "battery": "batteries",
    "flammable": "flammable goods",
    "aerosol": "aerosols",
}
WRONG_FORM = "its format is wrong"
WHY: Mapping[Code, Mapping[str, str]] = {  # by code, since rules use one word for several things
    Code.FORM_NOT_NEEDED: {"domestic": "domestic mail", "documents": "documents only"},
    Code.HS_MISSING: {
        "none": "none is given",
        "not digits": "it holds something other than digits",
        "too short": "too few digits",
        "too long": "too many digits",
    },
    Code.POSTAL_CODE_ODD: {
        "none used": "that country has no postal codes",
        "shape": WRONG_FORM,
        "state": "it belongs to another state",
    },
    Code.ITN_MALFORMED: {
        "no X": "the letter X is missing",
        "shape": WRONG_FORM,
        "date": "it holds no date",
    },
    Code.TAX_ID_MALFORMED: {
        "shape": WRONG_FORM,
        "length": "too few or too many digits",
        "member state": "it names no member state of the European Union",
        "intermediary": "it belongs to an agent and never goes on a parcel",
        "check digit": "its check digit doesn't fit",
    },
    Code.WORDS_TOO_VAGUE: {
        "empty": "nothing is written",
        "no letters": "there is no word in it",
        "general words": "it could be anything",
        "too little": "it says too little",
    },
}
PLACES = {"GB-BT": "Northern Ireland", "EU": "the European Union"}
WITH_THE = frozenset("AE BS CF CK DO FK FO GB GM KM KY MH MP MV NL PH PN SB SC TC US VA VG VI".split())


def country_in_words(code: str) -> str:
    """Return `France` for `FR` and `the United Kingdom` for `GB`; an unknown code unchanged. Names: CLDR, by babel."""
    if code in PLACES:
        return PLACES[code]
    from babel import Locale

    name = Locale("en").territories.get(code, code)
    return f"the {name}" if code in WITH_THE and name != code else str(name)


def domestic_place_in_words(code: str) -> str:
    """Return `Guam` for `GU` and `military addresses (AP)` for `AP`: places of domestic mail, by state code."""
    return f"military addresses ({code})" if code in MILITARY_STATES else country_in_words(code)


def shape_name(shape: str) -> str:
    """Return `letter`, `large envelope` or `parcel` for the shape a piece pays as."""
    return SHAPES.get(shape, shape).removeprefix("a ")


def why_in_words(code: Code, why: str) -> str:
    """Return the words for a rule's one-word reason under that code; a reason without words unchanged."""
    return WHY.get(code, {}).get(why, why)


def traits_in_words(traits: Iterable[str]) -> str:
    """Return `rigid and lumpy` for `stiff` and `uneven`."""
    return measure(" and ".join(TRAITS.get(trait, trait) for trait in traits))


def fees_in_words(codes: Iterable[str]) -> str:
    """Return `a side over 22 in and a tube or roll` for `long-22` and `tube`."""
    return " and ".join(FEES.get(code, code) for code in codes)


def tax_number_in_words(kind: str) -> str:
    """Return `UK VAT` for `uk_vat`; an unknown kind unchanged."""
    return TAX_NUMBERS.get(kind, kind)
