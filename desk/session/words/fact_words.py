"""The facts of a finding in words: money with its sign, dates, names for codes, and phrases made of several facts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from desk.domain.codes import Code
from desk.domain.finding import Finding
from desk.domain.places.country import DOMESTIC_PLACES, HOME
from desk.session.words.contents_weight import swapped, too_heavy, too_light
from desk.session.words.customs_facts import CUSTOMS_WORDED
from desk.session.words.facts import (
    GOODS,
    SHAPES,
    WHY,
    country_in_words,
    fees_in_words,
    traits_in_words,
    why_in_words,
)
from desk.session.words.fields import field_words
from desk.session.words.figures import counted, day_in_words, listed, measure, pieces_in_words, sum_in_words
from desk.session.words.issue_names import issue_name
from desk.session.words.services import extra_words, service_words


class Facts(dict[str, object]):
    """Facts by name; one that an older version did not store shows as a dash."""

    def __missing__(self, key: str) -> str:
        return "\u2014"


PARTS = {
    "recipient": "a name",
    "company": "a company",
    "address2": "a second street line",
    "address1": "a street line",
    "city": "a city",
    "region": "a state",
    "postal_code": "a postal code",
    "country": "a country",
}
DAYS = ("alert_on", "checked_on", "list_on", "rate_on", "until", "effective")
_IN_CURRENCY: Mapping[Code, tuple[str, ...]] = {  # amounts in the currency of the fact `currency`
    Code.CHARGED_TOO_LITTLE: ("charged", "spent"),
    Code.COVER_SHORT: ("value",),
    Code.EU_DUTY: ("amount", "each"),
    Code.FEE_UNCLEAR: ("lower",),
    Code.GIFT_WAS_PAID: ("value",),
    Code.FORM_BY_VALUE: ("value", "limit"),
    Code.FORM_EDGE: ("limit",),
    Code.NEEDS_EXPORT_FILING: ("value", "limit"),
    Code.LINE_NEGATIVE: ("amount",),
    Code.LINE_TOTAL_DIFFERS: ("reckoned",),
    Code.STAMPS_OVERPAID: ("overpaid",),
    Code.OVER_INCLUDED_COVER: ("value",),
    Code.OVER_ONE_OUNCE: ("extra",),
    Code.OVER_VALUE: ("limit",),
    Code.ROW_USED: ("price",),
    Code.STAMPS_REQUESTED: ("postage", "refund"),
    Code.SURCHARGE_ADDED: ("amount",),
    Code.TOTAL_DIFFERS: ("reckoned", "stated"),
    Code.VALUE_NOT_COMPARED: ("limit",),
}

_SIDES = ("length_in", "height_in", "thickness_in")
_MEASURED: Mapping[Code, tuple[str, ...]] = {  # weights and sizes, as numbers or with their units
    Code.DIMENSIONAL_WEIGHT: ("pounds",),
    Code.FLAT_BY_SIZE: _SIDES,
    Code.FLAT_OVER_WEIGHT: ("limit",),
    Code.FORM_BY_WEIGHT: ("limit",),
    Code.HAND_TO_CLERK: ("weight_oz", "thickness_in"),
    Code.LABEL_WEIGHT_ADDED: ("grams",),
    Code.LETTER_BY_SIZE: _SIDES,
    Code.LETTER_OVER_WEIGHT: ("limit",),
    Code.MAILER_TOO_SMALL: ("contents_in", "outside_in"),
    Code.NEAR_A_STEP: ("limit",),
    Code.NET_OVER_GROSS: ("net_g", "gross_g"),
    Code.OVER_DIMENSIONAL_WEIGHT: ("pounds", "limit"),
    Code.OVER_ONE_OUNCE: ("over_oz",),
    Code.OVER_SIZE: ("limit",),
    Code.OVER_WEIGHT: ("limit",),
    Code.PARCEL_BY_SIZE: _SIDES,
    Code.STIFF_LETTER_OVER_WEIGHT: ("limit",),
    Code.TOO_CLOSE_TO_CALL: ("division", "limit"),
    Code.TOO_SMALL: _SIDES,
    Code.WEIGHED_AFTER_PAID: ("came", "stays"),
    Code.WEIGHED_TWICE: ("first", "then"),
}


def facts_in_words(issue: Finding) -> Facts:
    """Return the facts as sentences use them, with codes put into words."""
    facts = Facts(issue.facts)
    for name, words in _EVERYWHERE.items():
        if name in facts:
            facts[name] = words(str(facts[name]))
    if "trait" in facts:
        facts["trait"] = traits_in_words(_several(facts, "trait"))
    if issue.code in WHY:
        facts["why"] = why_in_words(issue.code, str(facts.get("why", "")))
    for name in _IN_CURRENCY.get(issue.code, ()):
        if "currency" in facts:  # an older version stored some sums without
            facts[name] = sum_in_words(str(facts[name]), str(facts["currency"]))
    for name in _MEASURED.get(issue.code, ()):
        facts[name] = measure(str(facts[name]))
    if issue.code in _WORDED:
        _WORDED[issue.code](facts)
    facts.update({name: ", ".join(fact) for name, fact in facts.items() if isinstance(fact, tuple)})
    return facts


def _several(facts: Mapping[str, object], name: str) -> tuple[str, ...]:
    """Return a fact that is a list of words; an older version stored them as one text."""
    fact = facts[name]
    return tuple(map(str, fact)) if isinstance(fact, tuple) else (str(fact),) if fact else ()


def _day(text: str) -> str:
    try:
        return day_in_words(date.fromisoformat(text)) if text else "an unknown date"
    except ValueError:
        return text  # as the list has it


_EVERYWHERE: Mapping[str, Callable[[str], str]] = {  # facts that mean the same under every code
    "country": country_in_words,
    "goods": lambda kind: GOODS.get(kind, kind),
    "bought": extra_words,
    "service": service_words,
    "shape": lambda shape: SHAPES.get(shape, shape),
    **dict.fromkeys(DAYS, _day),
}


def _sum(facts: Mapping[str, object], name: str) -> str:
    return sum_in_words(str(facts[name]), str(facts["currency"])) if facts[name] else ""


def _missing_parts(facts: Facts) -> None:
    missing = _several(facts, "missing")
    words = listed([PARTS.get(part, part) for part in missing])
    typed = facts["country_typed"] if "country" in missing else ""
    facts["missing"] = f"{words} (\u201c{typed}\u201d is unknown)" if typed else words


def _latin_parts(facts: Facts) -> None:
    facts["missing"] = listed([PARTS.get(part, part).removeprefix("a ") for part in _several(facts, "missing")], "or")


def _part_of_address(facts: Facts) -> None:
    facts["part"] = PARTS.get(str(facts["part"]), str(facts["part"])).capitalize()


def _what_to_buy(facts: Facts) -> None:
    buy = facts["would_do"]
    if str(facts["pieces"]).isdecimal():
        facts["pieces"] = pieces_in_words(int(str(facts["pieces"])))
    facts["would_do"] = f"Buy {buy}." if buy else "Allow more stamps on a piece, or pay another way."


def _fee_sums(facts: Facts) -> None:
    facts["fees"] = fees_in_words(_several(facts, "fees"))
    facts["higher"] = _sum(facts, "higher") or "more (no list here shows the fee)"


def _surcharge(facts: Facts) -> None:
    facts["fee"] = fees_in_words([str(facts["fee"])])


def _next_best(facts: Facts) -> None:
    service = service_words(str(facts["next_service"]))
    facts["following"] = (
        f"Cheapest of {facts['count']}. Next: {service} {_sum(facts, 'next_price')}."
        if service
        else "The only service that can carry it."
    )


def _row(facts: Facts) -> None:
    """Write `up to 2 oz`, with the zone or price group where prices depend on it."""
    oversized = facts["up_to"] == "oversized"
    row = "for an oversized parcel" if oversized else measure(f"up to {facts['up_to']} {facts['unit']}".strip())
    key = {"zone": "zone", "group": "price group"}.get(str(facts["keyed_by"]))
    facts["row"] = f"{row}, {key} {facts['key']}" if key else row


def _what_differs(facts: Facts) -> None:
    """Write the doubt: two prices, two services of one price, a customs form, or whether anything can carry it."""
    lower, higher = _sum(facts, "lower"), _sum(facts, "higher")
    accuracy = "your scale's accuracy can't"
    if lower == higher and facts["form"]:
        facts["differs"] = f"{accuracy} rule out a customs form"
    elif not higher:
        facts["differs"] = f"{accuracy} rule out a weight that no service can carry"
    elif lower != higher:
        facts["differs"] = f"{accuracy} tell {lower} from {higher}"
    else:
        low, high = (service_words(str(facts[name])) for name in ("lower_service", "higher_service"))
        facts["differs"] = f"{accuracy} tell {low} from {high}"


def _field(facts: Facts) -> None:
    facts["words"] = field_words(str(facts["field"]))


def _older_list(facts: Facts) -> None:
    """Say which older list prices the piece where the newest one ends."""
    older = str(facts.get("older") or "")
    facts["older"] = f" We used the price list of {_day(older)}." if older else ""
    facts["check"] = "Check the price before you pay; it may be higher now." if older else ""


def _orders_shipped(facts: Facts) -> None:
    count = str(facts["count"])
    facts["orders"] = counted(int(count), "order") if count.isdecimal() else f"{count} orders"


def _smallest(facts: Facts) -> None:
    facts["thinnest"] = measure("0.007")


def _thick_or_large(facts: Facts) -> None:
    facts["thick"] = "" if facts.get("measure") == "face" else " thick"


def _how_overruled(facts: Facts) -> None:
    """Write where a mailer was set differently from its kind: in Setup, or by hand for one piece."""
    by_hand = facts.get("by_hand")
    facts["how"] = (
        "a rigid mailer marked as not rigid"
        if by_hand
        else f"set up differently from other mailers of its kind ({facts['kind']})"
    )
    facts["check"] = "Check that it bends." if by_hand else "Check Rigid and Paper outside in Setup > Mailers."


def _left_out(facts: Facts) -> None:
    """Report that there is no such order, or that it was left out because of its status."""
    status = facts.get("status")
    facts["why"] = (
        f"its order is marked \u201c{status}\u201d and was left out" if status else "no order with that number"
    )
    facts["check"] = "Don't mail it unless the status is wrong." if status else "Check the number on the package."


def _saves(facts: Facts) -> None:
    facts["orders"] = listed(list(_several(facts, "orders")))
    facts["saves"] = f" Sent together they save {_sum(facts, 'saved')} in postage." if facts["saved"] else ""


def _mailed_where(facts: Facts) -> None:
    facts["where"] = {"abroad": "to other countries", "overseas": "overseas"}.get(str(facts["where"]), facts["where"])


def _name_of_code(facts: Facts) -> str:
    """Return `ZIP code` for an address of domestic mail, else `Postal code`."""
    at_home = facts.get("country") in {country_in_words(code) for code in (HOME, *DOMESTIC_PLACES)}
    return "ZIP code" if at_home else "Postal code"


def _region_and_country(facts: Facts) -> None:
    """Write `NE` where the state alone says it, else `BC, Canada` or `France`."""
    at_home = facts["region"] and facts["country"] == country_in_words(HOME)
    names = ("region",) if at_home else ("region", "country")
    facts["where"] = ", ".join(str(facts[name]) for name in names if facts[name])


def _kind_of_code(facts: Facts) -> None:
    """Call it a ZIP code in the United States, and say where it belongs."""
    facts["code"] = _name_of_code(facts)
    _region_and_country(facts)


def _how_corrected(facts: Facts) -> None:
    """Write what was corrected in a code; a lost leading zero is that of a ZIP code, and needs no country."""
    lost_zero = facts["corrected"] == f"0{facts['typed']}"
    facts["code"] = "ZIP code" if lost_zero else _name_of_code(facts)
    facts["how"] = (
        f"to {facts['corrected']} (the leading zero was missing)"
        if lost_zero
        else f"from {facts['typed']} to {facts['corrected']}"
    )


def _limit_with_unit(facts: Facts) -> None:
    """Write a limit of money with its sign and a limit of weight or size with its unit."""
    unit, currency = str(facts["unit"]), str(facts.get("currency", ""))
    measured = unit in ("oz", "lb", "g", "kg", "in")
    limit = str(facts["limit"])
    facts["limit"] = measure(f"{limit} {unit}") if measured else sum_in_words(limit, currency or unit)
    if facts.get("kind") == Code.OVER_DIMENSIONAL_WEIGHT:
        facts["limit"] = f"{facts['limit']} and this size bills as {measure(str(facts['pounds']))} lb"


def _cover_in_its_money(facts: Facts) -> None:
    facts["cover"] = sum_in_words(str(facts["cover"]), str(facts["cover_currency"]))


def _paid(facts: Facts) -> None:
    facts["paid"] = sum_in_words(str(facts["paid"]), str(facts["paid_in"]))


def _origin(facts: Facts) -> None:
    facts["todo"] = (
        "Check the ZIP code. If it's right, import the post's zone chart for your own ZIP code."
        if facts["origin"]
        else "Enter your ZIP code in Setup > Sender."
    )
    facts["origin"] = facts["origin"] or "your ZIP code (missing in Setup > Sender)"
    facts["destination"] = facts["destination"] or "an address without a ZIP code"


def _unknown_products(facts: Facts) -> None:
    items = [f"\u201c{item}\u201d" for item in _several(facts, "items")]
    facts["items"], facts["todo"] = (
        (f"{items[0]} is", "Add it with its") if len(items) == 1 else (f"{listed(items)} are", "Add each with its")
    )


def _unknown_contents(facts: Facts) -> None:
    """Say that an order still has to be split into its packages, or that a line of it names no goods."""
    names_all = facts.get("listed", True)
    facts["contents"], facts["todo"] = (
        (f"This order ships in {facts['pieces']} packages.", "Say which items are in each.")
        if names_all
        else ("This order doesn't name everything in the package.", "Correct the order's items and import it again.")
    )


def _services_out(facts: Facts) -> None:
    """Write each service that was tried with the code of its reason: `letter, stamped: too small`."""
    pairs = zip(_several(facts, "tried"), _several(facts, "because"), strict=True)
    words = [f"{service_words(service)}: {issue_name(code)}" for service, code in pairs]
    facts["tried"] = "; ".join(words) or "none is allowed"


_WORDED: Mapping[Code, Callable[[Facts], None]] = {
    **CUSTOMS_WORDED,
    Code.HEAVIER_THAN_CONTENTS: too_heavy,
    Code.LIGHTER_THAN_CONTENTS: too_light,
    Code.SWAPPED_WITH: swapped,
    Code.ADDRESS_INCOMPLETE: _missing_parts,
    Code.ADDRESS_TOO_LONG: _part_of_address,
    Code.CHEAPEST_OF: _next_best,
    Code.COLUMN_NOT_TAKEN: _field,
    Code.FEE_UNCLEAR: _fee_sums,
    Code.KIND_OVERRULED: _how_overruled,
    Code.CONTENTS_UNKNOWN: _unknown_contents,
    Code.COVER_SHORT: _cover_in_its_money,
    Code.OVER_INCLUDED_COVER: _cover_in_its_money,
    Code.LATIN_LINE_MISSING: _latin_parts,
    Code.LIST_ENDS: _older_list,
    Code.MAILER_TOO_SMALL: _thick_or_large,
    Code.NEAR_A_STEP: _what_differs,
    Code.NO_ORDER: _left_out,
    Code.NO_SERVICE: _services_out,
    Code.NOT_ENOUGH_STAMPS: _what_to_buy,
    Code.ORDERS_SHIPPED: _orders_shipped,
    Code.OVER_SERVICE_LIMIT: _limit_with_unit,
    Code.PAID_NOT_COUNTED: _paid,
    Code.PRODUCT_UNKNOWN: _unknown_products,
    Code.POSTAL_CODE_MENDED: _how_corrected,
    Code.POSTAL_CODE_ODD: _kind_of_code,
    Code.RESTRICTED_GOODS: _mailed_where,
    Code.ROW_USED: _row,
    Code.SAME_DOOR: _saves,
    Code.SURCHARGE_ADDED: _surcharge,
    Code.TOO_SMALL: _smallest,
    Code.ZONE_UNKNOWN: _origin,
}
