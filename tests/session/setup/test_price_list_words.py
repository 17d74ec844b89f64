"""Price lists as rows of text: the status of each on a day, its cells, and what a new one changes."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.weight import WeightUnit
from desk.rates.lists.chart import Charts
from desk.rates.lists.chart_compare import CellChange
from desk.session.setup.price_effect import KindOfPiece, PriceEffect, ZoneEffect
from desk.session.setup.price_list_words import (
    CHANGE_HEADS,
    LIST_HEADS,
    amount_of,
    cell_at,
    cell_heads,
    cell_rows,
    change_rows,
    day_of,
    effect_rows,
    effect_words,
    list_rows,
    preview_words,
    zone_effect_words,
    zones_in_use,
)
from desk.session.setup.price_lists import ChartPreview
from tests.rates.tiny import GROUND, INTL_PACKAGE, LETTER

ON = date(2026, 7, 15)
OLD = replace(LETTER, chart="old", effective=date(2025, 7, 13), until=date(2026, 7, 11))
NOW = replace(LETTER, chart="now", effective=date(2026, 7, 12))
NEXT = replace(LETTER, chart="next", effective=date(2026, 10, 4))


def change(before, after, falls="", key="", weight="1"):
    money = [None if text is None else Money.of(text) for text in (before, after)]
    return CellChange("letter-stamped", key, weight, *money, falls)


def preview(*changes, lists=(LETTER,)):
    return ChartPreview("new.csv", lists, changes)


def test_each_price_list_shows_its_dates_status_and_age():
    rows = list_rows(Charts.of([OLD, NOW, NEXT]), ON)
    assert [(row.chart, *row.words[1:5]) for row in rows] == [
        ("next", "Oct 4, 2026", "", "upcoming", "in 81 days"),
        ("now", "Jul 12, 2026", "", "current", "3 days"),
        ("old", "Jul 13, 2025", "Jul 11, 2026", "old", "367 days"),
    ]
    assert all(len(row.words) == len(LIST_HEADS) for row in rows)


def test_a_list_past_its_last_day_is_in_force_until_a_newer_one_is():
    (row,) = list_rows(Charts.of([OLD]), ON)
    assert row.words[3] == "current (may be outdated)"
    (early,) = list_rows(Charts.of([NEXT]), ON)
    assert early.words[3] == "upcoming"


def test_services_are_sorted_by_name():
    rows = list_rows(Charts.of([LETTER, GROUND]), ON)
    assert [row.words[0] for row in rows] == ["ground (retail)", "letter, stamped"]


def test_the_cells_of_a_list_end_with_the_oversized_price():
    rows = cell_rows(GROUND)
    assert rows[0] == ("5", "4", "7.00")
    assert rows[-1] == ("5", "oversized", "150.00")
    assert len(rows) == 7


@pytest.mark.parametrize(
    ("chart", "heads"),
    [
        (LETTER, ("", "Up to, oz", "Price, USD")),
        (GROUND, ("Zone", "Up to, oz", "Price, USD")),
        (INTL_PACKAGE, ("Group", "Up to, oz", "Price, USD")),
        (replace(LETTER, bills_in=WeightUnit.GRAM, currency="EUR"), ("", "Up to, g", "Price, EUR")),
    ],
)
def test_column_headers_name_weight_zone_unit_and_currency(chart, heads):
    assert cell_heads(chart) == heads


def test_every_changed_cell_has_its_percentage_and_remark():
    rows = change_rows(
        preview(
            change("0.80", "0.88"),
            change(None, "1.00"),
            change("1.10", None),
            change("1.40", "0.70", "weight and zone", "5", "3"),
            change(None, "0.60", "weight"),
        )
    )
    assert all(len(row) == len(CHANGE_HEADS) for row in rows)
    assert [row[3:] for row in rows] == [
        ("$0.80", "$0.88", "1.1000", ""),
        ("–", "$1.00", "", "new"),
        ("$1.10", "–", "", "missing in the new list"),
        ("$1.40", "$0.70", "0.5000", "lower at a higher weight and zone"),
        ("–", "$0.60", "", "new, lower at a higher weight"),
    ]
    assert rows[3][:3] == ("letter, stamped", "5", "3")


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (preview(), "1 service, 0 prices changed."),
        (preview(change("0.80", "0.88"), lists=(LETTER, GROUND)), "2 services, 1 price changed."),
        (
            preview(change("1.10", None), change(None, "1.00"), change("1.40", "0.70", "weight")),
            "1 service, 3 prices changed, 1 missing, 1 new, 1 lower than the one before.",
        ),
    ],
)
def test_a_preview_is_summarized_in_one_line(found, words):
    assert preview_words(found) == words


@pytest.mark.parametrize(
    ("typed", "day"), [("2026-07-12", date(2026, 7, 12)), (" 2026-07-12 ", date(2026, 7, 12)), ("", None)]
)
def test_a_date_is_read(typed, day):
    assert day_of(typed) == day


@pytest.mark.parametrize("typed", ["soon", "12.7.2026", "2026-13-01"])
def test_a_text_that_is_not_a_date_is_refused(typed):
    with pytest.raises(Refused, match="such as 2026-07-12"):
        day_of(typed)


@pytest.mark.parametrize(
    ("typed", "currency", "money"),
    [("0.82", "USD", Money(82)), (" 3 ", "EUR", Money(300, "EUR")), ("120", "JPY", Money(120, "JPY"))],
)
def test_a_price_is_read(typed, currency, money):
    assert amount_of(typed, currency) == money


@pytest.mark.parametrize(
    ("typed", "currency"), [("", "USD"), ("0", "USD"), ("-1", "USD"), ("0,82", "USD"), ("1.205", "USD"), ("1.2", "JPY")]
)
def test_a_text_that_is_not_a_price_is_refused(typed, currency):
    with pytest.raises(Refused, match=f"price in {currency}"):
        amount_of(typed, currency)


def test_an_older_list_that_continues_above_the_newest_is_still_current():
    longer = replace(LETTER, chart="longer", effective=date(2026, 1, 1))
    shorter = replace(NOW, rows={"": LETTER.rows[""][:2]})
    rows = list_rows(Charts.of([longer, shorter]), ON)
    assert [row.words[3] for row in rows] == ["current", "used for weights the newest list lacks"]


def test_of_two_lists_of_one_day_only_the_one_used_is_current():
    rows = list_rows(Charts.of([NOW, replace(NOW, chart="own")]), ON)
    assert {row.chart: row.words[3] for row in rows} == {"own": "current", "now": "old"}


def kind(before, after):
    money = [Money.of(text) if text else None for text in (before, after)]
    return KindOfPiece("A7", "1 oz", "letter-stamped", "", 3, *money)


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("0.82", "0.90", "+$0.08"),
        ("0.90", "0.82", "-$0.08"),
        ("0.82", "0.82", "$0.00"),
        ("0.82", None, ""),
    ],
)
def test_the_difference_for_a_kind_of_piece_is_shown(before, after, words):
    sums = Money.of("24.60"), Money.of("27.00")
    (row,) = effect_rows(PriceEffect((kind(before, after),), 3, 4, Decimal(1), *sums))
    assert (row[:5], row[-1]) == (("A7", "1 oz", "letter, stamped", "", "3"), words)


@pytest.mark.parametrize(
    ("after", "reported"), [("27.00", "$2.40 more"), ("22.20", "$2.40 less"), ("24.60", "the same as before")]
)
def test_the_effect_on_a_month_is_shown(after, reported):
    words = effect_words(PriceEffect((kind("0.82", "0.90"),), 3, 4, Decimal(1), Money.of("24.60"), Money.of(after)))
    assert (
        words == f"The 1 kind you mail most: 3 of 4 pieces. They cost ${after} a month instead of $24.60, {reported}."
    )


@pytest.mark.parametrize(
    ("effect", "words"),
    [
        (ZoneEffect(0, 0, 0, 0, Money(0), Money(0)), "No package priced by zone has been weighed yet"),
        (ZoneEffect(9, 0, 0, 0, Money(5), Money(5)), "Of the last 9 pieces priced by zone, 0 change zone."),
        (
            ZoneEffect(9, 3, 2, 1, Money(500), Money(620)),
            "3 change zone: 2 farther, 1 nearer. Together they cost $1.20 more.",
        ),
    ],
)
def test_the_effect_of_a_zone_chart_is_shown(effect, words):
    assert words in zone_effect_words(effect)


@pytest.mark.parametrize(
    ("own", "words"),
    [
        (("", "", 0), "Zones: national zone chart of April 1, 2024. A chart for your own ZIP code always wins."),
        (("558", "2026-10-01", 3), "Zones: your own chart for 558 (October 1, 2026, 3 prefixes)."),
        (("558", "zones.xlsx", 1), "Zones: your own chart for 558 (zones.xlsx, 1 prefix)."),
    ],
)
def test_the_zones_in_use_are_shown(own, words):
    assert zones_in_use("2024-04-01", *own) == words


def test_a_list_is_current_on_its_first_day_and_upcoming_the_day_before():
    (today,) = list_rows(Charts.of([NEXT]), NEXT.effective)
    assert today.words[3:5] == ("current", "0 days")
    (before,) = list_rows(Charts.of([NEXT]), date(2026, 10, 3))
    assert before.words[3:5] == ("upcoming", "in 1 day")


def test_an_unchanged_price_has_no_sign():
    kinds = tuple(
        KindOfPiece("A7", "1 oz", "letter-stamped", "", 3, Money(82), after)
        for after in (Money(82), Money(83), Money(81))
    )
    rows = effect_rows(PriceEffect(kinds, 9, 9, Decimal(1), Money(246), Money(246)))
    assert [row[-1] for row in rows] == ["$0.00", "+$0.01", "-$0.01"]


@pytest.mark.parametrize(("typed", "amount"), [("0.01", Money(1)), ("0", None), ("0.00", None), ("-1", None)])
def test_a_price_must_be_above_zero(typed, amount):
    if amount is None:
        with pytest.raises(Refused, match="Enter a price"):
            amount_of(typed, "USD")
    else:
        assert amount_of(typed, "USD") == amount


def test_prices_of_a_list_are_shown_and_typed_as_the_locale_writes_them(locale):
    before = cell_rows(GROUND)
    locale("de_DE.UTF-8")
    assert cell_rows(GROUND)[0][2] == before[0][2].replace(".", ",")
    assert cell_at(GROUND, 0) == before[0][:2]
    assert cell_at(GROUND, -1) == cell_at(GROUND, len(before)) == ("", "")
    assert amount_of("8,25", "USD") == amount_of("8.25", "USD")
