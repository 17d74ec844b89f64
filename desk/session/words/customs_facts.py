"""The facts of customs findings in words: limits in their own money, whose number, where, and how old a list is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping

from desk.domain.codes import Code
from desk.domain.orders.customs_details import BUYER_NUMBERS
from desk.session.words.facts import GOODS, domestic_place_in_words, tax_number_in_words
from desk.session.words.figures import counted, listed, measure, sum_in_words

Facts = MutableMapping[str, object]


_LIMITS_ABROAD = {  # from memory: Publication 52, Packaging Instructions 9B and 9D
    "magnet": "no measurable field 7 feet from the package (0.002 gauss)",
    "battery": "lithium batteries only inside the device they power, two at most",
}


def _limit_abroad(facts: Facts) -> None:
    kinds = {words: _LIMITS_ABROAD[kind] for kind, words in GOODS.items() if kind in _LIMITS_ABROAD}
    facts["limit"] = measure(kinds.get(str(facts["goods"]), "see the post's rules"))


def _kind_of_number(facts: Facts) -> None:
    facts["kind"] = tax_number_in_words(str(facts["kind"]))


def _whose_number(facts: Facts) -> None:
    """Write whose number it is: buyers have identity numbers, the shop has those of tax schemes."""
    is_buyer_s = facts["kind"] in BUYER_NUMBERS
    facts["whose"] = "The buyer's" if is_buyer_s else "Your"
    facts["fix"] = "Ask the buyer for it again." if is_buyer_s else "Correct it in Setup > Sender."
    _kind_of_number(facts)


def _missing_number(facts: Facts) -> None:
    """Add what follows without the number: up to its limit a seller to the United Kingdom has to register."""
    registers = facts["kind"] == "uk_vat" and facts["of"] == "seller"
    limit = sum_in_words(str(facts["limit"]), str(facts["limit_currency"])) if registers else ""
    facts["without"] = (
        f"Up to {limit} you have to register and charge UK VAT at the sale. Ask the UK tax office."
        if registers
        else "Without it, the buyer pays tax on delivery, usually plus a fee."
    )
    facts["of"] = "your" if facts["of"] == "seller" else f"the {facts['of']}'s"
    facts["country"] = str(facts["country"])[:1].upper() + str(facts["country"])[1:]
    _kind_of_number(facts)


def _limit_in_its_money(facts: Facts) -> None:
    facts["limit"] = sum_in_words(str(facts["limit"]), str(facts["limit_currency"]))


def _goods_over_limit(facts: Facts) -> None:
    """Say whether all goods or a single item reach the limit, and whether the limit itself is too much already."""
    _limit_in_its_money(facts)
    counting = str(facts.get("counting", ""))
    facts["goods"] = "A single item is" if "each item" in counting else "The goods are"
    facts["much"] = f"{facts['limit']} or more" if counting.startswith("below") else f"more than {facts['limit']}"


def _value_in_dollars(facts: Facts) -> None:
    facts["value"] = sum_in_words(str(facts["value"]), "USD")


def _count_of_codes(facts: Facts) -> None:
    count = int(str(facts["codes"]))
    facts["codes"] = "each HS code" if count == 1 else f"each of {counted(count, 'HS code')}"


_LISTS = {
    "suspended": ("The list of suspended destinations is", "Import a newer list in Setup > Destinations."),
    "import-limit": ("The list of import limits is", "Import a newer list in Setup > Destinations."),
    "seller-number": ("The list of sellers' tax numbers is", "Import a newer list in Setup > Destinations."),
    "duty-per-code": ("The list of duties for each HS code is", "Import a newer list in Setup > Destinations."),
}


def _old_list(facts: Facts) -> None:
    again = (
        f"Your confirmation that mail to {facts['country']} has resumed is",
        "Check the post's service alerts again.",
    )
    facts["what"], facts["renew"] = _LISTS.get(str(facts["what"]), again)


def _old_rates(facts: Facts) -> None:
    rates = str(facts["rate"]).split(", ")
    one = len(rates) == 1
    facts["rate"] = f"The exchange rate{'' if one else 's'} for {listed(rates)} {'is' if one else 'are up to'}"


def _barred_place(facts: Facts) -> None:
    whole = facts["why"] == "country"
    facts["where"] = facts["country"] if whole else f"that part of {facts['country']}"


def _vague_for(facts: Facts) -> None:
    """Name the item, unless its description is just its name."""
    is_its_name = str(facts["words"]).casefold() == str(facts["item"]).casefold()
    facts["item"] = "customs" if is_its_name else facts["item"]


def _place_of_domestic_mail(facts: Facts) -> None:
    facts["place"] = domestic_place_in_words(str(facts["place"]))


CUSTOMS_WORDED: Mapping[Code, Callable[[Facts], None]] = {
    Code.BUYER_ID_MISSING: _kind_of_number,
    Code.DESTINATIONS_OLD: _old_list,
    Code.DESTINATION_BARRED: _barred_place,
    Code.EU_DUTY: _count_of_codes,
    Code.FORM_MAY_BE_NEEDED: _place_of_domestic_mail,
    Code.HAZARD_ABROAD: _limit_abroad,
    Code.IMPORT_CHARGES: _goods_over_limit,
    Code.LIMIT_UNTESTED: _limit_in_its_money,
    Code.RATE_OLD: _old_rates,
    Code.TAX_ID_MALFORMED: _whose_number,
    Code.TAX_ID_MISSING: _missing_number,
    Code.VALUE_IN_DOLLARS: _value_in_dollars,
    Code.WORDS_TOO_VAGUE: _vague_for,
}
