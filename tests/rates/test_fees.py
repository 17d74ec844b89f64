"""Fees added to the price, and when their sum is uncertain."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.rates.fees import NO_FEES, fees_of
from desk.rates.shape import UNMEASURED, form_of
from tests.rates import tiny
from tests.rates.tiny import GROUND, INTL_LETTER, LETTER, codes, piece


def fees(chart, sides, **fields):
    size = Size.of(*sides, "in")
    posting = piece("20", size, **fields)
    return fees_of(chart, posting, form_of(size, posting.traits))


@pytest.mark.parametrize(
    ("sides", "kind", "expected"),
    [
        (("22", "10", "4"), MailerKind.BOX, []),
        (("22.1", "10", "4"), MailerKind.BOX, ["long-22"]),
        (("30", "10", "4"), MailerKind.BOX, ["long-22"]),
        (("30.1", "10", "4"), MailerKind.BOX, ["long-30"]),
        (("16", "12", "18"), MailerKind.BOX, []),  # 3456 cubic inches
        (("16", "12.1", "18"), MailerKind.BOX, ["bulky"]),
        (("25", "20", "10"), MailerKind.BOX, ["long-22", "bulky"]),
        (("20", "3", "3"), MailerKind.TUBE, ["tube"]),
        (("25", "3", "3"), MailerKind.TUBE, ["long-22", "tube"]),
    ],
)
def test_long_bulky_and_rolled_parcels_pay_their_fees(sides, kind, expected):
    found = fees(GROUND, sides, mailer_kind=kind)
    assert codes(found.asked) == expected
    assert found.unclear is (len(expected) > 1)


def test_the_price_with_fees_has_a_total_and_a_minimum():
    found = fees(GROUND, ("25", "3", "3"), mailer_kind=MailerKind.TUBE)
    assert (found.total(Money.of("10.00")), found.least(Money.of("10.00"))) == (Money.of("18.00"), Money.of("14.00"))


def test_a_list_that_does_not_show_its_fees_is_unclear_only_when_one_is_due():
    silent = replace(GROUND, surcharges=(), fees_listed=False)
    assert fees(silent, ("25", "10", "4")).unlisted == ("long-22",)
    assert fees(silent, ("20", "10", "4")) == NO_FEES


@pytest.mark.parametrize(
    ("chart", "stiff", "asked", "unlisted"),
    [
        (LETTER, False, [], ()),
        (LETTER, True, ["nonmachinable"], ()),
        (tiny.FLAT, True, [], ()),
        (INTL_LETTER, True, [], ("nonmachinable",)),
    ],
)
def test_letters_that_machines_cannot_sort_pay_the_surcharge(chart, stiff, asked, unlisted):
    found = fees(chart, ("9", "5", "0.1"), stiff=stiff)
    assert (codes(found.asked), found.unlisted, found.unclear) == (asked, unlisted, bool(unlisted))


def test_no_fees_for_flat_rate_or_without_a_size():
    assert fees(tiny.FLAT_RATE, ("35", "3", "3"), mailer_kind=MailerKind.TUBE) == NO_FEES
    assert fees_of(GROUND, piece("20", None, mailer_kind=MailerKind.TUBE), UNMEASURED) == NO_FEES


def test_flat_rate_packaging_pays_no_fee_for_its_size():
    flat_rate = replace(GROUND, flat_rate=True)
    assert fees(flat_rate, ("31", "20", "10")) == NO_FEES
    assert codes(fees(GROUND, ("31", "20", "10")).asked) == ["long-30", "bulky"]


def test_the_minimum_is_the_price_with_only_the_largest_fee():
    found = fees(GROUND, ("31", "20", "10"))
    assert found.least(Money.of("10.00")) == Money.of("28.00")  # bulky 18.00, long 8.00
    assert NO_FEES.least(Money.of("10.00")) == Money.of("10.00")


@pytest.mark.parametrize(("rolled", "is_unclear"), [(MailerKind.BOX, False), (MailerKind.TUBE, True)])
def test_the_sum_of_two_fees_is_unclear_and_one_alone_is_not(rolled, is_unclear):
    assert fees(GROUND, ("25", "3", "3"), mailer_kind=rolled).unclear is is_unclear
