"""A forecast of what waits to be weighed: letters, flats, parcels, and pieces going abroad.

Each piece is judged at the weight of its products and mailer. Its mailer is the one chosen for it, else the last one
used for the same contents, else the smallest one thick enough for its products.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from itertools import chain
from typing import Protocol

from desk.domain.money import Money, zero
from desk.domain.orders.piece import Weighing
from desk.domain.places.country import is_abroad
from desk.domain.service import PostedAs
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.shop import Shop
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.learning.expectation import expect
from desk.learning.parcel import Expected
from desk.session.pile.stamps_out import StampsOut
from desk.session.verdict.case import Case, contents_of
from desk.session.verdict.default_mailer import smallest_that_fits, usual_mailer
from desk.session.verdict.judge import judge
from desk.session.verdict.postage_odds import PostageOdds, postage_odds
from desk.session.verdict.verdict import Terms, Verdict

TWO_SIDED_95 = 1.959964  # the 97.5% point of the normal distribution
GRAM = Decimal(1)  # the step of an expected weight
Contents = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Forecast:
    """The number of waiting pieces by expected shape, for domestic mail; `abroad` counts all international ones.

    `unknown` are domestic pieces we can't predict: a product or its weight is unknown, or no mailer fits. `postage` is
    the sum over all that could be priced, `priced` their number; `give_or_take` is its 95% margin, from past
    weighings. `to_buy` names the stamps missing for these and for weighed pieces.
    """

    letters: int = 0
    flats: int = 0
    parcels: int = 0
    abroad: int = 0
    unknown: int = 0
    postage: Money = field(default_factory=zero)
    priced: int = 0
    give_or_take: Money = field(default_factory=zero)
    to_buy: str = ""

    @property
    def pieces(self) -> int:
        """The number of waiting pieces."""
        return self.letters + self.flats + self.parcels + self.abroad + self.unknown


class Foresight(Protocol):
    """What was learned from past weighings, as far as a forecast needs it."""

    def expecting(self, case: Case, mailer: str) -> Expected | None:
        """Return the expected reading of a case in a mailer; None where nothing is learned."""
        ...

    def shared_variance(self, parts: Sequence[tuple[Case, str, float]]) -> float:
        """Return what uncertain weights that cases in mailers share add to the variance of a weighted sum."""
        ...


class NothingLearned:
    """A foresight that knows nothing."""

    def expecting(self, _case: Case, _mailer: str) -> Expected | None:
        """Return None."""
        return None

    def shared_variance(self, _parts: Sequence[tuple[Case, str, float]]) -> float:
        """Return 0."""
        return 0.0


@dataclass(frozen=True, slots=True)
class _Foreseen:
    """One piece at its likeliest weight, and what it may cost; without odds only that price is known."""

    verdict: Verdict | None
    odds: PostageOdds | None = None
    mailer: str = ""


def forecast(
    verdicts: Iterable[Verdict], terms: Terms, foresight: Foresight | None = None, before: Iterable[Case] = ()
) -> Forecast:
    """Forecast every unweighed piece, using how the weighed ones, and those weighed `before`, were packed.

    The weight is the one learned from past weighings, else the typed weights of products and mailer. Pieces with the
    same product or mailer err together, so their errors are not independent.
    """
    known, learned = tuple(verdicts), foresight or NothingLearned()
    usual = usual_mailers(chain(before, (verdict.case for verdict in known)))
    currency = terms.shop.policy.currency
    waiting = [verdict.case for verdict in known if verdict.status is PieceStatus.TO_WEIGH]
    foreseen = [_foreseen(case, terms, usual, learned) for case in waiting]
    sums = Forecast(postage=zero(currency))
    for case, one in zip(waiting, foreseen, strict=True):
        sums = _counted(sums, case, one)
    uncertain = [(case, one.mailer, one.odds) for case, one in zip(waiting, foreseen, strict=True) if one.odds]
    variance = sum(odds.variance() for _, _, odds in uncertain)
    variance += learned.shared_variance([(case, mailer, odds.slope()) for case, mailer, odds in uncertain])
    coming = [one.verdict for one in foreseen if one.verdict is not None]
    give_or_take = Money(round(TWO_SIDED_95 * max(variance, 0.0) ** 0.5), currency)
    return replace(sums, give_or_take=give_or_take, to_buy=_to_buy([*known, *coming], terms))


def _to_buy(verdicts: Iterable[Verdict], terms: Terms) -> str:
    """Return the stamps to buy for all of these, in words; empty when there are enough."""
    out = StampsOut(terms)
    out.hand_out(verdicts)
    shortage = out.shortage()
    return str(shortage.facts["would_do"]) if shortage is not None else ""


def _foreseen(case: Case, terms: Terms, usual: Mapping[Contents, str], learned: Foresight) -> _Foreseen:
    mailer = _mailer(case, terms.shop, usual)
    hoped = learned.expecting(case, mailer.name) if mailer else None
    if mailer is None or hoped is None or not hoped.can_judge:
        return _Foreseen(foreseen(case, terms, usual))
    likeliest = judged_at(case, Decimal(hoped.grams), mailer.name, terms)
    return _Foreseen(likeliest, postage_odds(likeliest, hoped, terms), mailer.name)


def foreseen(case: Case, terms: Terms, usual: Mapping[Contents, str]) -> Verdict | None:
    """Return the verdict on a piece at its expected weight; None when a weight or its mailer is unknown."""
    mailer = _mailer(case, terms.shop, usual)
    products = contents_of(case, terms.shop).products
    expected = expect(products, mailer, terms.shop.policy.insert_weight)
    if expected is None or mailer is None:
        return None
    return judged_at(case, expected.gross.grams, mailer.name, terms)


def judged_at(case: Case, grams: Decimal, mailer: str, terms: Terms) -> Verdict:
    """Return the verdict on a piece as if it weighed that much, to the gram, in that mailer."""
    shown = Shown(max(grams.quantize(GRAM), GRAM), WeightUnit.GRAM, GRAM)
    return judge(replace(case, weighing=Weighing(shown, mailer)), terms)


def usual_mailers(cases: Iterable[Case]) -> dict[Contents, str]:
    """Return the mailer each set of contents was last weighed in."""
    return {contents_key(case): case.mailer_name for case in cases if case.weighing and case.mailer_name}


def contents_key(case: Case) -> Contents:
    """Return a key for the contents of a piece that ignores the order of its lines."""
    return tuple(sorted((line.sku or line.item, line.quantity) for line in case.order.lines))


def _counted(sums: Forecast, case: Case, one: _Foreseen) -> Forecast:
    verdict = one.verdict
    name = "abroad" if is_abroad(case.order.address.country) else _shape_word(verdict)
    sums = replace(sums, **{name: getattr(sums, name) + 1})
    if verdict is None or verdict.offer is None:
        return sums
    price = verdict.offer.price if one.odds is None else Money(round(one.odds.mean()), sums.postage.currency)
    return replace(sums, postage=sums.postage + price, priced=sums.priced + 1)


def _shape_word(verdict: Verdict | None) -> str:
    """Return the shape it will pay as; by service, since a large envelope's size may go as a parcel."""
    if verdict is None or verdict.offer is None:
        return "unknown"
    posted_as = verdict.offer.facts.posted_as
    if posted_as in (PostedAs.LETTER, PostedAs.POSTCARD):
        return "letters"
    return "flats" if posted_as is PostedAs.FLAT else "parcels"


def _mailer(case: Case, shop: Shop, usual: Mapping[Contents, str]) -> Mailer | None:
    """Return the mailer chosen, or used for the same contents, or that fits; None where a product is unknown."""
    named = case.mailer_name or usual.get(contents_key(case), "")
    if known := (shop.mailer(named) if named else usual_mailer(case.order, shop)):
        return known
    is_known = all(shop.product_for(line) is not None for line in case.order.lines)
    fits = smallest_that_fits(case.order, shop) if is_known else None
    return fits if fits and fits.tare else None
