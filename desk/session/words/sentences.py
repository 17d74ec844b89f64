"""The one catalogue that turns findings and reasons into sentences and ways out.

Window, keying sheet and tables all speak through it. `{name}` is a fact of the finding; a fact that is missing shows as
a dash, and a test over the demo makes sure that none is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from desk.domain.finding import Finding
from desk.session.words.customs import CUSTOMS
from desk.session.words.facts import (
    GOODS,
    SHAPES,
    WHY,
    country_in_words,
    day_in_words,
    domestic_place_in_words,
    fees_in_words,
    sum_in_words,
    tax_number_in_words,
    traits_in_words,
    why_in_words,
)
from desk.session.words.postage import POST
from desk.session.words.reasons import REASONS
from desk.session.words.services import service_words

# code -> (what is so, the way out)
CATALOGUE: Mapping[str, tuple[str, str]] = {
    **POST,
    **CUSTOMS,
    **REASONS,
    "no-weight": ("Nobody has weighed it yet.", "Put it on the scale, or type its weight."),
    "no-order": (
        "A weight stands here, and no order of that number.",
        "Look at the number on the parcel and weigh again.",
    ),
    "weighed-twice": (
        "Weighed twice: first {first}, then {then}. The later one counts.",
        "If the later one is wrong, weigh it once more.",
    ),
    "weighed-after-paid": (
        "Postage is already on, so {stays} stays. The new weighing ({came}) was not used.",
        "If the new one is right, take the postage off and weigh it again.",
    ),
    "kind-overruled": (
        "\u201c{mailer}\u201d is set up against its kind ({kind}).",
        "Check Rigid and Paper outside in Setup > Mailers.",
    ),
    "mailer-unknown": ("The shop has no mailer called {mailer}.", "Name one of the shop's mailers, or add this one."),
    "status-unsorted": (
        "Orders marked \u201c{status}\u201d are not sorted yet. Should they ship?",
        "Ship them, or don\u2019t. You decide once for this status.",
    ),
    "choice-unsorted": (
        "\u201c{choice}\u201d is not in your shipping choices yet.",
        "Say in Setup > Shipping choices which of your services it means.",
    ),
    "same-door": ("Orders {orders} go to one door.{saves}", "Pack them together, or leave them apart."),
    "stamp-asked": (
        "The buyer of {order} asks for a stamp: \u201c{note}\u201d.",
        "Weigh it: then what the stamp costs is known, and you say yes or no.",
    ),
    "product-unknown": (
        "The shop does not know: {items}.",
        "Add it to the products, with its weight and customs words.",
    ),
    "mailer-too-small": (
        "{product} is {contents_in} in thick, and the piece is said to be {outside_in} in.",
        "Name the mailer it is really in, or measure the piece.",
    ),
    "contents-unknown": (
        "The order goes in {pieces} pieces, and nobody said what is in which.",
        "Divide the goods between the declarations before they are keyed in.",
    ),
    "lighter-than-contents": (
        "Lighter than its contents: {shown_g} g where {expected_g} g are expected.",
        "Open it: something may be missing.",
    ),
    "heavier-than-contents": (
        "Heavier than its contents: {shown_g} g where {expected_g} g are expected.",
        "Open it: something may be in it twice.",
    ),
    "stamps-requested": (
        "The buyer asked for a stamp: as {service} it costs {postage}, and {refund} would go back.",
        "Say yes to send it so and owe the refund, or no.",
    ),
    "stamp-not-possible": (
        "The buyer asked for a stamp, but it cannot go as a stamped letter.",
        "Tell the buyer; it goes by {service}.",
    ),
    "charged-too-little": (
        "The buyer paid {charged} for shipping; it costs {spent}.",
        "Charge more for such an order next time.",
    ),
    "paid-not-counted": (
        "The buyer paid {paid} {paid_in} for shipping; without a rate it is left out of the margin.",
        "Give the shop file a dated rate for {paid_in}.",
    ),
    "over-included-cover": (
        "The goods are worth {value}; the price covers {cover} if it is lost.",
        "Add insurance at the counter or online if you want the rest covered.",
    ),
    "not-enough-stamps": (
        "The drawer cannot make {postage} with the stamps allowed on one piece.",
        "{would_do}",
    ),
}


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


OWN_WORDS = (
    "{service}",
    "{goods}",
)  # words of ours, written large where a sentence begins with them; names stay as typed
DAYS = ("alert_on", "rate_on", "until")


class _Facts(dict[str, object]):
    def __missing__(self, key: str) -> str:
        return "\u2014"


def sentence(found: Finding) -> str:
    """What is so, in one sentence; KeyError for a code that nobody has put into words."""
    words = CATALOGUE[found.code][0]
    text = words.format_map(_Facts(_in_words(found)))
    return text[:1].upper() + text[1:] if words.startswith(OWN_WORDS) else text


def way_out(found: Finding) -> str:
    """What to do about it; empty where nothing needs doing."""
    return CATALOGUE[found.code][1].format_map(_Facts(_in_words(found)))


def _in_words(found: Finding) -> Mapping[str, object]:
    """The facts, with those put into words that rules give as names of fields or codes, or leave empty."""
    facts: dict[str, object] = dict(found.facts)
    for name, words in _EVERYWHERE.items():
        if name in facts:
            facts[name] = words(str(facts[name]))
    if found.code in WHY:
        facts["why"] = why_in_words(found.code, str(facts.get("why", "")))
    if found.code in _WORDED:
        _WORDED[found.code](facts)
    return facts


def _day(text: str) -> str:
    try:
        return day_in_words(date.fromisoformat(text)) if text else "a day nobody knows"
    except ValueError:
        return text  # as the list has it


_EVERYWHERE: Mapping[str, Callable[[str], str]] = {  # facts that say the same whatever the code
    "country": country_in_words,
    "goods": lambda kind: GOODS.get(kind, kind),
    "service": service_words,
    "shape": lambda shape: SHAPES.get(shape, shape),
    "trait": traits_in_words,
    **dict.fromkeys(DAYS, _day),
}


def _missing_parts(facts: dict[str, object]) -> None:
    missing = str(facts["missing"]).split(", ")
    named = [PARTS.get(part, part) for part in missing]
    typed = facts["country_typed"] if "country" in missing else ""
    words = " and ".join(filter(None, [", ".join(named[:-1]), named[-1]]))
    facts["missing"] = f"{words} (nobody knows {typed!r})" if typed else words


def _what_to_buy(facts: dict[str, object]) -> None:
    buy = facts.get("would_do")
    facts["would_do"] = f"Get stamps that do: {buy}." if buy else "Allow more stamps on a piece, or pay another way."


def _sum(facts: Mapping[str, object], name: str) -> str:
    """A sum among the facts with its money; empty when there is none."""
    return sum_in_words(str(facts[name]), str(facts["currency"])) if facts[name] else ""


def _fee_sums(facts: dict[str, object]) -> None:
    facts["fees"] = fees_in_words(str(facts["fees"]))
    facts["lower"] = _sum(facts, "lower")
    facts["higher"] = _sum(facts, "higher") or "more: no list here shows the fee"


def _surcharge(facts: dict[str, object]) -> None:
    facts |= {"fee": fees_in_words(str(facts["fee"])), "amount": _sum(facts, "amount")}


def _next_best(facts: dict[str, object]) -> None:
    service = service_words(str(facts["next_service"]))
    facts["following"] = f"Next: {service} {_sum(facts, 'next_price')}." if service else "No other service takes it."


def _row(facts: dict[str, object]) -> None:
    """`$1.11 up to 2 oz, by the list of 12 July 2026`, with the zone or price group where it counts."""
    row = f"up to {facts['up_to']} {facts['unit']}" if facts["up_to"] else "for an oversized parcel"
    place = {"zone": "zone", "group": "price group"}.get(str(facts["keyed_by"]))
    facts["row"] = f"{row} in {place} {facts['key']}" if place else row
    facts["price"] = _sum(facts, "price")
    facts["effective"] = _day(str(facts["effective"]))


def _extra(facts: dict[str, object]) -> None:
    facts["extra"] = _sum(facts, "extra")


def _what_differs(facts: dict[str, object]) -> None:
    """Two prices, two services of one price, a customs form, or whether anything takes it at all."""
    lower, higher = _sum(facts, "lower"), _sum(facts, "higher")
    if lower == higher and facts["form"]:
        facts["differs"] = "it needs a customs form"
    elif not higher:
        facts["differs"] = f"it goes for {lower} or not at all"
    elif lower != higher:
        facts["differs"] = f"it costs {lower} or {higher}"
    else:
        names = (service_words(str(facts[name])) for name in ("lower_service", "higher_service"))
        facts["differs"] = f"it goes as {' or '.join(names)}"


def _saves(facts: dict[str, object]) -> None:
    facts["saves"] = f" In one piece they save {_sum(facts, 'saved')} of postage." if facts["saved"] else ""


def _barred_place(facts: dict[str, object]) -> None:
    whole = facts["why"] == "country"
    facts["where"] = facts["country"] if whole else f"that part of {facts['country']}"


def _region_and_country(facts: dict[str, object]) -> None:
    """`NE` where the state alone says it, else `BC, Canada` or `France`."""
    at_home = facts.get("region") and facts["country"] == country_in_words("US")
    named = ("region",) if at_home else ("region", "country")
    facts["where"] = ", ".join(str(facts[name]) for name in named if facts.get(name))


def _place_of_domestic_mail(facts: dict[str, object]) -> None:
    facts["place"] = domestic_place_in_words(str(facts["place"]))


def _first_day(facts: dict[str, object]) -> None:
    facts["effective"] = _day(str(facts["effective"]))


def _kind_of_number(facts: dict[str, object]) -> None:
    facts["kind"] = tax_number_in_words(str(facts["kind"]))


def _part_of_address(facts: dict[str, object]) -> None:
    facts["part"] = PARTS.get(str(facts["part"]), str(facts["part"])).capitalize()


def _unit_of_limit(facts: dict[str, object]) -> None:
    facts["unit"] = facts.get("unit") or facts.get("currency", "")
    if facts.get("kind") == "over-dimensional-weight":
        facts["unit"] = f"{facts['unit']}; its size bills as {facts['pounds']} lb"


def _count_of_codes(facts: dict[str, object]) -> None:
    facts["codes"] = "1 HS code" if facts["codes"] == 1 else f"{facts['codes']} HS codes"


def _no_origin(facts: dict[str, object]) -> None:
    facts["origin"] = facts["origin"] or "your ZIP code, which Setup lacks,"


def _services_out(facts: dict[str, object]) -> None:
    """`letter-stamped: under-size; flat: under-size` as `letter, stamped (under size); large envelope (under size)`."""
    pairs = [part.partition(": ") for part in str(facts["tried"]).split("; ") if part]
    words = [f"{service_words(service)} ({code.replace('-', ' ')})" for service, _, code in pairs]
    facts["tried"] = "; ".join(words) or "none is allowed for it"


_WORDED: Mapping[str, Callable[[dict[str, object]], None]] = {
    "address-incomplete": _missing_parts,
    "address-too-long": _part_of_address,
    "chart-out-of-date": _first_day,
    "cheapest-of": _next_best,
    "destination-barred": _barred_place,
    "eu-duty": _count_of_codes,
    "fee-unclear": _fee_sums,
    "form-may-be-needed": _place_of_domestic_mail,
    "near-a-step": _what_differs,
    "no-service": _services_out,
    "not-enough-stamps": _what_to_buy,
    "over-one-ounce": _extra,
    "over-service-limit": _unit_of_limit,
    "postal-code-odd": _region_and_country,
    "row-used": _row,
    "same-door": _saves,
    "surcharge-added": _surcharge,
    "tax-id-malformed": _kind_of_number,
    "tax-id-missing": _kind_of_number,
    "zone-unknown": _no_origin,
}
