"""What last month would have cost with a new price list. The arithmetic is written out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.money import Money
from desk.session.setup.last_month import LastMonth, last_month, last_month_words, mailed_last_month
from tests.session import made
from tests.session.setup.test_price_effect import raised

# Two letters of 1 oz and one of 2 oz, mailed on July 15, 2026.
pytestmark = pytest.mark.stocked(
    [made.order(f"100{n}") for n in range(1, 4)],
    weights={f"100{n}": made.weighing(ounces) for n, ounces in enumerate(("0.7", "0.7", "1.5"), 1)},
    left=[1, 2, 3],
)


def test_last_month_is_recalculated_with_a_list_five_cents_higher(sitting, pile) -> None:
    later = replace(sitting, on=date(2026, 8, 3))
    month, mailed = mailed_last_month(later, pile)
    assert (month, len(mailed)) == (date(2026, 7, 1), 3)
    terms = replace(pile.terms, on=later.on)
    charts = raised(terms, "letter-stamped", 5)
    found = last_month(month, mailed, terms, charts, later.on)
    assert found is not None
    # 0.82 + 0.82 + 1.11 = 2.75, and 0.05 more for each of three
    assert (found.packages, found.before, found.after) == (3, Money(275), Money(290))
    assert last_month_words(found) == "Last month (July 2026, 3 pieces) would have cost $2.90 instead of $2.75."


def test_each_package_costs_what_it_did_on_its_own_mailing_date(sitting, pile) -> None:
    """Notice 123: a letter of one ounce is $0.78 until July 11, 2026, and $0.82 from July 12."""
    (_, letter), *_ = mailed_last_month(replace(sitting, on=date(2026, 8, 3)), pile)[1]
    days = (date(2026, 7, 1), date(2026, 7, 11), date(2026, 7, 12), date(2026, 7, 31))
    charts = pile.terms.rulebook.charts
    found = last_month(days[0], [(day, letter) for day in days], pile.terms, charts, date(2026, 8, 3))
    assert found is not None
    # 0.78 + 0.78 + 0.82 + 0.82 = 3.20, and 4 x 0.82 = 3.28 by the list of August
    assert (found.packages, found.before, found.after) == (4, Money(320), Money(328))


@pytest.mark.parametrize("day", [date(2026, 7, 31), date(2026, 9, 1)])
def test_only_the_month_before_the_mailing_date_counts(sitting, pile, day) -> None:
    _, mailed = mailed_last_month(replace(sitting, on=day), pile)
    assert mailed == ()
    assert last_month(day, mailed, pile.terms, pile.terms.rulebook.charts, day) is None
    assert last_month_words(None) == ""


def test_large_counts_have_commas() -> None:
    found = LastMonth(date(2026, 7, 1), 1200, 1500, Money(275), Money(290))
    assert "July 2026, 1,200 of 1,500 pieces" in last_month_words(found)
