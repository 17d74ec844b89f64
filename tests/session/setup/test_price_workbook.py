"""Workbooks in the operator's form: tabs, titles, blocks in ounces and pounds, notes below; made here, copied nowhere."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
import xlsxwriter

from desk.session.rulebook import Rulebook
from desk.session.setup.price_list_preview import ListHead, preview_chart, workbook_tables
from desk.session.setup.price_workbook import guessed_service, price_tables

HEAD = ListHead(date(2027, 1, 18), None, "January list (invented)")
ZONES = ["Zone 1", "Zone 2", "Zone 3", "Zone 4", "Zone 5", "Zone 6", "Zone 7", "Zone 8", "Zone 9"]


def prices(first: float) -> list[float]:
    return [round(first + step / 4, 2) for step in range(9)]


GROUND = [
    ["Invented price table"],
    ["Ground Advantage, retail"],
    [],
    ["Weight not over (oz)", *ZONES],
    ["4 oz", *prices(8.0)],
    ["15.999 oz", *prices(9.0)],
    ["Weight not over (lb)"],
    [1, *prices(10.0)],
    [2, *prices(11.5)],
    ["Oversized", *prices(160.0)],
    [],
    ["* A note below the table, with the number 12 in it."],
]
ABROAD = [
    ["Priority Mail International, retail"],
    ["Weight not over (lbs)", *(f"Group {group}" for group in range(1, 21))],
    [1, *(f"${40 + group}.50" for group in range(1, 21))],
    [2, *(f"${1040 + group:,}.50" for group in range(1, 20)), "n/a"],
]
LETTERS = [
    ["First-class letters and large envelopes"],
    ["Weight not over (oz)", "Letters, stamped", "Letters, metered", "Postcards"],
    [1, "0.85", "0.81", "0.68"],
    [2, "1.15", "1.11", ""],
]


@pytest.fixture
def book(tmp_path):
    def write(**tabs):
        path = tmp_path / "prices.xlsx"
        workbook = xlsxwriter.Workbook(path)
        for name, rows in tabs.items():
            sheet = workbook.add_worksheet(name.replace("_", " "))
            for at, cells in enumerate(rows):
                for column, cell in enumerate(cells):
                    sheet.write(at, column, cell)
        workbook.close()
        return path

    return write


def test_titles_blocks_and_notes_of_a_workbook_are_understood(book):
    (table,) = price_tables(book(GA_Retail=GROUND))
    assert (table.name, table.guess, table.faults) == ("GA Retail", "ground-retail", ())
    weights = list(dict.fromkeys(weight for _, weight, _, _ in table.lines))
    assert weights == ["4", "15.999", "16", "32", "oversized"]
    assert table.lines[0] == (5, "4", "1", "8")
    assert len(table.lines) == 5 * 9


def test_every_tab_with_a_certain_service_is_compared_cell_by_cell(book, rulebook: Rulebook):
    path = book(Notes=[["No table here"], ["just words"]], GA_Retail=GROUND, PMI=ABROAD, Letters=LETTERS)
    preview = preview_chart(path, HEAD, rulebook.charts)
    assert preview.faults == ()
    found = {chart.service: chart for chart in preview.lists}
    assert set(found) == {"ground-retail", "intl-priority", "letter-stamped", "letter-metered", "postcard"}
    ground, abroad = found["ground-retail"], found["intl-priority"]
    assert (ground.rows["5"][2].max_label, ground.rows["5"][2].price.text()) == ("16", "11.00")
    assert ground.oversized["9"].text() == "162.00"
    assert abroad.rows["7"][1].price.text() == "1047.50"
    assert len(abroad.rows["20"]) == 1  # a group may end early
    assert (ground.season, ground.effective, ground.source) == (False, HEAD.effective, HEAD.source)
    assert [row.price.text() for row in found["letter-metered"].rows[""]] == ["0.81", "1.11"]


TEN_ROWS = [[1, *prices(10.0)], [2, *prices(11.5)]]
LAYOUTS = {
    "a page of contents first": {"Contents": [["Invented prices"], ["Tab", "Table"]], "GA_Retail": GROUND},
    "an empty first column, and zones as numbers below their title": {
        "Table_7": [
            ["Ground, retail, from 2027-01-18"],
            [],
            ["", "Weight", "Zone"],
            ["", "not over (lb)", *range(1, 10)],
            *(["", *row] for row in TEN_ROWS),
            ["", "Notes"],
            ["", "Prices may change."],
        ]
    },
    "headers in two lines, a local zone and marks of notes": {
        "GA": [
            ["GROUND ADVANTAGE, RETAIL"],
            ["Weight\nnot over", "Local,\nZone 1", *(f"Zone\n{zone}" for zone in range(2, 9)), "Zone\n9\u00b9"],
            ["1 lb*", *(f"${price:.2f}*" for price in prices(10.0))],
            ["2 lbs", *prices(11.5)],
            ["\u00b9 Zone 9 is for islands."],
        ]
    },
    "the unit in a line of its own": {
        "GA_Retail": [["Ground retail"], ["", "Zones"], ["Weight Not Over", *ZONES], ["(lbs.)"], *TEN_ROWS]
    },
    "weights with their unit, and a range of zones": {
        "GA_Retail": [
            ["Ground retail"],
            ["Not over", "Local & 1", *(f"Zone {zone}" for zone in range(2, 8)), "8 and 9"],
            *([f"{weight} lb", *costs[:8]] for weight, *costs in TEN_ROWS),
        ]
    },
}


@pytest.mark.parametrize("tabs", LAYOUTS.values(), ids=LAYOUTS)
def test_other_layouts_give_the_same_prices(book, rulebook, tabs):
    preview = preview_chart(book(**tabs), HEAD, rulebook.charts)
    assert preview.faults == ()
    (ground,) = preview.lists
    assert ground.service == "ground-retail"
    cells = {(row.max_label, key): row.price.text() for key, rows in ground.rows.items() for row in rows}
    assert [cells["16", key] for key in ("1", "2", "8")] == ["10.00", "10.25", "11.75"]
    assert cells["32", "9"] in ("13.50", "13.25")  # zone 9 may share the price of zone 8


def test_a_table_is_imported_as_the_chosen_service(book, rulebook):
    path = book(Sheet1=[["Prices"], *GROUND[3:6]], PMI=ABROAD)
    names = {"Sheet1": "ground-commercial", "PMI": ""}
    preview = preview_chart(path, replace(HEAD, services=names), rulebook.charts)
    assert [chart.service for chart in preview.lists] == ["ground-commercial"]
    unnamed = preview_chart(path, replace(HEAD, services={"PMI": ""}), rulebook.charts)
    assert [fault.expected for fault in unnamed.faults] == ["at least one price"]


@pytest.mark.parametrize(
    ("cell", "reported"),
    [("soon", "prices.xlsx, GA Retail: line 5, 1: 'soon' found, expected a price such as 7.90"), ("-8", "'-8' found")],
)
def test_a_cell_that_is_not_a_price_is_a_fault_with_tab_and_line(book, rulebook, cell, reported):
    rows = [list(row) for row in GROUND]
    rows[4][1] = cell
    preview = preview_chart(book(GA_Retail=rows), HEAD, rulebook.charts)
    assert any(reported in str(fault) for fault in preview.faults)
    assert preview.lists == ()


def test_prices_without_a_weight_are_a_fault(book, rulebook):
    rows = [*GROUND[:5], ["heavy", *prices(9.0)], *GROUND[5:]]
    preview = preview_chart(book(GA_Retail=rows), HEAD, rulebook.charts)
    assert "'heavy' found, expected a weight such as 4 oz or 2 lb" in str(preview.faults[0])


def test_a_column_for_two_zones_is_read(book):
    header = ["Not over (lb)", "Zones 1 & 2", "Zone 3", "Zone 4"]
    (table,) = price_tables(book(PM_Retail=[header, [1, 9.0, 10.0, 11.0]]))
    assert [(key, price) for _, _, key, price in table.lines] == [("1-2", "9"), ("3", "10"), ("4", "11")]


def test_prices_by_volume_are_read(book):
    header = ["Cubic feet, up to", *ZONES]
    (table,) = price_tables(book(GA_Commercial_Cubic=[header, [0.1, *prices(7.0)], [0.2, *prices(8.0)]]))
    assert table.guess == "ground-cubic-commercial"
    assert {weight for _, weight, _, _ in table.lines} == {"0.10 cu ft", "0.20 cu ft"}


@pytest.mark.parametrize(
    ("words", "service"),
    [
        ("Ground Advantage Retail", "ground-retail"),
        ("Ground Advantage Commercial", "ground-commercial"),
        ("Ground Advantage", ""),
        ("Priority Mail Retail", "priority-retail"),
        ("Priority Mail Express Retail", ""),
        ("Priority Mail Flat Rate Retail", ""),
        ("Priority Mail International Retail", "intl-priority"),
        ("First-Class Package International Service", "intl-package"),
        ("Media Mail", "media"),
        ("Media Mail and Library Mail", ""),
        ("Large Envelopes (Flats)", "flat"),
        ("Letters, stamped or metered", ""),
    ],
)
def test_a_service_is_guessed_only_where_one_fits(words, service):
    assert guessed_service(words) == service


def test_a_sheet_in_our_own_format_is_not_read_as_a_workbook_of_the_operator(book):
    own = [["service", "weight_max", "key", "price"], ["letter-stamped", 1, "", 0.85]]
    assert workbook_tables(book(Sheet1=own)) == ()
