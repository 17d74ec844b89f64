"""A forecast of what waits to be weighed: letters, flats, parcels, and pieces going abroad.

Each piece is judged at the weight of its products and mailer. Its mailer is the one chosen for it, else the last one
used for the same contents, else the smallest one thick enough for its products.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from itertools import chain

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
from desk.session.verdict.verdict import Terms, Verdict

TWO_SIDED_95 = Decimal("1.959964")  # the 97.5% point of the normal distribution
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


Expecting = Callable[[Case, str], Expected | None]  # the learned weight of a case in a mailer


def nothing_learned(_case: Case, _mailer: str) -> Expected | None:
    """Return None: nothing has been learned."""
    return None


def forecast(
    verdicts: Iterable[Verdict], terms: Terms, expecting: Expecting = nothing_learned, before: Iterable[Case] = ()
) -> Forecast:
    """Forecast every unweighed piece, using how the weighed ones, and those weighed `before`, were packed.

    The weight is the one learned from past weighings, else the typed weights of products and mailer.
    """
    known = tuple(verdicts)
    usual = usual_mailers(chain(before, (verdict.case for verdict in known)))
    currency = terms.shop.policy.currency
    told, variance = Forecast(postage=zero(currency)), Decimal(0)
    coming: list[Verdict] = []
    for verdict in known:
        if verdict.status is PieceStatus.TO_WEIGH:
            ways = _ways(verdict.case, terms, usual, expecting)
            told = _counted(told, verdict.case, ways[0][1] if ways else None)
            variance += _variance(ways)
            coming += [way for _, way in ways[:1] if way is not None]
    give_or_take = Money(round(TWO_SIDED_95 * variance.sqrt()), currency)
    return replace(told, give_or_take=give_or_take, to_buy=_to_buy([*known, *coming], terms))


def _to_buy(verdicts: Iterable[Verdict], terms: Terms) -> str:
    """Return the stamps to buy for all of these, in words; empty when there are enough."""
    out = StampsOut(terms)
    out.hand_out(verdicts)
    shortage = out.shortage()
    return str(shortage.facts["would_do"]) if shortage is not None else ""


def _ways(
    case: Case, terms: Terms, usual: Mapping[Contents, str], expecting: Expecting
) -> list[tuple[Decimal, Verdict | None]]:
    """Return the verdicts on a piece at its possible weights, each with its probability; the most likely first.

    Three points represent a normal distribution: its mean, and 1.732 standard deviations to either side.
    """
    mailer = _mailer(case, terms.shop, usual)
    hoped = expecting(case, mailer.name) if mailer else None
    if mailer is None or hoped is None or not hoped.can_judge:
        return [(Decimal(1), foreseen(case, terms, usual))]
    reach = Decimal(hoped.variance * 3).sqrt()
    middle = Decimal(hoped.grams)
    points = ((Decimal(2) / 3, middle), (Decimal(1) / 6, middle - reach), (Decimal(1) / 6, middle + reach))
    return [(chance, judged_at(case, grams, mailer.name, terms)) for chance, grams in points]


def _variance(ways: list[tuple[Decimal, Verdict | None]]) -> Decimal:
    """Return the variance of the postage over its possible weights, in square minor units."""
    prices = [(chance, way.offer.price.minor) for chance, way in ways if way is not None and way.offer is not None]
    mean = sum((chance * price for chance, price in prices), Decimal(0))
    return (
        sum((chance * (price - mean) ** 2 for chance, price in prices), Decimal(0)) if len(prices) > 1 else Decimal(0)
    )


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


def _counted(told: Forecast, case: Case, verdict: Verdict | None) -> Forecast:
    name = "abroad" if is_abroad(case.order.address.country) else _shape_word(verdict)
    told = replace(told, **{name: getattr(told, name) + 1})
    if verdict is None or verdict.offer is None:
        return told
    return replace(told, postage=told.postage + verdict.offer.price, priced=told.priced + 1)


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
