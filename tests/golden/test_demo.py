"""The demo batch's tables as last approved by a person, and every code on its papers read back.

After an intended change, run with UPDATE_GOLDEN=1, read the difference, and commit the new files.
"""

import csv
import os
from collections import defaultdict
from decimal import Decimal
from pathlib import Path

import pytest

from tests.paper.codes import codes_on_pages

HERE = Path(__file__).parent / "demo"


@pytest.mark.parametrize("name", ["pieces.csv", "findings.csv", "declarations.csv", "postage-list.csv"])
def test_tables_equal_the_approved_ones(demo_out, name):
    got = (demo_out / name).read_text(encoding="utf-8")
    if os.environ.get("UPDATE_GOLDEN"):
        HERE.mkdir(exist_ok=True)
        (HERE / name).write_text(got, encoding="utf-8")
    assert got.splitlines() == (HERE / name).read_text(encoding="utf-8").splitlines()


def pieces(demo_out):
    with (demo_out / "pieces.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_code_of_every_slip_can_be_read(demo_out):
    references = [f"{row['order']}-{row['piece']}" for row in pieces(demo_out)]
    assert len(references) > 60
    assert list(codes_on_pages(demo_out / "slips.pdf")) == [(reference,) for reference in references]


def test_the_code_of_every_label_can_be_read_and_belongs_to_a_labeled_piece(demo_out):
    with (demo_out / "findings.csv").open(encoding="utf-8", newline="") as file:
        stopped = {(row["order"], row["piece"]) for row in csv.DictReader(file) if row["severity"] == "stop"}
    ours = {"letter-stamped", "flat"}
    wanted = [
        f"{row['order']}-{row['piece']}"
        for row in pieces(demo_out)
        if row["service"] in ours and (row["order"], row["piece"]) not in stopped
    ]
    assert len(wanted) >= 18
    assert [codes[0] if codes else "" for codes in codes_on_pages(demo_out / "labels.pdf")] == wanted


def test_the_ledger_adds_up_to_the_margins_of_the_pieces(demo_out):
    """Only stamps worth more than the postage are in the ledger and not in the margin; canceled pieces have no rows."""
    with (demo_out / "ledger.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if not row["entry"].startswith("stamps ")]
    entered: dict[str, Decimal] = defaultdict(Decimal)
    for row in rows:
        entered[row["reference"]] += Decimal(row["amount"])
    priced = {f"{row['order']}-{row['piece']}": Decimal(row["margin"]) for row in pieces(demo_out) if row["margin"]}
    beside = {
        f"{row['order']}-{row['piece']}" for row in pieces(demo_out) if row["stands"] in ("canceled", "set aside")
    }
    assert entered == {reference: margin for reference, margin in priced.items() if reference not in beside}
    assert any(row["why"].startswith("not decided yet") for row in rows)
