"""The one catalogue that turns findings and reasons into sentences and ways out.

Window, keying sheet and tables all speak through it. `{name}` is a fact of the finding; a fact that is missing shows as
a dash, and a test over the demo makes sure that none is.
"""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.finding import Finding
from desk.session.sentences_customs import CUSTOMS
from desk.session.sentences_post import POST
from desk.session.sentences_reasons import REASONS
from desk.session.service_words import service_words

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
    "mailer-unknown": ("The shop has no mailer called {mailer}.", "Name one of the shop's mailers, or add this one."),
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


class _Facts(dict[str, object]):
    def __missing__(self, key: str) -> str:
        return "\u2014"


def sentence(found: Finding) -> str:
    """What is so, in one sentence; KeyError for a code that nobody has put into words."""
    return CATALOGUE[found.code][0].format_map(_Facts(_in_words(found)))


def way_out(found: Finding) -> str:
    """What to do about it; empty where nothing needs doing."""
    return CATALOGUE[found.code][1].format_map(_Facts(_in_words(found)))


def _in_words(found: Finding) -> Mapping[str, object]:
    """The facts, with those put into words that rules give as names of fields, or leave empty."""
    facts: dict[str, object] = dict(found.facts)
    if found.code == "address-incomplete":
        missing = str(facts["missing"]).split(", ")
        named = [PARTS.get(part, part) for part in missing]
        unknown = (
            f" (nobody knows {facts['country_typed']!r})" if "country" in missing and facts["country_typed"] else ""
        )
        facts["missing"] = " and ".join(filter(None, [", ".join(named[:-1]), named[-1]])) + unknown
    if found.code == "not-enough-stamps":
        buy = facts.get("would_do")
        facts["would_do"] = f"Get stamps that do: {buy}." if buy else "Allow more stamps on a piece, or pay another way."
    if found.code == "fee-unclear" and not facts["higher"]:
        facts["higher"] = "more: no list here shows the fee"
    if found.code == "cheapest-of":
        following = (
            f"Next: {service_words(str(facts['next_service']))} {facts['next_price']}." if facts["next_service"] else ""
        )
        facts["following"] = following or "No other service takes it."
    if found.code == "address-too-long":
        facts["part"] = PARTS.get(str(facts["part"]), str(facts["part"])).capitalize()
    if found.code == "over-service-limit" and not facts.get("unit"):
        facts["unit"] = facts.get("currency", "")
    if found.code == "eu-duty":
        facts["codes"] = "1 HS code" if facts["codes"] == 1 else f"{facts['codes']} HS codes"
    if "service" in facts:
        facts["service"] = service_words(str(facts["service"]))
    return facts
