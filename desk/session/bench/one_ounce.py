"""The one-ounce question of a stamped letter in one glance: under or over by how much, or too close to call."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.exact import plain
from desk.domain.finding import Code
from desk.domain.money import Money
from desk.domain.weight import OUNCE_G, Weight
from desk.session.verdict.verdict import Verdict

ONE_OUNCE = Weight(OUNCE_G)
TWO_PLACES = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class OunceGlance:
    """A few large words, their mark (`fine`, `look`, `stop`), and what that costs."""

    words: str
    mark: str
    costs: str


def ounce_glance(verdict: Verdict) -> OunceGlance | None:
    """The answer; None for what is no stamped letter, or is not weighed."""
    offer = verdict.offer
    if offer is None or verdict.case.weighing is None or not offer.facts.one_ounce_letter:
        return None
    codes = {found.code: found for found in verdict.findings}
    close = codes.get(Code.TOO_CLOSE_TO_CALL)
    if close is not None and close.facts.get("limit") == "1":
        return OunceGlance("Too close", "stop", "Too close to one ounce to call.")
    over = codes.get(Code.OVER_ONE_OUNCE)
    if over is not None:
        more = Money.of(str(over.facts["extra"]), offer.price.currency)
        return OunceGlance(f"Over by {over.facts['over_oz']} oz", "look", f"{_amount(more)} more than one ounce.")
    if offer.weight > ONE_OUNCE:
        return OunceGlance("Near one ounce", "look", "The dearer step is taken.")
    left = (Decimal(1) - offer.weight.ounces()).quantize(TWO_PLACES)
    return OunceGlance(f"Under by {plain(left)} oz" if left else "Just one ounce", "fine", "The price of one ounce.")


def _amount(money: Money) -> str:
    return (
        f"{money.minor} cents" if money.currency == "USD" and money.minor < 100 else f"{money.text()} {money.currency}"
    )
