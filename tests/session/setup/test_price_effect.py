"""What new prices and zones mean: the commonest pieces before and after, a month of them, and pieces that change zone."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.session.pile.batch import judge_batch
from desk.session.setup.price_effect import MOST_KINDS, price_effect, zone_effect
from desk.session.verdict.verdict import Terms
from tests.session.made import ON, case, order, shop


@pytest.fixture
def terms(rulebook):
    return Terms(shop(), rulebook, ON)


def raised(terms, service, cents):
    """The lists with every price of one service raised by so many cents from the day of the tests on."""
    listed = terms.rulebook.charts.in_force(service, ON)
    more = Money(cents)
    rows = {key: tuple(replace(row, price=row.price + more) for row in rows) for key, rows in listed.rows.items()}
    return terms.rulebook.charts.with_lists([replace(listed, rows=rows, effective=ON)])


def test_the_most_common_pieces_come_first_with_their_prices(terms):
    batch = judge_batch([*(case("0.7", number=str(n)) for n in range(3)), case("12", "Padded", number="9")], terms)
    found = price_effect(batch.verdicts, terms, raised(terms, "letter-stamped", 5), ON)
    assert [(kind.service, kind.count) for kind in found.kinds] == [("letter-stamped", 3), ("ground-retail", 1)]
    letter = found.kinds[0]
    assert (letter.before, letter.after, letter.billed) == (Money(82), Money(87), "1 oz")
    assert (found.pieces, found.of_pieces) == (4, 4)
    assert found.after.minor - found.before.minor == 3 * 5


def test_totals_are_for_a_month(terms):
    placed = [replace(order(str(n)), placed=date(2026, 5, 1 + 30 * (n == 1))) for n in range(2)]
    cases = [replace(case("0.7", number=str(n)), order=placed[n]) for n in range(2)]
    found = price_effect(judge_batch(cases, terms).verdicts, terms, terms.rulebook.charts, ON)
    assert found.months == Decimal(31) / Decimal("30.4")
    assert found.before == found.after == Money(161)  # 1.64 in 31 days


def test_at_most_fifty_kinds_are_listed(terms):
    cases = [case(f"{ounces}.3", "Padded", number=str(ounces)) for ounces in range(16, 16 * 60, 16)]
    found = price_effect(judge_batch(cases, terms).verdicts, terms, terms.rulebook.charts, ON)
    assert (len(found.kinds), found.pieces, found.of_pieces) == (MOST_KINDS, MOST_KINDS, 59)


def test_without_a_weighed_piece_there_is_no_effect(terms):
    found = price_effect(judge_batch([case(None)], terms).verdicts, terms, terms.rulebook.charts, ON)
    assert (found.kinds, found.of_pieces, found.before) == ((), 0, Money(0))


@pytest.mark.parametrize(("zone", "changed", "farther", "nearer"), [(6, 0, 0, 0), (7, 2, 2, 0), (5, 2, 0, 2)])
def test_pieces_that_change_zone_are_counted(terms, zone, changed, farther, nearer):
    """558 to 977 is zone 6 in the matrix of 2024."""
    batch = judge_batch([case("12", "Padded", number=n) for n in "12"] + [case("0.7", number="3")], terms)
    found = zone_effect(batch.verdicts, terms, terms.rulebook.zones.with_chart({"977": zone}, "558", "own"))
    assert (found.pieces, found.changed, found.farther, found.nearer) == (2, changed, farther, nearer)
    assert (found.after > found.before, found.after < found.before) == (farther > 0, nearer > 0)
