"""The daily check of the scale: put on a known weight; the error is given in divisions.

Coin weights: United States Mint, Coin Specifications (from memory); five quarters are 28.350 g, one ounce within half a
milligram. The tolerance is that of NIST Handbook 44, section 2.20, Table 6, class III; see `desk.rates.doubt`. Wear of
coins in circulation below what a bench scale shows, and a minimum of ten divisions for a check: common practice, no
source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.faults import Refused
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.rates.doubt import tolerance_divisions
from desk.session.pile.stored_cases import read_terms
from desk.session.scale.step_rule import read_weight
from desk.session.sitting import Sitting
from desk.session.verdict.scale_trust import SCALE_CHECK, ScaleTrust
from desk.session.words.figures import counted, moment_in_words, number_in_words
from desk.store.tables import settings
from desk.store.times import from_utc_text, to_utc_text

COINS = {  # name, plural, grams of one
    "quarter": ("quarters", Decimal("5.670")),
    "nickel": ("nickels", Decimal("5.000")),
    "dime": ("dimes", Decimal("2.268")),
    "cent": ("cents", Decimal("2.500")),
    "half dollar": ("half dollars", Decimal("11.340")),
}
SCALE_CHECKS = "scale checks"
KEPT = 30
FEWEST_DIVISIONS = 10
MOST_COINS = 500
_HALF = Decimal("0.5")
_TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class CheckWeight:
    """Something whose weight is known."""

    words: str
    weight: Weight


@dataclass(frozen=True, slots=True)
class ScaleCheck:
    """One check: time (UTC text), weight used, display, error and tolerance in divisions."""

    at: str
    words: str
    shown: Shown
    error: Decimal
    tolerance: Decimal

    @property
    def inside(self) -> bool:
        """True when the error is within the tolerance of a class III scale in use."""
        return abs(self.error) <= self.tolerance

    @property
    def narrows(self) -> bool:
        """True when it is within the tolerance of a new scale: the band of doubt is halved for that day."""
        return abs(self.error) <= self.tolerance * _HALF

    def sentence(self) -> str:
        """Return the result of the check and what to do."""
        error = number_in_words(abs(self.error).quantize(_TENTH))
        off = f"{self.words}: the scale is off by {error} {'step' if error == '1' else 'steps'}"
        if self.narrows:
            return f"{off}. Good: for today its tolerance is halved."
        allowed = f"{number_in_words(self.tolerance)} allowed"
        if self.inside:
            return f"{off}, {allowed} for a class III scale in use. Its tolerance stays as it is."
        return f"{off}, more than the {allowed} for a class III scale. Zero it and check again, or have it adjusted."


@dataclass(frozen=True, slots=True)
class ScaleChecks:
    """The saved checks, newest first."""

    kept: tuple[ScaleCheck, ...] = ()


def coins(name: str, count: int) -> CheckWeight:
    """Return a number of coins as a check weight; Refused for an unlikely count, KeyError for an unknown coin."""
    if not 1 <= count <= MOST_COINS:
        raise Refused(f"Expected a number of coins from 1 to {MOST_COINS}.")
    plural, grams = COINS[name]
    return CheckWeight(counted(count, name, plural), Weight(grams * count))


def own_weight(text: str) -> CheckWeight:
    """Return your own check weight, typed as `200 g` or `1 lb`; Refused when it can't be read."""
    return CheckWeight(" ".join(text.split()), read_weight(text, WeightUnit.GRAM).weight)


def error_of(shown: Shown, true: CheckWeight, *, rounds_up: bool = False) -> Decimal:
    """Return the error in divisions, exact; negative when the scale reads low.

    A scale that rounds up shows half a division more than the middle of its step; that is not an error.
    """
    return (shown.weight.grams - true.weight.grams) / shown.step.grams - (_HALF if rounds_up else 0)


def check_scale(sitting: Sitting, shown: Shown, true: CheckWeight) -> ScaleCheck:
    """Save a check; Refused when the weight is too light for the scale's step."""
    if true.weight.grams < FEWEST_DIVISIONS * shown.step.grams:
        least = Weight(FEWEST_DIVISIONS * shown.step.grams).in_unit(shown.unit)
        unit = shown.unit.counted_in.value
        raise Refused(
            f"{true.words} is too light to check a scale of this step. Put on {number_in_words(least)} {unit} or more."
        )
    at, up = to_utc_text(sitting.clock.now()), read_terms(sitting).shop.policy.scale_rounds_up
    check = ScaleCheck(at, true.words, shown, error_of(shown, true, rounds_up=up), tolerance_divisions(shown))
    with sitting.store.act(f"Scale checked with {true.words}") as tx:
        before = settings.read(tx.conn, SCALE_CHECKS, ScaleChecks())
        settings.write(tx, SCALE_CHECKS, ScaleChecks((check, *before.kept)[:KEPT]))
        settings.write(tx, SCALE_CHECK, ScaleTrust(at, check.error, check.narrows))
    sitting.announce(sitting.store.last_changes)
    return check


def scale_checks(sitting: Sitting) -> tuple[ScaleCheck, ...]:
    """Return the saved checks, newest first."""
    with sitting.store.reading() as conn:
        return settings.read(conn, SCALE_CHECKS, ScaleChecks()).kept


def checked_on(check: ScaleCheck) -> str:
    """Return the local date and time of a check."""
    moment = from_utc_text(check.at)
    return moment_in_words(moment) if moment else ""
