"""The cost of a piece besides postage: a share of the pack, the insert, the label."""

import pytest

from desk.costs.materials import materials_cost
from desk.domain.money import Money
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.shop import Policy

POLICY = Policy(insert_cost=Money(4), label_cost=Money(3))


def mailer(**fields):
    return Mailer("A", MailerKind.ENVELOPE, **fields)


@pytest.mark.parametrize(
    ("price", "count", "expected"),
    [(2400, 200, 12), (2100, 500, 4), (3750, 100, 38), (1, 3, 0), (2, 3, 1), (None, 5, 0)],
)
def test_a_mailer_costs_its_share_of_the_pack_to_the_cent(price, count, expected):
    """Half a cent is rounded up: 37.50 / 100 is 0.38."""
    pack = None if price is None else Money(price)
    one = mailer(pack_price=pack, pack_count=count)
    assert materials_cost(one, Policy(), has_label=False) == Money(expected)


def test_a_reused_mailer_costs_nothing():
    assert materials_cost(mailer(pack_price=Money(2400), reused=True), POLICY, has_label=True) == Money(7)


@pytest.mark.parametrize(("has_label", "expected"), [(True, 19), (False, 16)])
def test_the_insert_always_costs_and_the_label_only_where_there_is_one(has_label, expected):
    assert materials_cost(mailer(pack_price=Money(2400), pack_count=200), POLICY, has_label=has_label) == Money(
        expected
    )


def test_without_a_mailer_only_the_insert_is_counted():
    assert materials_cost(None, POLICY, has_label=False) == Money(4)
