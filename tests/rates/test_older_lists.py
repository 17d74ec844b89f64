"""Above the newest list of a service, an older one prices the piece and the price needs a check."""

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.money import Money
from desk.domain.shop.shop import Policy
from desk.domain.weight import Weight
from desk.rates.lists.chart import Charts
from desk.rates.quote import Offer, PriceRules, price_of, quote
from tests.rates.chart_folder import shipped, shipped_zones
from tests.rates.tiny import BOX, FIVE, ON, chart, piece

OLD = chart("ground-retail", {"16": "8.00", "160": "20.00"}, key="5", keyed_by="zone")
NEW = replace(
    chart("ground-retail", {"16": "9.00", "32": "10.00"}, key="5", keyed_by="zone"),
    chart="new",
    effective=date(2026, 7, 1),
)
RULES = PriceRules(Charts.of([OLD, NEW]), FIVE, Policy(parcel_services=("ground-retail",)), ON)


@pytest.mark.parametrize(
    ("ounces", "price", "used", "checked"),
    [("15.9", "9.00", "new", False), ("31.9", "10.00", "new", False), ("32.1", "20.00", "tiny", True)],
)
def test_the_older_list_continues_above_the_newest(ounces, price, used, checked):
    found = quote(piece(ounces, BOX), RULES)
    assert found.chosen is not None
    assert (found.chosen.price.text(), found.chosen.chart.chart) == (price, used)
    looks = [each for each in found.findings if each.code == "list-ends"]
    assert [each.severity for each in looks] == (["look"] if checked else [])


def test_without_a_continuing_list_there_is_no_price():
    found = price_of(piece("160.1", BOX), "ground-retail", "5", RULES)
    assert not isinstance(found, Offer)
    assert found.reason.code == "list-ends"


def test_below_its_end_an_older_list_is_never_used():
    cheaper = replace(OLD, rows={"5": tuple(replace(row, price=Money.of("1.00")) for row in OLD.rows["5"])})
    found = quote(piece("20", BOX), PriceRules(Charts.of([cheaper, NEW]), FIVE, RULES.policy, ON))
    assert found.chosen is not None
    assert found.chosen.price.text() == "10.00"


@pytest.mark.parametrize(
    ("on", "service", "pounds", "price", "used"),
    [
        (date(2026, 11, 28), "ground-commercial", "25", "70.61", "us-2026-10-04"),
        (date(2026, 11, 28), "ground-commercial", "26", "72.61", "us-2026-07-12"),
        (date(2026, 8, 12), "priority-commercial", "20", "62.83", "us-2026-07-12"),
        (date(2026, 8, 12), "priority-commercial", "21", "62.19", "us-2025-10-05"),
    ],
)
def test_shipped_lists_continue_above_the_newest(on, service, pounds, price, used):
    """Notice 123 of October 5, 2025 and July 12, 2026, zone 7, with the holiday amounts of October 4, 2026."""
    rules = PriceRules(shipped(), shipped_zones(), Policy(), on)
    found = price_of(piece(str(int(pounds) * 16), BOX), service, "7", rules)
    assert isinstance(found, Offer)
    assert (found.price.text(), found.chart.chart) == (price, used)


def longer(*, newest, older, **fields):
    made_lists = (
        replace(
            chart("ground-retail", dict.fromkeys(cells, "8.00"), key="5", keyed_by="zone", oversized=oversized),
            **fields,
        )
        for cells, oversized in (older, newest)
    )
    first, second = made_lists
    return first.reaches_over(second, "5")


BIG = {"5": Money.of("90.00")}


@pytest.mark.parametrize(
    ("older", "newest", "reaches"),
    [
        ((["16"], {}), (["16"], {}), False),
        ((["17"], {}), (["16"], {}), True),
        ((["15"], {}), (["16"], {}), False),
        ((["16"], BIG), (["16"], {}), True),
        ((["16"], BIG), (["16"], BIG), False),
    ],
)
def test_an_older_list_continues_only_with_heavier_rows_or_oversized_parcels(older, newest, reaches):
    assert longer(older=older, newest=newest) is reaches


def test_a_list_continues_in_a_zone_missing_from_the_newer_one():
    assert OLD.reaches_over(replace(NEW, rows={}), "5")
    assert not replace(OLD, rows={}).reaches_over(NEW, "5")


@pytest.mark.parametrize(("ounces", "code"), [("160", "list-ends"), ("321", "over-weight")])
def test_a_piece_refused_by_the_newest_list_is_not_priced_by_an_older_one(ounces, code):
    """The newest list takes up to 20 lb, whatever an older one took; only where its rows end does the older one go on."""
    newest = replace(NEW, max_weight=Weight.of(20, "lb"))
    older = replace(OLD, rows=chart("ground-retail", {"16": "8.00", "1120": "99.00"}, key="5").rows)
    rules = PriceRules(Charts.of([older, newest]), FIVE, Policy(parcel_services=("ground-retail",)), ON)
    found = price_of(piece(ounces, BOX), "ground-retail", "5", rules)
    if code == "list-ends":
        assert isinstance(found, Offer)
        assert found.of.ended is not None
    else:
        assert not isinstance(found, Offer)
        assert found.reason.code == code


def test_an_older_list_by_price_group_does_not_continue_one_by_zone():
    by_group = replace(OLD, keyed_by="group", groups={"US": "5"})
    found = price_of(
        piece("32.1", BOX), "ground-retail", "5", PriceRules(Charts.of([by_group, NEW]), FIVE, Policy(), ON)
    )
    assert not isinstance(found, Offer)
    assert found.reason.code == "list-ends"
