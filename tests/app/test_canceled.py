"""A stored order that is canceled later: the next run sets it aside without label or stamps and reports it."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from desk.app.run import run

SHOP = """
[sender]
name = "Sorrel Street Bindery"
address1 = "PO Box 99017"
city = "Duluth"
region = "MN"
postal_code = "55802"
country = "US"

[policy]
skip_status = ["canceled"]

[[mailers]]
name = "env"
kind = "envelope"
length = "9.5"
width = "4.125"
thickness = "0.05"
size_unit = "in"

[[products]]
sku = "C"
name = "Card"

[[stamps]]
kind = "forever"
count = 2
"""
HEAD = "order,recipient,address1,city,region,postal_code,country,item,sku,quantity,unit_price,shipping_paid,status\n"
ROW = "{number},Ada Quist,41 Gluepot Rd,Duluth,MN,55804,US,Card,C,1,6.00,5.00,{status}\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "shop.toml").write_text(SHOP)
    (tmp_path / "weights.csv").write_text("order,gross,unit,mailer,division\n1,0.5,oz,env,0.01\n2,0.5,oz,env,0.01\n")
    return tmp_path


def go(folder: Path, first: str, second: str) -> tuple[int, dict[str, dict[str, str]], dict[str, object]]:
    rows = ROW.format(number=1, status=first) + ROW.format(number=2, status=second)
    (folder / "orders.csv").write_text(HEAD + rows)
    files = {"--orders": "orders.csv", "--weights": "weights.csv", "--shop": "shop.toml", "--out": "out"}
    words = [str(word) for name, file in files.items() for word in (name, folder / file)]
    code = run([*words, "--date", "2026-11-25"])
    with (folder / "out" / "pieces.csv").open(newline="") as lines:
        pieces = {row["order"]: row for row in csv.DictReader(lines)}
    return code, pieces, json.loads((folder / "out" / "summary.json").read_text())


def test_an_order_canceled_from_the_start_is_not_stored(folder: Path) -> None:
    _, pieces, summary = go(folder, "paid", "canceled")

    assert list(pieces) == ["1"]
    assert summary["counts"]["skipped"] == {"canceled": 1}


def test_an_order_canceled_later_is_set_aside_without_label_or_stamps(folder: Path) -> None:
    code, pieces, summary = go(folder, "paid", "paid")
    assert code == 0
    assert summary["pages"]["labels.pdf"] == 2

    code, pieces, summary = go(folder, "paid", "canceled")

    assert code == 0
    assert [row["stands"] for row in pieces.values()] == ["ready", "canceled"]
    assert summary["pages"]["labels.pdf"] == 1
    assert summary["counts"]["stands"]["canceled"] == 1
    assert summary["changed"] == [{"order": "2"}]


def test_the_same_cancellation_again_is_not_reported(folder: Path) -> None:
    go(folder, "paid", "paid")
    go(folder, "paid", "canceled")

    _, pieces, summary = go(folder, "paid", "canceled")

    assert pieces["2"]["stands"] == "canceled"
    assert summary["changed"] == []


def test_an_order_that_is_paid_after_being_canceled_is_mailed(folder: Path) -> None:
    for second in ("paid", "canceled"):
        go(folder, "paid", second)

    code, pieces, summary = go(folder, "paid", "paid")

    assert code == 0
    assert [row["stands"] for row in pieces.values()] == ["ready", "ready"]
    assert summary["pages"]["labels.pdf"] == 2
    assert summary["changed"] == [{"order": "2"}]
    assert go(folder, "paid", "paid")[2]["changed"] == []
