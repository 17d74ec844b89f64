"""Stamp plan: stamp a whole batch from one drawer, exactly: the most pieces paid, at the least overpayment.

Choosing the best set piece by piece wastes stamps that later pieces need. Here every need (a postage, and which stamps
may pay it) lists its sets of a few stamps, and an integer program picks how many pieces get each set. Goals in order:
most pieces paid, fewest nonmachinable stamps on letters without that surcharge, least overpaid, fewest scarce stamps,
fewest stamps. A kind is scarce when the drawer has fewer of it than there are pieces to stamp.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamps import StampCount, StampSet, choose_stamps, usable_stamps

MOST_SEARCHED = 6  # stamps in a set when the shop sets no limit; larger sets come from `choose_stamps`
_MOST_SETS = 200  # for one need, best first


@dataclass(frozen=True, slots=True)
class StampNeed:
    """What one piece needs: its postage, and which stamps suit it."""

    postage: Money
    abroad: bool = False
    nonmachinable: bool = False


@dataclass(frozen=True, slots=True)
class _Choice:
    """One set for a need: how many of each stock, and its cost in each goal, in order."""

    used: tuple[int, ...]
    misused: int
    overpaid: int
    scarce: int
    stamps: int

    @property
    def cost(self) -> tuple[int, int, int, int]:
        return self.misused, self.overpaid, self.scarce, self.stamps


@dataclass(frozen=True, slots=True)
class StampPlan:
    """For each need its sets with the number of pieces that get each, best first; and how many pieces get none."""

    sets: Mapping[StampNeed, tuple[tuple[StampSet, int], ...]]
    short: Mapping[StampNeed, int]


def plan_stamps(
    needs: Mapping[StampNeed, int],
    drawer: Sequence[StampStock],
    values: Mapping[StampKind, Money],
    most: int | None = None,
) -> StampPlan:
    """Return the best way to pay `needs` (number of pieces for each) from the drawer, with at most `most` stamps each."""
    pieces = sum(needs.values())
    scarce = tuple(stock.count < pieces for stock in drawer)
    choices = {need: _choices(need, tuple(drawer), values, most, scarce) for need in needs}
    counts = _at_their_best(needs, choices, drawer) or _solved(needs, choices, drawer)
    sets = {
        need: tuple((_set(choice, need, drawer, values), number) for choice, number in counts[need]) for need in needs
    }
    short = {need: asked - sum(number for _, number in counts[need]) for need, asked in needs.items()}
    return StampPlan(sets, {need: missing for need, missing in short.items() if missing})


_Counts = Mapping[StampNeed, Sequence[tuple[_Choice, int]]]


def _at_their_best(
    needs: Mapping[StampNeed, int], choices: Mapping[StampNeed, Sequence[_Choice]], drawer: Sequence[StampStock]
) -> _Counts | None:
    """Return every piece's own best set, the best of all plans if the drawer holds enough; else None."""
    used: Counter[int] = Counter()
    for need, asked in needs.items():
        if not choices[need]:
            return None
        for place, number in enumerate(choices[need][0].used):
            used[place] += number * asked
    if any(number > drawer[place].count for place, number in used.items()):
        return None
    return {need: [(choices[need][0], asked)] for need, asked in needs.items()}


def _solved(
    needs: Mapping[StampNeed, int], choices: Mapping[StampNeed, Sequence[_Choice]], drawer: Sequence[StampStock]
) -> _Counts:
    """Solve the integer program goal by goal; each goal keeps what the previous ones reached."""
    import highspy  # slow to load, and needed only when the drawer runs short

    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("mip_rel_gap", 0)  # exact: the default gap of 1 in 10,000 is some cents on a large batch
    taken = {
        (need, place): solver.addIntegral(0, asked)
        for need, asked in needs.items()
        for place in range(len(choices[need]))
    }
    if not taken:
        return {need: [] for need in needs}
    for need, asked in needs.items():
        if choices[need]:
            solver.addConstr(sum(taken[need, place] for place in range(len(choices[need]))) <= asked)
    for stock, one in enumerate(drawer):
        used = [
            choices[need][place].used[stock] * amount
            for (need, place), amount in taken.items()
            if choices[need][place].used[stock]
        ]
        if used:
            solver.addConstr(sum(used) <= one.count)
    solver.maximize(sum(taken.values()))
    reached = round(solver.getInfo().objective_function_value)
    solver.addConstr(sum(taken.values()) >= reached)
    for goal in range(4):
        cost = [
            choices[need][place].cost[goal] * amount
            for (need, place), amount in taken.items()
            if choices[need][place].cost[goal]
        ]
        if cost:
            solver.minimize(sum(cost))
            solver.addConstr(sum(cost) <= round(solver.getInfo().objective_function_value))
    counts_used = {key: round(solver.val(amount)) for key, amount in taken.items()}
    return {
        need: [
            (choice, counts_used[need, place]) for place, choice in enumerate(choices[need]) if counts_used[need, place]
        ]
        for need in needs
    }


