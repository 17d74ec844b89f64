"""`tare-and-tag costs`: the same cents as the store's ledger, and a sentence for every refusal."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from desk.app.main import console
from desk.domain.resources import resources
from desk.session.money.books import read_books
from desk.session.papers.hand_over import hand_everything_over
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.store.store import open_store
from tests.app.headless import Desk
from tests.conftest import StillClock
from tests.session.made import ON


@pytest.fixture
def data(tmp_path: Path, clock: StillClock) -> Path:
    """Data in which everything ready was handed over."""
    file = tmp_path / "kept.sqlite"
    Desk(tmp_path).run("--store", str(file), "--date", ON.isoformat())
    store = open_store(file, clock)
    sitting = Sitting(store, clock, read_rulebook(resources()), ON)
    hand_everything_over(sitting, Pile(sitting))
    store.close()
    return file


def test_the_files_contain_the_sums_of_the_ledger(data: Path, tmp_path: Path, clock: StillClock, capsys) -> None:
    out = tmp_path / "books"
    assert console(["costs", "--store", str(data), "--out", str(out)]) == 0
    assert sorted(file.name for file in out.iterdir()) == ["costs-2026.xlsx", "ledger.csv", "totals.csv"]
    store = open_store(data, clock)
    rows = read_books(Sitting(store, clock, read_rulebook(resources()), ON))
    store.close()
    cents = sum(row.amount.minor for row in rows)
    with (out / "ledger.csv").open(encoding="utf-8") as lines:
        assert sum(Decimal(row["amount"]) for row in csv.DictReader(lines)) == Decimal(cents) / 100
    with (out / "totals.csv").open(encoding="utf-8") as lines:
        (year,) = (row for row in csv.DictReader(lines) if row["by"] == "year")
    assert (year["packages"], Decimal(year["margin"])) == ("2", Decimal(cents) / 100)
    assert "1 workbook" in capsys.readouterr().out


@pytest.mark.parametrize("year", ["2025", "2027"])
def test_a_year_without_costs_says_so(data: Path, tmp_path: Path, year: str, capsys) -> None:
    assert console(["costs", "--store", str(data), "--out", str(tmp_path / "books"), "--year", year]) == 2
    assert f"Nothing was handed over in {year}" in capsys.readouterr().err
    assert not (tmp_path / "books").exists()


def test_help_says_what_is_written_without_mentioning_the_code(capsys) -> None:
    with pytest.raises(SystemExit) as ended:
        console(["costs", "--help"])
    assert ended.value.code == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "Write the ledger, its totals and a workbook for each year into a folder. options:" in printed


def test_a_missing_store_is_not_created(tmp_path: Path, capsys) -> None:
    missing = tmp_path / "none.sqlite"
    assert console(["costs", "--store", str(missing), "--out", str(tmp_path)]) == 2
    assert "There is no data in" in capsys.readouterr().err
    assert not missing.exists()
