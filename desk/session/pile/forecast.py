"""What waits to be weighed, foreseen: how many letters, flats, parcels, and how many go abroad.

Each piece is judged as if it weighed what its products and mailer do. Its mailer is the one named for it, else the one
the same contents went in last, else the smallest its products fit into by thickness.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from desk.domain.money import Money, zero
from desk.domain.orders.piece import Weighing
from desk.domain.places.country import is_abroad
from desk.domain.service import PostedAs
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.shop import Shop
from desk.domain.stands import Stand
from desk.domain.weight import Shown, WeightUnit
from desk.learning.expectation import expect
from desk.learning.parcel import Expected
from desk.session.pile.stamps_out import StampsOut
from desk.session.verdict.case import Case, contents_of
from desk.session.verdict.fitting import smallest_that_fits, usual_mailer
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict

TWO_SIDED_95 = Decimal("1.959964")  # the normal distribution's 97.5 % point
GRAM = Decimal(1)  # the step an expected weight is given in
Contents = tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Forecast:
    """How many pieces wait, by what they will be at home; `abroad` counts all that leave the country.

    `unknown` are those at home we can't predict: a product or its weight is not known, or no mailer fits. `postage`
    is the sum over all that could be priced, `priced` their number; `give_or_take` is how far off it may be, 19 times
    in 20, where past weighings say so. `to_buy` names the stamps that the drawer lacks for them and for what is weighed.
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
        """How many wait."""
        return self.letters + self.flats + self.parcels + self.abroad + self.unknown


Expecting = Callable[[Case, str], Expected | None]  # what past weighings say of a case in a mailer


def nothing_learned(_case: Case, _mailer: str) -> Expected | None:
    """Return None: nothing has been learned."""
    return None


def forecast(verdicts: Iterable[Verdict], terms: Terms, expecting: Expecting = nothing_learned) -> Forecast:
    """Foresee every piece that is to weigh, from those verdicts and from what the others were packed in.

    Its weight is what past weighings say, else what its products and mailer weigh as typed.
    """
    known = tuple(verdicts)
    usual = usual_mailers(verdict.case for verdict in known)
    currency = terms.shop.policy.currency
    told, variance = Forecast(postage=zero(currency)), Decimal(0)
    coming: list[Verdict] = []
    for verdict in known:
        if verdict.stands is Stand.TO_WEIGH:
            ways = _ways(verdict.case, terms, usual, expecting)
            told = _counted(told, verdict.case, ways[0][1] if ways else None)
            variance += _variance(ways)
            coming += [way for _, way in ways[:1] if way is not None]
    give_or_take = Money(round(TWO_SIDED_95 * variance.sqrt()), currency)
    return replace(told, give_or_take=give_or_take, to_buy=_to_buy([*known, *coming], terms))


def _to_buy(verdicts: Iterable[Verdict], terms: Terms) -> str:
    """The stamps that are missing for all of these, in words; empty when the drawer holds enough."""
    out = StampsOut(terms)
    out.hand_out(verdicts)
    shortage = out.shortage()
    return str(shortage.facts["would_do"]) if shortage is not None else ""


def _ways(
    case: Case, terms: Terms, usual: Mapping[Contents, str], expecting: Expecting
) -> list[tuple[Decimal, Verdict | None]]:
    """The verdicts on a piece at the weights it may have, each with its chance; the most likely first.

    Three points stand for a normal distribution: its middle, and 1.732 standard deviations to either side.
    """
    mailer = _mailer(case, terms.shop, usual)
    hoped = expecting(case, mailer.name) if mailer else None
    if mailer is None or hoped is None or not hoped.can_judge:
        return [(Decimal(1), foreseen(case, terms, usual))]
    reach = Decimal(hoped.variance * 3).sqrt()
    middle = Decimal(hoped.grams)
    points = ((Decimal(2) / 3, middle), (Decimal(1) / 6, middle - reach), (Decimal(1) / 6, middle + reach))
    return [(chance, _judged_at(case, grams, mailer, terms)) for chance, grams in points]


def _variance(ways: list[tuple[Decimal, Verdict | None]]) -> Decimal:
    """How much the postage may vary over its ways, in square minor units."""
    prices = [(chance, way.offer.price.minor) for chance, way in ways if way is not None and way.offer is not None]
    mean = sum((chance * price for chance, price in prices), Decimal(0))
    return (
        sum((chance * (price - mean) ** 2 for chance, price in prices), Decimal(0)) if len(prices) > 1 else Decimal(0)
    )


def foreseen(case: Case, terms: Terms, usual: Mapping[Contents, str]) -> Verdict | None:
    """The verdict on a piece if it weighs what is expected; None when a weight or its mailer is not known."""
    mailer = _mailer(case, terms.shop, usual)
    products = contents_of(case, terms.shop).products
    expected = expect(products, mailer, terms.shop.policy.insert_weight)
    if expected is None or mailer is None:
        return None
    return _judged_at(case, expected.gross.grams, mailer, terms)


def _judged_at(case: Case, grams: Decimal, mailer: Mailer, terms: Terms) -> Verdict:
    shown = Shown(max(grams.quantize(GRAM), GRAM), WeightUnit.GRAM, GRAM)
    return judge(replace(case, weighing=Weighing(shown, mailer.name)), terms)


def usual_mailers(cases: Iterable[Case]) -> dict[Contents, str]:
    """What each set of contents was weighed in last."""
    return {contents_key(case): case.mailer_name for case in cases if case.weighing and case.mailer_name}


def contents_key(case: Case) -> Contents:
    """What lies in a piece, whatever the order of its lines."""
    return tuple(sorted((line.sku or line.item, line.quantity) for line in case.order.lines))


def _counted(told: Forecast, case: Case, verdict: Verdict | None) -> Forecast:
    name = "abroad" if is_abroad(case.order.address.country) else _shape_word(verdict)
    told = replace(told, **{name: getattr(told, name) + 1})
    if verdict is None or verdict.offer is None:
        return told
    return replace(told, postage=told.postage + verdict.offer.price, priced=told.priced + 1)


def _shape_word(verdict: Verdict | None) -> str:
    """What it will pay as, which the service says better than the size: what has a flat's size may go as a parcel."""
    if verdict is None or verdict.offer is None:
        return "unknown"
    posted_as = verdict.offer.facts.posted_as
    if posted_as in (PostedAs.LETTER, PostedAs.POSTCARD):
        return "letters"
    return "flats" if posted_as is PostedAs.FLAT else "parcels"


def _mailer(case: Case, shop: Shop, usual: Mapping[Contents, str]) -> Mailer | None:
    """The mailer that was named, or used for the same contents, or that fits; none where a product is not known."""
    named = case.mailer_name or usual.get(contents_key(case), "")
    if known := (shop.mailer(named) if named else usual_mailer(case.order, shop)):
        return known
    is_known = all(shop.product_for(line) is not None for line in case.order.lines)
    fits = smallest_that_fits(case.order, shop) if is_known else None
    return fits if fits and fits.tare else None
