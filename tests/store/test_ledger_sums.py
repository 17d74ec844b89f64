"""Sums made by the database are those of the rows, on a file and on a server."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date

from desk.domain.ledger import REPLACED, Entry, GroupBy
from desk.domain.money import Money
from desk.store import undo
from desk.store.store import Store
from desk.store.tables import ledger, ledger_sums
from tests.store.test_ledger import add, row


def entered(store: Store) -> list[ledger.LedgerRow]:
    rows = [
        row(7, -720, date(2026, 11, 28)),
        row(7, 500, date(2026, 11, 28), entry=Entry.SHIPPING_PAID),
        row(8, -82, date(2026, 12, 1), service="letter-stamped", state="WA"),
        row(9, -1740, date(2027, 1, 2), country="FR", state="", service="intl-package"),
    ]
    add(store, *rows)
    return rows


def test_amounts_are_added_up_by_month_and_entry(store: Store) -> None:
    rows = entered(store)
    expected: Counter[tuple[str, Entry]] = Counter()
    for one in rows:
        expected[one.mailed_on.isoformat()[:7], one.entry] += one.amount.minor
    with store.reading() as conn:
        found = ledger_sums.sums(conn, GroupBy.MONTH)
        assert {(one.group, one.entry): one.minor for one in found} == dict(expected)
        assert ledger_sums.years(conn) == [2027, 2026]


def test_every_grouping_works_and_days_are_included_on_both_ends(store: Store) -> None:
    entered(store)
    with store.reading() as conn:
        for by in GroupBy:
            found = ledger_sums.sums(conn, by, date(2026, 11, 28), date(2026, 12, 1))
            assert sum(one.minor for one in found) == 500 - 720 - 82
            counted = ledger_sums.packages(conn, by, date(2026, 11, 28), date(2026, 12, 1))
            assert sum(counted.values()) == 2


def test_a_package_counts_once_and_not_after_undo(store: Store) -> None:
    entered(store)
    # a paid amount replaces an estimate: still one package
    add(store, row(8, 82, date(2026, 12, 1)), row(8, -95, date(2026, 12, 1), entry=Entry.POSTAGE_PAID))
    with store.reading() as conn:
        assert ledger_sums.packages(conn, GroupBy.COUNTRY) == {("US", "USD"): 2, ("FR", "USD"): 1}
    undo.undo(store)
    undo.undo(store)
    with store.reading() as conn:
        assert ledger_sums.packages(conn, GroupBy.COUNTRY) == {}


def test_an_undone_estimate_is_left_out(store: Store) -> None:
    """6.00 was undone and 4.50 estimated again, with 4.70 paid in the end."""
    add(store, *(row(7, cents) for cents in (-600, 600, -450)))
    add(store, row(7, 450, why=REPLACED), row(7, -470, entry=Entry.POSTAGE_PAID))
    with store.reading() as conn:
        (found,) = ledger_sums.paid_against_estimated(conn)
    assert (found.estimated, found.paid) == (450, 470)


def test_two_currencies_are_added_up_separately(store: Store) -> None:
    add(store, row(7, -720), replace(row(8), amount=Money(-900, "EUR")))
    with store.reading() as conn:
        found = ledger_sums.sums(conn, GroupBy.YEAR)
        assert [(one.currency, one.minor) for one in found] == [("EUR", -900), ("USD", -720)]
        assert ledger_sums.packages(conn, GroupBy.YEAR) == {("2026", "EUR"): 1, ("2026", "USD"): 1}
