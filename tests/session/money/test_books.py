"""A worked week at the post, added up every way: the sums are equal however they are grouped."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.costs.workbook import BookColumn, BookSheet, write_workbook
from desk.domain.ledger import REPLACED, Entry, GroupBy, LedgerRow
from desk.domain.money import Money
from desk.session.money.books import read_sums, years_with_money
from desk.session.money.charging import charging, overcharged, shipping_costs
from desk.session.money.totals import TOTALED, sum_cells, totals
from desk.session.money.year_file import write_year
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.undo import undo
from desk.store import schema
from desk.store.tables import ledger
from tests.session import made


def row(entry: Entry, cents: int, piece: int = 1, on: date = date(2026, 11, 2), **fields) -> LedgerRow:
    plain = {"order": str(1000 + piece), "reference": f"{1000 + piece}-1", "country": "US", "state": "OR"}
    return LedgerRow(entry=entry, amount=Money(cents), mailed_on=on, piece_id=piece, **(plain | fields))


# Two packages: a letter (5.00 paid by the buyer, 0.82 postage, 0.16 materials) and a parcel abroad (22.00 paid, 17.40
# estimated and 18.15 really paid, 0.45 materials, and 1.00 given back).
WEEK = [
    row(Entry.SHIPPING_PAID, 500),
    row(Entry.POSTAGE_ESTIMATED, -82),
    row(Entry.MATERIALS, -16),
    row(Entry.SHIPPING_PAID, 2200, 2, date(2026, 12, 1), country="FR", state=""),
    row(Entry.POSTAGE_ESTIMATED, -1740, 2, date(2026, 12, 1), country="FR", state=""),
    row(Entry.POSTAGE_ESTIMATED, 1740, 2, date(2026, 12, 1), country="FR", state="", why=REPLACED),
    row(Entry.POSTAGE_PAID, -1815, 2, date(2026, 12, 1), country="FR", state=""),
    row(Entry.MATERIALS, -45, 2, date(2026, 12, 1), country="FR", state=""),
    row(Entry.BUYER_REFUND, -100, 2, date(2026, 12, 1), country="FR", state=""),
]


@pytest.fixture
def week(sitting):
    return enter(sitting, WEEK)


def enter(sitting, rows):
    with sitting.store.act("enter") as tx:
        ledger.add(tx, rows)
    return sitting


def test_a_worked_week_adds_up_by_hand(week):
    november, december = read_sums(week, GroupBy.MONTH)
    assert (november.postage, november.margin, november.is_estimated) == (Money(82), Money(402), True)
    # 22.00 - 18.15 - 0.45 - 1.00 = 2.40; the estimate of 17.40 has been replaced
    assert (december.postage, december.margin, december.is_estimated) == (Money(1815), Money(240), False)
    assert (november.packages, december.packages) == (1, 1)


@pytest.mark.parametrize("by", list(GroupBy))
def test_sums_are_equal_however_they_are_grouped(week, by):
    lines = read_sums(week, by)
    assert sum(line.margin.minor for line in lines) == 642
    assert sum(line.packages for line in lines) == 2


AMOUNTS = st.tuples(
    st.sampled_from(list(Entry)),
    st.integers(-9999, 9999),
    st.integers(1, 5),
    st.dates(date(2025, 1, 1), date(2026, 12, 31)),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(st.lists(AMOUNTS, max_size=30))
def test_grouping_loses_no_cent(sitting, amounts):
    with sitting.store.writing() as conn:
        conn.execute(schema.ledger.delete())
    rows = [row(*each) for each in amounts]
    enter(sitting, rows)
    totals = {by: sum(line.margin.minor for line in read_sums(sitting, by)) for by in GroupBy}
    assert set(totals.values()) == {sum(one.amount.minor for one in rows)}


def test_two_currencies_are_never_added(week):
    enter(week, [replace(row(Entry.SHIPPING_PAID, 900), amount=Money(900, "EUR"))])
    lines = read_sums(week, GroupBy.YEAR)
    assert [(line.currency, line.margin.minor, line.packages) for line in lines] == [("EUR", 900, 0), ("USD", 642, 2)]


def test_days_outside_are_left_out(week):
    assert read_sums(week, GroupBy.YEAR, date(2026, 11, 3), date(2026, 11, 30)) == []
    (line,) = read_sums(week, GroupBy.DAY, date(2026, 11, 2), date(2026, 11, 30))
    assert (line.group, line.margin.minor) == ("2026-11-02", 402)
    assert years_with_money(week) == [2026]


def test_totals_of_every_grouping_have_the_same_sum(week):
    found = list(totals(week))
    assert {by for by, _ in found} == set(TOTALED)
    for by in TOTALED:
        assert sum(sum_cells(line)[-1] for each, line in found if each is by) == Decimal("6.42")
    assert [line.group for by, line in found if by is GroupBy.COUNTRY] == ["FR", "US"]


def test_shipping_costs_are_listed_by_destination_with_overcharged_orders():
    costs = shipping_costs(WEEK)
    assert [(one.group, one.cost.minor, one.paid.minor) for one in costs] == [
        ("United States", 98, 500),
        ("Other countries", 1860, 2100),
    ]
    assert [one.order for one in overcharged(costs, Money(240))] == ["1001"]
    assert [one.order for one in overcharged(costs, Money(239))] == ["1001", "1002"]
    assert [(one.advice.group, one.advice.break_even.minor) for one in charging(costs, "USD")] == [
        ("United States", 98),
        ("Other countries", 1860),
    ]


pytestmark = pytest.mark.stocked([made.order("1001")], weights={"1001": made.weighing("0.7")}, stamped=[1])


def test_hand_over_enters_the_amounts_once_and_undo_reverses_them(sitting, pile):
    money = pile.verdicts[1].money
    hand_pieces_over(sitting, pile, [1])
    (line,) = read_sums(sitting, GroupBy.BATCH)
    assert line.group == sitting.clock.now().isoformat(timespec="microseconds")
    over = pile.verdicts[1].stamps.overpaid if pile.verdicts[1].stamps else Money(0)
    assert line.margin == money.margin - over
    undo(sitting)
    assert read_sums(sitting, GroupBy.YEAR) == []
    hand_pieces_over(sitting, pile, [1])
    (line,) = read_sums(sitting, GroupBy.YEAR)
    assert line.margin == money.margin - over


def test_the_year_file_has_a_row_per_month_and_explains_its_columns(week, tmp_path):
    from python_calamine import CalamineWorkbook

    assert write_year(week, 2026, None, tmp_path / "2026.xlsx")
    book = CalamineWorkbook.from_path(tmp_path / "2026.xlsx")
    assert book.sheet_names == ["Columns", "Months", "Totals", "Ledger"]
    months = book.get_sheet_by_name("Months").to_python()
    assert [row[0] for row in months] == ["Month", "2026-11", "2026-12"]
    assert months[2][3:] == [22.0, 18.15, 0.0, 0.0, 0.0, 0.45, 1.0, 0.0, 2.4]
    explained = {row[1] for row in book.get_sheet_by_name("Columns").to_python()}
    assert set(months[0]) <= explained


def test_the_year_file_names_services_in_words(sitting, tmp_path):
    from python_calamine import CalamineWorkbook

    enter(sitting, [replace(row(Entry.POSTAGE_PAID, -82), service="letter-stamped")])
    assert write_year(sitting, 2026, None, tmp_path / "2026.xlsx")
    book = CalamineWorkbook.from_path(tmp_path / "2026.xlsx")
    assert [line[5] for line in book.get_sheet_by_name("Ledger").to_python()] == ["Service", "letter, stamped"]
    totals_of = [line[:2] for line in book.get_sheet_by_name("Totals").to_python()]
    assert ["service", "letter, stamped"] in totals_of
    assert ["year", "2026"] in totals_of


def test_a_formula_typed_by_a_buyer_stays_text(tmp_path):
    from python_calamine import CalamineWorkbook

    sheet = BookSheet("Notes", [BookColumn("Note", "Words.")], [["=1+1"], ["http://a.example"]])
    announced = []
    assert write_workbook(tmp_path / "notes.xlsx", [sheet], lambda *news: announced.append(news))
    assert announced == [(2, 2)]  # few rows too are reported once, at the end
    rows = CalamineWorkbook.from_path(tmp_path / "notes.xlsx").get_sheet_by_name("Notes").to_python()
    assert rows == [["Note"], ["=1+1"], ["http://a.example"]]


def test_a_canceled_year_file_leaves_nothing_behind(sitting, tmp_path):
    enter(sitting, [row(Entry.MATERIALS, -5, n) for n in range(2500)])
    announced = []
    file = tmp_path / "2026.xlsx"
    assert not write_year(sitting, 2026, None, file, lambda *news: announced.append(news), lambda: True)
    assert not file.exists()
    assert [done for done, _ in announced] == [1000]
    assert announced[0][1] >= 2500
