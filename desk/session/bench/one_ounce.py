"""How far a stamped letter is from one ounce: under or over by how much, or too close to call."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.exact import plain
from desk.domain.finding import Code
from desk.domain.money import Money
from desk.domain.severity import Severity
from desk.domain.weight import OUNCE_G, Weight
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import amount_words, measure

ONE_OUNCE = Weight(OUNCE_G)
TWO_PLACES = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class OunceGlance:
    """Large words to be read from a distance, with their mark and what it costs."""

    words: str
    mark: Severity
    costs: str


def ounce_glance(verdict: Verdict) -> OunceGlance | None:
    """Return how far the piece is from one ounce; None for anything but a weighed, stamped letter."""
    offer = verdict.offer
    if offer is None or verdict.case.weighing is None or not offer.facts.one_ounce_letter:
        return None
    codes = {issue.code: issue for issue in verdict.findings}
    close = codes.get(Code.TOO_CLOSE_TO_CALL)
    if close is not None and close.facts.get("limit") == "1":
        return OunceGlance("Too close to 1 oz", Severity.STOP, "Weigh it on a finer scale")
    over = codes.get(Code.OVER_ONE_OUNCE)
    if over is not None:
        more = Money.of(str(over.facts["extra"]), offer.price.currency)
        return OunceGlance(
            measure(f"{over.facts['over_oz']} oz over 1 oz"),
            Severity.LOOK,
            f"{amount_words(more)} more than 1 oz",
        )
    if offer.weight > ONE_OUNCE:
        return OunceGlance("Close to 1 oz", Severity.LOOK, "Charged at the higher price")
    left = (Decimal(1) - offer.weight.ounces()).quantize(TWO_PLACES)
    return OunceGlance(measure(f"{plain(left)} oz under 1 oz") if left else "Exactly 1 oz", Severity.FINE, "")
