import pytest

from desk.costs.ledger import PieceMoney, total
from desk.costs.materials import materials_cost
from desk.costs.refunds import stamp_refund
from desk.domain.mailer import Mailer, MailerKind
from desk.domain.money import CurrencyMismatch, Money, zero
from desk.domain.shop import Policy

POLICY = Policy(insert_cost=Money(4), label_cost=Money(3))


def mailer(**fields):
    return Mailer("A", MailerKind.ENVELOPE, **fields)


@pytest.mark.parametrize(
    ("price", "count", "expected"),
    [(2400, 200, 12), (2100, 500, 4), (3750, 100, 38), (1, 3, 0), (2, 3, 1), (None, 5, 0)],
)
def test_a_mailer_costs_its_share_of_the_pack_to_the_cent(price, count, expected):
    """Half a cent goes up: 37.50 / 100 is 0.38."""
    pack = None if price is None else Money(price)
    one = mailer(pack_price=pack, pack_count=count)
    assert materials_cost(one, Policy(), has_label=False) == Money(expected)


def test_a_reused_mailer_costs_nothing():
    assert materials_cost(mailer(pack_price=Money(2400), reused=True), POLICY, has_label=True) == Money(7)


@pytest.mark.parametrize(("has_label", "expected"), [(True, 19), (False, 16)])
def test_insert_always_and_label_where_there_is_one(has_label, expected):
    assert materials_cost(mailer(pack_price=Money(2400), pack_count=200), POLICY, has_label=has_label) == Money(
        expected
    )


def test_no_mailer_known():
    assert materials_cost(None, POLICY, has_label=False) == Money(4)


@pytest.mark.parametrize(
    ("paid", "postage", "envelope", "expected"),
    [(500, 82, 12, 406), (500, 488, 12, 0), (500, 489, 12, 0), (94, 82, 12, 0), (95, 82, 12, 1), (0, 82, 12, 0)],
)
def test_what_goes_back_is_never_below_nothing(paid, postage, envelope, expected):
    assert stamp_refund(Money(paid), Money(postage), Money(envelope)) == Money(expected)


def test_two_moneys_are_never_mixed():
    with pytest.raises(CurrencyMismatch):
        stamp_refund(Money(500, "EUR"), Money(82), Money(12))


def piece(charged=500, postage=82, materials=19, refund=0):
    return PieceMoney(Money(charged), Money(postage), Money(materials), Money(refund))


def test_margin_is_what_is_left():
    assert piece().margin == Money(399)
    assert piece(refund=406).margin == Money(-7)


def test_a_batch_is_the_sum_of_its_pieces():
    summed = total([piece(), piece(charged=0, postage=860), piece(refund=406)], zero())
    assert summed == piece(charged=1000, postage=1024, materials=57, refund=406)
    assert summed.margin == piece().margin + piece(charged=0, postage=860).margin + piece(refund=406).margin
    assert total([], zero("EUR")).margin == Money(0, "EUR")
