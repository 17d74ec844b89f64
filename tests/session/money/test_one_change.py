"""What one change to a parcel would have cost, compared with the printed lists.

Source: Notice 123, ground retail, July 12, 2026, unless a test names another list.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from desk.costs.paid_difference import Cause, Reason
from desk.domain.ledger import Entry, LedgerRow
from desk.domain.length import Size
from desk.domain.money import Money
from desk.rates.lists.price_list import Surcharge
from desk.session.money.one_change import OneChange
from desk.session.verdict.verdict import Terms
from tests.session import made

ESTIMATED = Money(1960)  # up to 5 lb to zone 6
BOX = Size.of("12", "12", "11", "in")  # 1,584 cubic inches, so its size does not count


def entered(service="ground-retail", zone="6", price_list="2026-07-12", mailed_on=made.ON):
    return LedgerRow(
        entry=Entry.POSTAGE_ESTIMATED, amount=-ESTIMATED, mailed_on=mailed_on, piece_id=1, order="1001",
        reference="1001-1", service=service, zone=zone, price_list=price_list,
    )  # fmt: skip


def heavy(judged, size):
    """Return a box of 4.6 lb to zone 6."""
    return judged(weighing=made.weighing("4.6", "Padded", "lb", size=size))


@pytest.fixture
def box(judged):
    return heavy(judged, BOX)


@pytest.fixture
def prices(terms, box):
    return OneChange(terms).prices(box, entered(), ESTIMATED)


def causes(prices, minor):
    return {cause for cause, price in prices if price == Money(minor)}


@pytest.mark.parametrize(
    ("minor", "expected"),
    [
        (1745, {Cause(Reason.ZONE_OFF, "5")}),
        (2240, {Cause(Reason.ZONE_OFF, "7")}),
        (2105, {Cause(Reason.MORE_WEIGHT)}),  # up to 6 lb
        (1830, {Cause(Reason.LESS_WEIGHT)}),  # up to 4 lb
        (1815, {Cause(Reason.OLDER_LIST, "2025-10-05")}),  # the same row on October 5, 2025
        (2360, {Cause(Reason.SIZE_FEE)}),  # $4.00 over 22 in, October 5, 2025
        (734, {Cause(Reason.PRICE_OF_SERVICE, "media")}),
        (3125, set()),  # 12 lb: no size counts that little
        (3310, {Cause(Reason.SIZE)}),  # 13 lb: the least that counts, 1,729 / 139 (DMM 283.1.4)
        (4280, {Cause(Reason.SIZE)}),  # 19 lb: 14 x 14 x 13 in
        (4425, set()),  # 20 lb would be over two inches more each way
        (3255, set()),  # the flat-rate large box for military mail, and this goes to Oregon
        (1961, set()),
        (1960, set()),  # the estimate itself explains nothing
    ],
)
def test_a_price_from_the_printed_lists_has_its_cause(prices, minor, expected):
    assert causes(prices, minor) == expected


def test_a_size_that_counted_may_be_charged_by_weight_only(terms, judged):
    """13 x 12 x 12 in are 1,872 cubic inches, 14 lb; at 4.6 lb it costs $19.60 by weight."""
    large = heavy(judged, Size.of("13", "12", "12", "in"))
    found = OneChange(terms).prices(large, entered(), large.offer.price)
    assert causes(found, 1960) == {Cause(Reason.SIZE)}
    assert large.offer.billable.dimensional


@pytest.mark.parametrize(
    ("size", "estimated", "causes_of_size"),
    [
        (("10.5", "8", "0.9"), 921, {1066}),  # 0.04 cu ft: only the next volume
        (("10", "8", "3"), 1066, {921, 1283}),  # 0.14 cu ft: the volumes on either side
    ],
)
def test_the_next_volume_is_a_size_where_volume_sets_the_price(terms, judged, size, estimated, causes_of_size):
    """Notice 123, p. 16, July 12, 2026: ground by volume to zone 6, up to 0.10, 0.20 and 0.30 cu ft."""
    verdict = judged(weighing=made.weighing("12.3", "Padded", size=Size.of(*size, "in")))
    found = OneChange(terms).prices(verdict, entered("ground-cubic-commercial"), Money(estimated))
    assert {price.minor for cause, price in found if cause.reason is Reason.SIZE} == causes_of_size


def test_a_list_that_begins_after_the_mailing_date_is_no_cause(terms, box):
    season = terms.rulebook.charts.in_force("ground-retail", date(2026, 10, 4)).row(box.offer.weight, "6").price
    known = OneChange(terms)
    assert not causes(known.prices(box, entered(mailed_on=date(2026, 10, 3)), ESTIMATED), season.minor)
    newer = {Cause(Reason.NEWER_LIST, "2026-10-04")}
    assert newer <= causes(known.prices(box, entered(mailed_on=date(2026, 10, 4)), ESTIMATED), season.minor)


def test_an_estimate_that_cannot_be_recalculated_has_no_prices(terms, box):
    known = OneChange(terms)
    assert known.prices(box, entered(), Money(1959)) == []
    assert known.prices(box, entered(service="gone"), ESTIMATED) == []
    assert known.prices(replace(box, case=replace(box.case, weighing=None)), entered(), ESTIMATED) == []


def test_a_price_group_has_no_neighbors(rulebook, judged):
    """Price groups are sets of countries, so a group one off is no mistake of distance."""
    abroad = judged("6", "Padded", address=made.FRANCE)
    terms = Terms(made.shop(), rulebook, made.ON)
    offer = abroad.offer
    found = OneChange(terms).prices(abroad, entered(offer.service, offer.key), offer.price)
    assert found
    assert all(cause.reason is not Reason.ZONE_OFF for cause, _ in found)


def test_library_mail_is_a_cause_only_to_libraries(terms, judged, prices):
    def services(found):
        return {cause.which for cause, _ in found if cause.reason is Reason.PRICE_OF_SERVICE}

    assert "library" not in services(prices)
    address = replace(made.HOME, recipient="Bend Public Library")
    books = judged(weighing=made.weighing("4.6", "Padded", "lb", size=BOX), address=address)
    assert "library" in services(OneChange(terms).prices(books, entered(), ESTIMATED))


def with_canadian_list(terms, service, effective):
    """Return the terms with one more list of a service: its newest, in Canadian dollars, with a fee."""
    charts = terms.rulebook.charts
    newest = charts.in_force(service, made.ON)
    rows = {
        key: tuple(replace(row, price=Money(row.price.minor, "CAD")) for row in some)
        for key, some in newest.rows.items()
    }
    fee = Surcharge("long-22", Money(777, "CAD"), "invented", "")
    chart = replace(newest, currency="CAD", effective=effective, rows=rows, oversized={}, surcharges=(fee,))
    return replace(terms, rulebook=replace(terms.rulebook, charts=charts.with_lists([chart])))


def test_lists_in_another_currency_are_no_cause(terms, judged):
    piece = judged(weighing=made.weighing("4.6", "Padded", "lb", size=BOX), extras=("certificate-of-mailing",))
    expected = OneChange(terms).prices(piece, entered(), piece.money.postage)
    assert expected
    older = with_canadian_list(terms, "ground-retail", date(2024, 1, 1))
    assert OneChange(older).prices(piece, entered(), piece.money.postage) == expected
    newer = with_canadian_list(terms, "priority-retail", date(2026, 7, 13))
    without = [one for one in expected if one[0] != Cause(Reason.PRICE_OF_SERVICE, "priority-retail")]
    assert len(without) < len(expected)
    assert OneChange(newer).prices(piece, entered(), piece.money.postage) == without
