"""What the pictures of Costs show: packages by state and country, weights with the price steps, paid and estimated.

Each picture is a table first: its rows, and a sentence for those who can't see it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, Decimal

from desk.domain.exact import short
from desk.domain.ledger import GroupBy
from desk.domain.money import Money
from desk.domain.places.states import state_name
from desk.session.money.books import read_sums
from desk.session.money.group_words import country_in_words
from desk.session.pile.earlier import LATEST, ids_weighed_last
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import amount_words, counted, listed, number_in_words
from desk.session.words.services import service_words
from desk.store.tables.ledger_sums import PaidAgainst, paid_against_estimated

MOST_BARS = 40
WIDTHS = tuple(Decimal(one) for one in ("0.1", "0.25", "0.5", "1", "2", "4", "8", "16", "32"))  # of a bar, in ounces
Span = tuple[date, date]


@dataclass(frozen=True, slots=True)
class PlaceCount:
    """How many packages went to a place: its code, its name, and its share from 0 to 1."""

    code: str
    name: str
    count: int
    share: float


@dataclass(frozen=True, slots=True)
class WeightBar:
    """How many packages weigh more than `above` and at most `to` ounces."""

    above: Decimal
    to: Decimal
    count: int


@dataclass(frozen=True, slots=True)
class PriceStep:
    """The upper weight of a row of the price list in ounces, its price, and how many packages are charged by it."""

    to: Decimal
    price: Money
    count: int


@dataclass(frozen=True, slots=True)
class WeightSpread:
    """The weights of one service's packages, with the price steps of the zone that most of them go to."""

    service: str
    zone: str
    bars: tuple[WeightBar, ...] = ()
    steps: tuple[PriceStep, ...] = ()

    @property
    def count(self) -> int:
        """Return the number of packages."""
        return sum(bar.count for bar in self.bars)


@dataclass(frozen=True, slots=True)
class PaidLine:
    """The sums of one service's packages whose paid postage is known, and how many cost more or less."""

    service: str
    packages: int
    estimated: Money
    paid: Money
    more: int
    less: int


def places(sitting: Sitting, by: GroupBy, span: Span, currency: str) -> tuple[PlaceCount, ...]:
    """Return the states or countries packages went to, most first."""
    name = state_name if by is GroupBy.STATE else country_in_words
    lines = [line for line in read_sums(sitting, by, *span) if line.group and line.packages]
    counts: Counter[str] = Counter()
    for line in lines:
        counts[line.group] += line.packages if line.currency == currency else 0
    whole = counts.total()
    ordered = sorted(counts.items(), key=lambda one: (-one[1], one[0]))
    return tuple(PlaceCount(code, name(code), count, count / whole) for code, count in ordered if count)


def place_words(places: Sequence[PlaceCount], one: str, many: str) -> str:
    """Return where most packages went, in a sentence; empty without any."""
    if not places:
        return ""
    first = listed([f"{place.name} ({place.count})" for place in places[:3]])
    whole = counted(sum(place.count for place in places), "package")
    return f"{whole} to {counted(len(places), one, many)}. Most went to {first}."


def services_weighed(pile: Pile) -> tuple[str, ...]:
    """Return the services of the packages weighed last, the most used first."""
    counts = Counter(verdict.offer.service for verdict in _weighed(pile) if verdict.offer)
    return tuple(service for service, _ in sorted(counts.items(), key=lambda one: (-one[1], one[0])))


def weight_spread(pile: Pile, service: str) -> WeightSpread:
    """Return the weights of a service's latest packages in bars of one width, and the price steps up to the heaviest."""
    fitting = [verdict for verdict in _weighed(pile) if verdict.offer and verdict.offer.service == service]
    ounces = sorted(one.case.weighing.shown.weight.ounces() for one in fitting if one.case.weighing)
    if not ounces:
        return WeightSpread(service, "")
    width = next((one for one in WIDTHS if ounces[-1] / one <= MOST_BARS), WIDTHS[-1])
    counts = Counter(int((weight / width).to_integral_value(ROUND_CEILING)) for weight in ounces)
    bars = tuple(WeightBar((n - 1) * width, n * width, counts[n]) for n in range(1, max(counts) + 1))
    zone, _ = Counter(verdict.offer.key for verdict in fitting if verdict.offer).most_common(1)[0]
    return WeightSpread(service, zone, bars, _steps(fitting, zone))


