"""Whether one flat charge is enough, or a table by kind of package fits the costs better."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from desk.costs.charge_advice import ChargeAdvice, advice
from desk.domain.money import Money

WORTH_A_TABLE = 50  # minor units per order that a table must come closer by; common practice, no source
FEWEST_IN_ROW = 5  # orders; a row with fewer says little. Common practice, no source


@dataclass(frozen=True, slots=True)
class FlatOrTable:
    """A flat charge and a table that both break even, and how far an order's cost is from each on average.

    `flat_off` and `table_off` are mean absolute differences, rounded to the minor unit.
    """

    flat: Money
    rows: tuple[ChargeAdvice, ...]
    flat_off: Money
    table_off: Money

    @property
    def table_is_better(self) -> bool:
        """Return True when a table with several rows comes closer by enough to be worth it."""
        closer = self.flat_off.minor - self.table_off.minor
        return len(self.rows) > 1 and closer >= WORTH_A_TABLE

    @property
    def is_thin(self) -> bool:
        """Return True when a row has too few orders to trust."""
        return any(len(row.costs) < FEWEST_IN_ROW for row in self.rows)


def flat_or_table(costs: Iterable[tuple[str, Money]]) -> FlatOrTable:
    """Return both ways to charge, from kinds of package and what an order of that kind cost.

    Raises ValueError without orders or with two currencies.
    """
    kinds: dict[str, list[Money]] = defaultdict(list)
    for kind, cost in costs:
        kinds[kind].append(cost)
    whole = advice("", (cost for some in kinds.values() for cost in some))
    rows = tuple(advice(kind, kinds[kind]) for kind in sorted(kinds))
    table_off = sum((_off(row.costs, row.break_even.minor) for row in rows), Fraction(0))
    flat_off = _off(whole.costs, whole.break_even.minor)
    count, currency = len(whole.costs), whole.currency
    means = (Money(round(off / count), currency) for off in (flat_off, table_off))
    return FlatOrTable(whole.break_even, rows, *means)


def _off(costs: Sequence[int], charge: int) -> Fraction:
    return Fraction(sum(abs(charge - cost) for cost in costs))
