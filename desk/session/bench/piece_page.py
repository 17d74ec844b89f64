"""The page of one piece: every service with its price or why not, near savings, and size hints for the batch.

Only the page shows this, not the bench. Size hints are for the next order of mailers.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from desk.domain.exact import plain
from desk.domain.length import INCH_MM
from desk.domain.money import Money
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.rates.limits import REPORTED_WHEN_CHEAPER
from desk.rates.quote import Offer
from desk.rates.savings import Lighter, OtherWay, Smaller, lighter, other_ways, smaller
from desk.session.bench.service_choice import quote_of_all
from desk.session.pile.batch import Batch
from desk.session.setup.shop_texts import all_services
from desk.session.verdict.judge import posting_of
from desk.session.verdict.price_age import age_of
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words, measure
from desk.session.words.sentences import sentence
from desk.session.words.services import service_words

MOST_WAYS = 4
_WHAT = {
    "thickness": "no thicker than {} in",
    "face": "no larger than {} in",
    "length": "no longer than {} in",
    "volume": "no more than {} cubic inches",
}


@dataclass(frozen=True, slots=True)
class Offered:
    """A service that can carry the piece: its name, price, billed weight, price-list row and age."""

    service: str
    price: str
    billable: str
    row: str
    beside: str
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class RefusedService:
    """A service that can't carry the piece, and why."""

    service: str
    why: str


@dataclass(frozen=True, slots=True)
class PiecePage:
    """All services of one piece, cheapest first, then those that can't carry it with why, and near savings."""

    number: str
    near: str
    smaller: tuple[str, ...]
    other_ways: tuple[str, ...]
    offers: tuple[Offered, ...]
    left_out: tuple[RefusedService, ...]


@dataclass(frozen=True, slots=True)
class SizeHint:
    """How many pieces would pay less in another size of mailer, and the total saved."""

    mailer: str
    words: str
    pieces: int
    saves: Money


def piece_page(verdict: Verdict, terms: Terms) -> PiecePage:
    """Return the page of a piece; its lists are empty until it is weighed."""
    return PiecePage(
        number=verdict.case.number,
        near=near(verdict, terms),
        smaller=tuple(
            f"{_size_words(each)} would cost {amount_words(each.saves)} less" for each in _smaller(verdict, terms)
        ),
        other_ways=_other_ways(verdict, terms),
        offers=tuple(_offers(verdict, terms)),
        left_out=tuple(_left_out(verdict, terms)),
    )


def _offers(verdict: Verdict, terms: Terms) -> Iterator[Offered]:
    """Yield every service that can carry the piece, each once, cheapest first."""
    quoted = quote_of_all(verdict, terms)
    used = verdict.offer.service if verdict.offer else ""
    words = dict(all_services(terms.rulebook))
    for offer in {offer.service: offer for offer in (quoted.offers if quoted else ())}.values():
        yield _offered(offer, terms, words.get(offer.service, offer.service), is_chosen=offer.service == used)


def _left_out(verdict: Verdict, terms: Terms) -> Iterator[RefusedService]:
    """Yield the services that a limit leaves out, and the one chosen for the piece when it can't carry it."""
    quoted = quote_of_all(verdict, terms)
    words = dict(all_services(terms.rulebook))
    lines = [
        RefusedService(words.get(out.service, out.service), sentence(out.reason))
        for out in (quoted.out if quoted else ())
        if out.reason.code in REPORTED_WHEN_CHEAPER or out.service == verdict.case.service
    ]
    yield from {one.service: one for one in lines}.values()


def near(verdict: Verdict, terms: Terms) -> str:
    """Return `0.2 oz lighter would cost $0.29 less`; empty when nothing within an ounce would cost less."""
    weighing, quoted = verdict.case.weighing, verdict.quote
    if weighing is None or quoted is None or verdict.offer is None:
        return ""
    posting = posting_of(verdict.case, weighing, verdict.contents, terms)
    step = lighter(posting, quoted, terms.price_rules)
    if step is None:
        return ""
    saved = f"{_less_by(posting.gross, posting.weight, step)} lighter would cost {amount_words(step.saves)} less"
    return saved if step.service == verdict.offer.service else f"{saved}, as {service_words(step.service)}"


def size_hints(batch: Batch, terms: Terms) -> tuple[SizeHint, ...]:
    """Return what other mailer sizes would save over the batch, largest saving first.

    A size thinner than the thickest product in a piece is not suggested for it.
    """
    saved: dict[tuple[str, str], list[Money]] = defaultdict(list)
    for verdict in batch.verdicts:
        for each in _smaller(verdict, terms):
            saved[verdict.case.mailer_name, _size_words(each)].append(each.saves)
    hints = [SizeHint(mailer, words, len(each), sum(each[1:], each[0])) for (mailer, words), each in saved.items()]
    return tuple(sorted(hints, key=lambda hint: (-hint.saves.minor, hint.mailer, hint.words)))


def _offered(offer: Offer, terms: Terms, words: str, *, is_chosen: bool) -> Offered:
    billable = measure(f"{plain(offer.billable.figure)} {offer.billable.unit}")
    unit = "g" if offer.chart.bills_in is WeightUnit.GRAM else "oz"
    row = measure(f"up to {offer.row_label} {unit}") if offer.row else offer.row_label
    return Offered(words, amount_words(offer.price), billable, row, age_of(offer, terms.on).words, is_chosen)


def _smaller(verdict: Verdict, terms: Terms) -> tuple[Smaller, ...]:
    weighing, quoted = verdict.case.weighing, verdict.quote
    if weighing is None or quoted is None or verdict.offer is None:
        return ()
    posting = posting_of(verdict.case, weighing, verdict.contents, terms)
    thickest = _thickest(verdict)
    mailers = smaller(posting, quoted, terms.price_rules)
    return tuple(each for each in mailers if each.what != "thickness" or thickest <= Decimal(each.limit))


def _other_ways(verdict: Verdict, terms: Terms) -> tuple[str, ...]:
    """Return the prices by volume and in flat-rate packaging, each with its difference."""
    weighing, quoted = verdict.case.weighing, verdict.quote
    if weighing is None or quoted is None or verdict.offer is None:
        return ()
    posting = posting_of(verdict.case, weighing, verdict.contents, terms)
    return tuple(_way_words(way) for way in other_ways(posting, quoted, terms.price_rules)[:MOST_WAYS])


def _way_words(way: OtherWay) -> str:
    less = way.now.minor - way.price.minor
    difference = amount_words(Money(abs(less), way.now.currency))
    price = amount_words(way.price)
    if_it_fits = " if it fits" if way.packaging else ""
    compared = f"{difference} {'less' if less > 0 else 'more'}" if less else "the same"
    return f"{service_words(way.service)}{if_it_fits}: {price}, {compared}"


def _thickest(verdict: Verdict) -> Decimal:
    """Return the thickness of the thickest product inside, in inches; zero when unknown."""
    known = [product.thickness for product, _ in verdict.contents.products if product and product.thickness]
    return max((thickness.mm / INCH_MM for thickness in known), default=Decimal(0))


def _less_by(shown: Shown, weight: Weight, step: Lighter) -> str:
    """Return how much less the scale has to show for the lower price to be certain."""
    over = weight.grams + shown.step.grams / 2 - step.limit.grams
    steps = (over / shown.step.grams).to_integral_value(ROUND_CEILING)
    unit = shown.unit.counted_in.value
    return measure(f"{plain(max(steps, Decimal(1)) * shown.division)} {unit}")


def _size_words(each: Smaller) -> str:
    return measure(_WHAT[each.what].format(each.limit))