def _choices(
    need: StampNeed,
    drawer: tuple[StampStock, ...],
    values: Mapping[StampKind, Money],
    most: int | None,
    scarce: tuple[bool, ...],
) -> tuple[_Choice, ...]:
    """Return every small set that pays the need without a stamp to spare, best first."""
    short = [place for place, is_scarce in enumerate(scarce) if is_scarce]
    made = _ways(need, drawer, tuple(sorted(values.items())), most)
    choices = [replace(way, scarce=sum([way.used[place] for place in short])) for way in made] if short else made
    return tuple(sorted(choices, key=_best_first)[:_MOST_SETS])


def _best_first(choice: _Choice) -> tuple[object, ...]:
    return choice.cost, [-number for number in choice.used]


@lru_cache(maxsize=256)  # saves 18% of a weighing
def _ways(
    need: StampNeed, drawer: tuple[StampStock, ...], worth_of: tuple[tuple[StampKind, Money], ...], most: int | None
) -> tuple[_Choice, ...]:
    """Return the sets before scarcity counts; cached, because a batch needs the same few sums after every weighing."""
    values = dict(worth_of)
    stock = usable_stamps(need.postage, drawer, values, abroad=need.abroad)
    at = [next(place for place, each in enumerate(drawer) if each is one) for _, one in stock]
    worths, counts = tuple(worth for worth, _ in stock), tuple(one.count for _, one in stock)
    sets = set(_sets(worths, counts, need.postage.minor, most or MOST_SEARCHED))
    if most is None and (more := choose_stamps(need.postage, drawer, values, abroad=need.abroad)):
        named = {(kind, value): number for kind, value, number in more.stamps}
        sets.add(tuple(named.get((one.kind, one.value), 0) for _, one in stock))
    return tuple(_choice(need, drawer, at, numbers, worths) for numbers in sorted(sets, reverse=True))


def _choice(
    need: StampNeed, drawer: Sequence[StampStock], at: Sequence[int], numbers: Sequence[int], worths: Sequence[int]
) -> _Choice:
    used = [0] * len(drawer)
    for place, number in zip(at, numbers, strict=True):
        used[place] = number
    meant = [number for number, one in zip(used, drawer, strict=True) if one.kind is StampKind.NONMACHINABLE]
    paid = sum(number * worth for number, worth in zip(numbers, worths, strict=True))
    misused = 0 if need.nonmachinable else sum(meant)
    return _Choice(tuple(used), misused, paid - need.postage.minor, 0, sum(numbers))


@lru_cache(maxsize=512)  # stamps for 400 pieces at once: 0.16 s with it, 0.24 without
def _sets(worths: tuple[int, ...], counts: tuple[int, ...], target: int, most: int) -> tuple[tuple[int, ...], ...]:
    """Return how many of each stamp, highest value first, for every set that reaches the target without a spare stamp."""
    return tuple(_descend(worths, counts, target, most, 0, (0,) * len(worths)))


def _descend(
    worths: tuple[int, ...], counts: tuple[int, ...], left: int, most: int, first: int, taken: tuple[int, ...]
) -> Iterator[tuple[int, ...]]:
    if left <= 0:
        yield taken
        return
    if not most:
        return
    for place in range(first, len(worths)):
        if worths[place] * most < left:
            return  # not even with the highest values left
        if taken[place] < counts[place]:
            one_more = (*taken[:place], taken[place] + 1, *taken[place + 1 :])
            yield from _descend(worths, counts, left - worths[place], most - 1, place, one_more)


def _set(choice: _Choice, need: StampNeed, drawer: Sequence[StampStock], values: Mapping[StampKind, Money]) -> StampSet:
    """Return the stamps of a choice, highest value first."""
    order = usable_stamps(need.postage, drawer, values, abroad=need.abroad)
    number_of = {id(one): number for one, number in zip(drawer, choice.used, strict=True)}
    stamps = tuple(StampCount(one.kind, one.value, number_of[id(one)]) for _, one in order if number_of[id(one)])
    return StampSet(stamps, Money(choice.overpaid, need.postage.currency))
