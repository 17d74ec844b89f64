"""Rules of the handbook for the tables of a run, tested on the demo, which has every common finding."""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

WITHOUT = {"no-service", "destination-barred", "destination-suspended"}


def demo_rows(folder: Path, name: str = "pieces.csv") -> list[dict[str, str]]:
    with (folder / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    return rows


def test_a_service_is_named_even_where_a_finding_stops_the_piece(demo_out: Path) -> None:
    for row in demo_rows(demo_out):
        if row["gross_g"]:
            assert (row["service"] == "") == bool(WITHOUT & set(row["findings"].split(";"))), row["order"]
            assert (row["postage"] == "") == (row["service"] == "")


def test_money_has_two_decimals_and_weights_three(demo_out: Path) -> None:
    for row in demo_rows(demo_out):
        for name in ("postage", "extra_postage", "materials", "charged", "refund", "margin"):
            assert re.fullmatch(r"(-?\d+\.\d\d)?", row[name]), (row["order"], name)
        for name in ("gross_g", "gross_oz"):
            assert re.fullmatch(r"(\d+\.\d{3})?", row[name]), (row["order"], name)


WORDS: dict[str, Any] = {
    "shape": {"letter", "flat", "parcel", ""},
    "machinable": {"yes", "no", ""},
    "billable_unit": {"oz", "lb", ""},
    "declaration": {"none", "CN22", "CN23"},
    "stands": {"to weigh", "needs a look", "ready"},
    "currency": {"USD"},
}


@pytest.mark.parametrize("column", WORDS)
def test_columns_contain_only_the_documented_words_and_all_of_them(demo_out: Path, column: str) -> None:
    found = {row[column] for row in demo_rows(demo_out)}
    assert found <= WORDS[column]
    assert found >= WORDS[column] - {""}


def test_a_pieces_status_follows_from_its_findings(demo_out: Path) -> None:
    severity = {
        (row["order"], row["piece"], row["code"]): row["severity"] for row in demo_rows(demo_out, "findings.csv")
    }
    for row in demo_rows(demo_out):
        found = [code for code in row["findings"].split(";") if code]
        once = {code: weight for (order, _, code), weight in severity.items() if not order}
        heaviest = {severity.get((row["order"], row["piece"], code)) or once[code] for code in found}
        if row["gross_g"]:
            assert (row["stands"] == "needs a look") == bool(heaviest & {"stop", "look"})
        else:
            assert row["stands"] == "to weigh"
        assert len(found) == len(set(found))


def test_every_finding_of_a_piece_is_in_both_tables(demo_out: Path) -> None:
    listed = {(row["order"], row["piece"], row["code"]) for row in demo_rows(demo_out, "findings.csv") if row["piece"]}
    pieces = {(row["order"], row["piece"]) for row in demo_rows(demo_out)}
    once = {row["code"] for row in demo_rows(demo_out, "findings.csv") if not row["order"]}
    reported = {
        (row["order"], row["piece"], code) for row in demo_rows(demo_out) for code in row["findings"].split(";") if code
    }
    assert {each for each in listed if each[:2] in pieces} <= reported
    assert {code for *_, code in reported - listed} <= once


def test_only_stamped_pieces_have_stamps_and_extra_postage(demo_out: Path) -> None:
    stamp = re.compile(r"\d+ [a-z_]+( \d+\.\d\d)?( \+ \d+ [a-z_]+( \d+\.\d\d)?)*")
    for row in demo_rows(demo_out):
        if row["stamps"]:
            assert stamp.fullmatch(row["stamps"]), row["stamps"]
            assert not row["service"].startswith(("ground", "priority", "media", "letter-metered"))
        assert (row["extra_postage"] != "") == (row["service"] == "letter-stamped")


def test_shipping_is_charged_once_per_order(demo_out: Path) -> None:
    rows = demo_rows(demo_out)
    assert {row["piece"] for row in rows} >= {"1", "2"}
    for row in rows:
        assert row["piece"] == "1" or row["charged"] in ("", "0.00")
    assert sum(row["charged"] not in ("", "0.00") for row in rows) > len(rows) / 2


def test_a_zone_is_shown_where_the_price_depends_on_it(demo_out: Path) -> None:
    for row in demo_rows(demo_out):
        zoned = row["service"].startswith(("ground-", "priority-retail", "priority-commercial", "intl-"))
        assert (row["zone"] != "") == zoned or row["service"].startswith("media"), (row["order"], row["service"])


def test_the_postage_list_contains_everything_to_type_in(demo_out: Path) -> None:
    rows = demo_rows(demo_out, "postage-list.csv")
    assert rows
    references = {f"{row['order']}-{row['piece']}" for row in demo_rows(demo_out)}
    for row in rows:
        assert row["reference"] in references
        assert int(row["pounds"]) >= 0
        assert 0 <= Decimal(row["ounces"]) < 16
        assert row["service"]


def test_a_declaration_is_filled_in_even_without_an_eligible_service(demo_out: Path) -> None:
    abroad = [row for row in demo_rows(demo_out) if row["destination"] not in ("US", "")]
    assert any(row["service"] == "" and row["declaration"] != "none" for row in abroad)
    lines = {(row["order"], row["form"]) for row in demo_rows(demo_out, "declarations.csv")}
    assert {(row["order"], row["declaration"]) for row in abroad if row["declaration"] != "none"} <= lines | {
        (row["order"], row["declaration"]) for row in abroad if row["piece"] != "1"
    }