def _steps(fitting: Sequence[Verdict], zone: str) -> tuple[PriceStep, ...]:
    """Return the rows of the newest list in use, up to the first that holds the heaviest package.

    A package too close to call is in the step it is charged for.
    """
    weights = [verdict.offer.weight for verdict in fitting if verdict.offer]
    charts = {verdict.offer.chart for verdict in fitting if verdict.offer}
    newest = max(charts, key=lambda chart: chart.effective)
    steps, before = [], 0
    for row in newest.rows.get(zone, ()):
        through = sum(weight <= row.max_weight for weight in weights)
        steps.append(PriceStep(row.max_weight.ounces(), row.price, through - before))
        before = through
        if before == len(weights):
            break
    return tuple(steps)


def spread_words(spread: WeightSpread) -> str:
    """Return the spread in a sentence; empty without packages."""
    if not spread.count:
        return ""
    heaviest = max(bar.to for bar in spread.bars if bar.count)
    words = f"{counted(spread.count, 'package')}, {service_words(spread.service)}, up to {short(heaviest)} oz."
    if not spread.steps:
        return words
    most = max(spread.steps, key=lambda step: step.count)
    group = f"The largest group ({number_in_words(most.count)})"
    return f"{words} {group} is in the step up to {short(most.to)} oz, at {amount_words(most.price)}."


def paid_points(sitting: Sitting, span: Span, currency: str) -> list[PaidAgainst]:
    """Return the packages of one currency whose paid postage is known, with the estimate."""
    with sitting.store.reading() as conn:
        points = paid_against_estimated(conn, *span)
    return [one for one in points if one.currency == currency]


def paid_lines(points: Iterable[PaidAgainst]) -> tuple[PaidLine, ...]:
    """Return the sums by service, the largest difference first."""
    groups: dict[tuple[str, str], list[PaidAgainst]] = defaultdict(list)
    for one in points:
        groups[one.service, one.currency].append(one)
    lines = [_paid_line(service, currency, some) for (service, currency), some in groups.items()]
    return tuple(sorted(lines, key=lambda line: (-abs((line.paid - line.estimated).minor), line.service)))


def _paid_line(service: str, currency: str, some: Sequence[PaidAgainst]) -> PaidLine:
    estimated, paid = sum(one.estimated for one in some), sum(one.paid for one in some)
    more, less = sum(one.paid > one.estimated for one in some), sum(one.paid < one.estimated for one in some)
    return PaidLine(service, len(some), Money(estimated, currency), Money(paid, currency), more, less)


def paid_words(lines: Sequence[PaidLine]) -> str:
    """Return all packages in a sentence; empty without any."""
    if not lines:
        return ""
    packages, more, less = (sum(getattr(line, name) for line in lines) for name in ("packages", "more", "less"))
    estimated = Money(sum(line.estimated.minor for line in lines), lines[0].paid.currency)
    paid = Money(sum(line.paid.minor for line in lines), lines[0].paid.currency)
    sums = f"estimated {amount_words(estimated)}, paid {amount_words(paid)}"
    return f"{counted(packages, 'package')}: {sums}. {more} cost more than estimated, {less} less."


def _weighed(pile: Pile) -> Iterable[Verdict]:
    """Return the packages weighed last that are in the pile; it may hold others too, whatever was opened before."""
    verdicts = (pile.verdicts.get(number) for number in ids_weighed_last(pile.sitting, LATEST))
    return (one for one in verdicts if one and one.case.weighing is not None and one.offer is not None)
