"""A worked week at the post, added up every way: the sums are equal however they are grouped."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.costs.workbook import BookColumn, BookSheet, write_workbook
from desk.domain.ledger import Entry, LedgerRow
from desk.domain.money import Money
from desk.session.money.books import GroupBy, add_up, read_books
from desk.session.money.charging import charging, overcharged, shipping_costs
from desk.session.money.year_file import write_year
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.undo import undo
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
    row(Entry.POSTAGE_ESTIMATED, 1740, 2, date(2026, 12, 1), country="FR", state="", why="paid amount entered"),
    row(Entry.POSTAGE_PAID, -1815, 2, date(2026, 12, 1), country="FR", state=""),
    row(Entry.MATERIALS, -45, 2, date(2026, 12, 1), country="FR", state=""),
    row(Entry.BUYER_REFUND, -100, 2, date(2026, 12, 1), country="FR", state=""),
]


def test_a_worked_week():
    november, december = add_up(WEEK, GroupBy.MONTH)
    assert (november.postage, november.margin, november.is_estimated) == (Money(82), Money(402), True)
    # 22.00 - 18.15 - 0.45 - 1.00 = 2.40; the estimate of 17.40 has been replaced
    assert (december.postage, december.margin, december.is_estimated) == (Money(1815), Money(240), False)


@pytest.mark.parametrize("by", list(GroupBy))
def test_sums_are_equal_however_they_are_grouped(by):
    assert sum(line.margin.minor for line in add_up(WEEK, by)) == 642


AMOUNTS = st.tuples(
    st.sampled_from(list(Entry)),
    st.integers(-9999, 9999),
    st.integers(1, 5),
    st.dates(date(2025, 1, 1), date(2026, 12, 31)),
)


@given(st.lists(AMOUNTS, max_size=30))
def test_no_grouping_loses_a_cent(amounts):
    rows = [row(*each) for each in amounts]
    totals = {by: sum(line.margin.minor for line in add_up(rows, by)) for by in GroupBy}
    assert set(totals.values()) == {sum(one.amount.minor for one in rows)}


def test_two_currencies_are_never_added():
    euros = replace(row(Entry.SHIPPING_PAID, 900), amount=Money(900, "EUR"))
    lines = add_up([*WEEK, euros], GroupBy.YEAR)
    assert [(line.currency, line.margin.minor) for line in lines] == [("EUR", 900), ("USD", 642)]


def test_shipping_costs_by_destination_and_who_paid_too_much():
    costs = shipping_costs(WEEK)
    assert [(one.group, one.cost.minor, one.paid.minor) for one in costs] == [
        ("United States", 98, 500),
        ("Other countries", 1860, 2200),
    ]
    assert [one.order for one in overcharged(costs, Money(340))] == ["1001"]
    assert [one.order for one in overcharged(costs, Money(339))] == ["1001", "1002"]
    assert [(one.group, one.break_even.minor) for one in charging(costs, "USD")] == [
        ("United States", 98),
        ("Other countries", 1860),
    ]


@pytest.fixture
def pile(sitting):
    made.stock(sitting, [made.order("1001")])
    pile = made.following_pile(sitting)
    made.weigh_piece(sitting, 1, made.weighing("0.7"))
    put_stamps_on(sitting, pile, [1])
    return pile


def test_handing_over_enters_the_money_once_and_undo_takes_it_back(sitting, pile):
    money = pile.verdicts[1].money
    hand_pieces_over(sitting, pile, [1])
    (line,) = add_up(read_books(sitting), GroupBy.YEAR)
    over = pile.verdicts[1].stamps.overpaid if pile.verdicts[1].stamps else Money(0)
    assert line.margin == money.margin - over
    undo(sitting)
    assert [line.margin.minor for line in add_up(read_books(sitting), GroupBy.YEAR)] == [0]
    hand_pieces_over(sitting, pile, [1])
    (line,) = add_up(read_books(sitting), GroupBy.YEAR)
    assert line.margin == money.margin - over


def test_the_year_file_has_a_month_a_row_and_explains_its_columns(tmp_path):
    from python_calamine import CalamineWorkbook

    assert write_year(WEEK, None, tmp_path / "2026.xlsx")
    book = CalamineWorkbook.from_path(tmp_path / "2026.xlsx")
    assert book.sheet_names == ["Columns", "Months", "Ledger"]
    months = book.get_sheet_by_name("Months").to_python()
    assert [row[0] for row in months] == ["Month", "2026-11", "2026-12"]
    assert months[2][3:] == [22.0, 18.15, 0.0, 0.0, 0.0, 0.45, 1.0, 0.0, 2.4]
    explained = {row[1] for row in book.get_sheet_by_name("Columns").to_python()}
    assert set(months[0]) <= explained


def test_a_buyers_formula_stays_a_text(tmp_path):
    from python_calamine import CalamineWorkbook

    sheet = BookSheet("Notes", [BookColumn("Note", "Words.")], [["=1+1"], ["http://a.example"]])
    write_workbook(tmp_path / "notes.xlsx", [sheet])
    rows = CalamineWorkbook.from_path(tmp_path / "notes.xlsx").get_sheet_by_name("Notes").to_python()
    assert rows == [["Note"], ["=1+1"], ["http://a.example"]]


def test_a_canceled_year_file_leaves_nothing_behind(tmp_path):
    rows = [row(Entry.MATERIALS, -5, n) for n in range(2500)]
    assert not write_year(rows, None, tmp_path / "2026.xlsx", lambda: True)
    assert list(tmp_path.iterdir()) == []
