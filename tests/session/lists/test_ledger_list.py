"""The ledger as CSV: the same cents as on screen, whole or not at all."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.ledger import Entry, GroupBy, LedgerRow
from desk.domain.money import Money
from desk.domain.status import PieceStatus
from desk.session.lists.ledger_list import BATCH_COLUMNS, STEP, batch_ledger, save_ledger, save_totals
from desk.session.money.books import read_sums
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.bulk_changes import set_beside
from desk.session.undo import undo
from desk.store.tables import ledger
from tests.session import made

YEAR = date(2026, 1, 1), date(2026, 12, 31)


pytestmark = pytest.mark.stocked(
    [made.order("1001"), made.order("=1002")], weights={"1001": made.weighing("0.7"), "=1002": made.weighing("0.7")}
)


def leave(sitting, pile, numbers):
    put_stamps_on(sitting, pile, numbers)
    hand_pieces_over(sitting, pile, numbers)


def read(file):
    with file.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def test_the_ledger_file_adds_up_to_the_sum_on_screen_and_formulas_stay_text(sitting, pile, tmp_path) -> None:
    leave(sitting, pile, [1, 2])
    assert save_ledger(sitting, YEAR, tmp_path / "ledger.csv")
    rows = read(tmp_path / "ledger.csv")
    (year,) = read_sums(sitting, GroupBy.YEAR)
    assert sum(Decimal(row["amount"]) for row in rows) == year.margin.amount
    # 5.00 shipping paid less 0.82 postage, 0.12 mailer (24.00 / 200), 0.04 insert and 0.03 label, each on two packages
    assert year.margin == Money(2 * (500 - 82 - 12 - 4 - 3))
    assert {row["order"] for row in rows} == {"1001", "'=1002"}


def test_totals_of_each_grouping_are_equal_to_the_cent(sitting, pile, tmp_path) -> None:
    leave(sitting, pile, [1])
    leave(sitting, pile, [2])
    save_totals(sitting, YEAR, tmp_path / "totals.csv")
    rows = read(tmp_path / "totals.csv")
    by = {row["by"] for row in rows}
    assert by == {"year", "month", "day", "batch", "destination", "state", "service"}
    margins = {each: sum(Decimal(row["margin"]) for row in rows if row["by"] == each) for each in by}
    assert set(margins.values()) == {Decimal("7.98")}  # 2 x (5.00 - 0.82 - 0.12 - 0.04 - 0.03)
    assert {row["packages"] for row in rows if row["by"] == "destination"} == {"2"}


def test_a_batch_shows_what_it_entered_and_what_it_will_enter(sitting, pile) -> None:
    leave(sitting, pile, [1])
    rows = [dict(zip(BATCH_COLUMNS, row, strict=True)) for row in batch_ledger(sitting, list(pile.verdicts.values()))]
    assert {(row["order"], row["handed_over"]) for row in rows} == {("1001", "yes"), ("=1002", "no")}
    sums = {order: sum(row["amount"] for row in rows if row["order"] == order) for order in ("1001", "=1002")}
    assert sums == {"1001": Decimal("3.99"), "=1002": Decimal("3.99")}


def handed_over(sitting, pile):
    """Return for each order whether its rows say it was handed over."""
    rows = [dict(zip(BATCH_COLUMNS, row, strict=True)) for row in batch_ledger(sitting, list(pile.verdicts.values()))]
    return {(row["order"], row["handed_over"]) for row in rows}


def test_after_an_undone_hand_over_its_amounts_are_expected_again(sitting, pile) -> None:
    leave(sitting, pile, [1])
    undo(sitting)
    pile.read_all()
    assert handed_over(sitting, pile) == {("1001", "no"), ("=1002", "no")}


def test_a_piece_set_aside_is_not_expected(sitting, pile) -> None:
    set_beside(sitting, [2], PieceStatus.SET_ASIDE, "damaged")
    pile.read_all()
    assert handed_over(sitting, pile) == {("1001", "no")}


def test_a_canceled_ledger_leaves_no_file_and_reports_progress(sitting, tmp_path) -> None:
    rows = [
        LedgerRow(
            entry=Entry.MATERIALS, amount=Money(-5), mailed_on=YEAR[0], piece_id=n, order=str(n), reference=f"{n}-1"
        )
        for n in range(STEP + 1)
    ]
    with sitting.store.act("enter") as tx:
        ledger.add(tx, rows)
    reported: list[tuple[int, int]] = []
    file = tmp_path / "ledger.csv"
    assert not save_ledger(sitting, YEAR, file, lambda *news: reported.append(news), lambda: len(reported) == 1)
    assert reported == [(0, STEP + 1)]
    assert not file.exists()
    assert save_ledger(sitting, YEAR, file, lambda *news: reported.append(news))
    assert reported[1:] == [(0, STEP + 1), (STEP, STEP + 1)]
    assert len(read(file)) == STEP + 1
