"""The forecast's interval covers what a pile really costs, on the simulated shops of tests/learning/shops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.learning.learner import Learner
from desk.learning.parcel import Expected, Parcel, ShownWeight
from desk.session.pile.forecast import Forecast, forecast, judged_at
from desk.session.rulebook import Rulebook
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from tests.learning.shop_history import Row, table
from tests.session import made

LEARNED, PILES, IN_A_PILE = 1000, 20, 30
FLAT = Size.of("11", "9", "0.2", "in")  # large envelopes: a price for every ounce


class OneShop:
    """A shop's history, as far as it was learned, and its piles."""

    def __init__(self, name: str, rulebook: Rulebook) -> None:
        products, mailers = table(f"{name}.products"), table(f"{name}.mailers")
        known = tuple(Product(row["sku"], row["sku"]) for row in products)
        outside = tuple(Mailer(row["mailer"], MailerKind.FLAT, FLAT) for row in mailers)
        policy = made.policy(parcel_services=("ground-commercial",))
        self.terms = Terms(made.shop(products=known, mailers=outside, policy=policy), rulebook, made.ON)
        self.learner = Learner.begin(dict.fromkeys(row["sku"] for row in products), {})
        first = {row["order"]: row for row in reversed(table(name))}  # an order weighed again teaches once
        self.rows = list(reversed(first.values()))
        self.truth = {row["seq"]: row for row in table(f"{name}.truth")}

    def learn(self, rows: Sequence[Row]) -> None:
        for row in rows:
            self.learner.learn(parcel_of(row), ShownWeight(float(row["gross_g"]), 1.0))

    def piles(self) -> Iterator[list[Row]]:
        """Yield the next piles, each learned once it was looked at."""
        self.learn(self.rows[:LEARNED])
        for start in range(LEARNED, LEARNED + PILES * IN_A_PILE, IN_A_PILE):
            pile = self.rows[start : start + IN_A_PILE]
            yield pile
            self.learn(pile)

    def expecting(self, case: Case, mailer: str) -> Expected:
        return self.learner.expect(packed(case, mailer), 1.0)

    def shared_variance(self, parts: Sequence[tuple[Case, str, float]]) -> float:
        return self.learner.shared_variance([(packed(case, mailer), factor) for case, mailer, factor in parts])

    def foretold(self, pile: Sequence[Row]) -> tuple[Forecast, int]:
        """Return the forecast of the pieces it can judge, and what they cost at their true weights."""
        cases = [case for row in pile if self.expecting(case := case_of(row), row["mailer"]).can_judge]
        predicted = forecast([judge(case, self.terms) for case in cases], self.terms, self)
        true = {row["seq"]: Decimal(self.truth[row["seq"]]["true_gross_g"]) for row in pile}
        real = [judged_at(case, true[case.key.order], case.mailer, self.terms).offer for case in cases]
        return predicted, sum(offer.price.minor for offer in real if offer is not None)


def contents_of(row: Row) -> dict[str, int]:
    return {sku: int(count) for sku, _, count in (item.partition(":") for item in row["items"].split())}


def parcel_of(row: Row) -> Parcel:
    return Parcel(contents_of(row), row["mailer"])


def packed(case: Case, mailer: str) -> Parcel:
    return Parcel({line.sku: line.quantity for line in case.order.lines}, mailer)


def case_of(row: Row) -> Case:
    lines = tuple(OrderLine(sku, count, Money(900), sku) for sku, count in contents_of(row).items())
    return replace(made.case(None, number=row["seq"], lines=lines), mailer=row["mailer"])


@pytest.fixture(scope="module")
def piles(rulebook: Rulebook) -> list[tuple[Forecast, int]]:
    shops = [OneShop(name, rulebook) for name in ("shop-a", "shop-b")]
    return [shop.foretold(pile) for shop in shops for pile in shop.piles()]


def test_the_interval_covers_the_true_cost_about_95_times_in_100(piles: list[tuple[Forecast, int]]) -> None:
    """With every mishap of the simulation in the piles: items left out, and extra packing."""
    covered = [abs(real - predicted.postage.minor) <= predicted.give_or_take.minor for predicted, real in piles]
    assert sum(covered) / len(covered) >= 0.85


def test_the_interval_is_no_wider_than_needed_and_the_middle_is_right(piles: list[tuple[Forecast, int]]) -> None:
    assert sum(predicted.give_or_take.minor for predicted, _ in piles) < 0.03 * sum(
        predicted.postage.minor for predicted, _ in piles
    )
    assert sum(real for _, real in piles) == pytest.approx(
        sum(predicted.postage.minor for predicted, _ in piles), rel=0.005
    )
