"""Tables: any cells are read back by a CSV reader, formulas are disarmed, and the money columns add up."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.finding import REPORTED_ONCE
from desk.session.contents.tables import (
    DECLARATION_COLUMNS,
    FINDING_COLUMNS,
    PIECE_COLUMNS,
    Cell,
    begins_like_formula,
    declaration_rows,
    finding_rows,
    piece_row,
    write_table,
)
from desk.session.lists.postage_list import COLUMNS, postage_rows
from desk.session.pile.batch import Batch, judge_batch
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.verdict.verdict import Terms
from tests.property.session_acts import ANY_ACT, Act, do, followed, fresh_sitting

TEXT = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\x00"), max_size=20)
NUMBER = st.one_of(st.integers(-(10**9), 10**9), st.decimals("-1e9", "1e9", allow_nan=False, places=3))
CELLS = st.one_of(st.none(), TEXT, NUMBER)
MANY = st.lists(ANY_ACT, min_size=1, max_size=12)


def read_back(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def written(columns: Sequence[str], rows: list[list[Cell]]) -> list[list[str]]:
    out = io.StringIO(newline="")
    write_table(out, columns, rows)
    return read_back(out.getvalue())


def awake(cell: str) -> str:
    """Return what a person reads in a cell: without the character that disarms a formula."""
    return cell[1:] if cell.startswith("'") and begins_like_formula(cell[1:]) else cell


@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), max_size=6))
def test_any_cells_are_read_back(rows: list[list[Cell]]) -> None:
    header, *got = written(["a", "b", "c"], rows)
    assert header == ["a", "b", "c"]
    assert len(got) == len(rows)
    for row, back in zip(rows, got, strict=True):
        for cell, text in zip(row, back, strict=True):
            if cell is None:
                assert text == ""
            elif isinstance(cell, str):
                assert awake(text) in (cell.replace("\r\n", "\n").replace("\r", "\n"), cell, text)
                assert len(text) - len(cell.replace("\r\n", "\n")) in (0, 1)
            else:
                assert Decimal(text) == cell


@given(st.text(st.sampled_from("=+-@\t\r\n'a1, \";\uff1d\u200b"), max_size=8))
def test_no_text_cell_begins_like_a_formula(text: str) -> None:
    ((_,), (cell,)) = written(["a"], [[text + "x"]])
    assert not begins_like_formula(cell)


@given(NUMBER)
def test_a_number_stays_a_number_positive_or_negative(number: int | Decimal) -> None:
    ((_,), (cell,)) = written(["a"], [[number]])
    assert Decimal(cell) == number
    assert "e" not in cell.lower()


def judged(acts: list[Act]) -> tuple[Batch, Terms]:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
        terms = read_terms(sitting)
        return judge_batch([each.case for each in read_stored(sitting)], terms), terms


def table(columns: Sequence[str], rows: list[list[Cell]]) -> list[dict[str, str]]:
    header, *body = written(columns, rows)
    assert header == list(columns)
    assert {len(row) for row in body} <= {len(columns)}
    return [dict(zip(columns, row, strict=True)) for row in body]


@settings(max_examples=10)
@given(MANY)
def test_money_columns_of_pieces_add_up(acts: list[Act]) -> None:
    batch, terms = judged(acts)
    for row in table(PIECE_COLUMNS, [piece_row(verdict, "USD") for verdict in batch.verdicts]):
        amount = {name: Decimal(row[name] or 0) for name in ("charged", "refund", "postage", "materials", "margin")}
        assert bool(row["margin"]) == bool(row["postage"]) == bool(row["service"])
        if row["margin"]:
            spent = amount["refund"] + amount["postage"] + amount["materials"]
            assert amount["margin"] == amount["charged"] - spent, row["order"]
        if row["extra_postage"]:
            assert row["service"] == "letter-stamped"
            assert Decimal(row["extra_postage"]) >= 0
        for name in ("charged", "refund", "postage", "materials", "margin", "extra_postage"):
            assert not row[name] or row[name].partition(".")[2].isdigit()
            assert len(row[name].partition(".")[2]) in (0, 2)
    assert terms.shop.policy.currency == "USD"


@settings(max_examples=10)
@given(MANY)
def test_every_reported_finding_is_in_both_tables(acts: list[Act]) -> None:
    batch, _ = judged(acts)
    pieces = table(PIECE_COLUMNS, [piece_row(verdict, "USD") for verdict in batch.verdicts])
    rows = table(FINDING_COLUMNS, finding_rows(batch, []))
    for row in pieces:
        codes = [each["code"] for each in rows if (each["order"], each["piece"]) == (row["order"], row["piece"])]
        listed = row["findings"].split(";") if row["findings"] else []
        once = {each["code"] for each in rows if not each["order"]}
        assert [code for code in listed if code not in REPORTED_ONCE] == codes
        assert {code for code in listed if code in REPORTED_ONCE} <= once
    assert {row["severity"] for row in rows} <= {"stop", "look", "note"}
    for row in rows:
        assert row["message"]
        assert row["fix"] or row["severity"] == "note", row["code"]


@settings(max_examples=10)
@given(MANY)
def test_declarations_belong_to_pieces_that_need_one(acts: list[Act]) -> None:
    batch, terms = judged(acts)
    pieces = {
        (row["order"], row["piece"]): row["declaration"]
        for row in table(PIECE_COLUMNS, [piece_row(verdict, "USD") for verdict in batch.verdicts])
    }
    rows = table(DECLARATION_COLUMNS, declaration_rows(batch, terms))
    assert {key for key, form in pieces.items() if form != "none"} == {(row["order"], row["piece"]) for row in rows}
    counted: dict[tuple[str, str], int] = {}
    for row in rows:
        key = (row["order"], row["piece"])
        assert row["form"] == pieces[key]
        counted[key] = counted.get(key, 0) + 1
        assert row["line"] == str(counted[key])
        assert int(row["quantity"]) >= 1
        assert Decimal(row["value"]) >= 0


@settings(max_examples=10)
@given(MANY)
def test_postage_to_buy_is_for_pieces_with_a_price_and_no_stop(acts: list[Act]) -> None:
    batch, terms = judged(acts)
    known = {verdict.case.key.reference: verdict for verdict in batch.verdicts}
    rows = table(COLUMNS, postage_rows(batch, terms))
    assert len({row["reference"] for row in rows}) == len(rows)
    for row in rows:
        verdict = known[row["reference"]]
        assert not verdict.is_stopped
        assert verdict.offer is not None
        assert row["service"] == verdict.offer.service
        assert int(row["pounds"]) >= 0
        assert Decimal(0) <= Decimal(row["ounces"]) < 16
        assert int(row["pounds"]) + Decimal(row["ounces"]) > 0
        assert row["address1"]
