"""Order lists of other shops, headless: what is only near is suggested and never taken; what a mapping settles."""

from __future__ import annotations

import pytest

from tests.app.headless import ORDERS

NEAR = ORDERS.replace("order,recipient", "Ordr,Customer").replace(",country,item,", ",Cuntry,Title,")
TWO_REGIONS = ORDERS.replace(",region,", ",State,Region,").replace(",OR,", ",OR,West,").replace(",IA,", ",IA,Middle,")


def test_headers_that_are_only_similar_exit_with_2_and_suggestions(desk, capsys):
    desk.orders = NEAR
    assert desk.run() == 2
    file = desk.folder / "orders.csv"
    paste = "under [columns] in a mapping"
    assert capsys.readouterr().err.splitlines() == [
        f'{file}: line 1, order: expected a column for order; perhaps order = "Ordr" (1, 2). To use it, put order = "Ordr" {paste}',
        f'{file}: line 1, country: expected a column for country; perhaps country = "Cuntry" (US). To use it, put country = "Cuntry" {paste}',
    ]
    assert not desk.out.exists()


@pytest.mark.parametrize("more", ["", 'recipient = "Customer"\nitem = "Title"\n'])
def test_a_mapping_made_of_the_suggestions_completes_the_run(desk, more):
    desk.orders = NEAR
    desk.files["map.toml"] = f'[columns]\norder = "Ordr"\ncountry = "Cuntry"\n{more}'
    assert desk.run("--map", str(desk.folder / "map.toml")) == 0
    assert [row["recipient"] for row in desk.table("pieces.csv")] == ["Ada Vell", "Cy Bell"]


def test_a_column_of_postal_codes_is_not_suggested_as_the_city(desk):
    desk.orders = ORDERS.replace("Bend,OR,97701", "97701,OR,Bend").replace("Ames,IA,50010", "50010,IA,Ames")
    assert desk.run() == 1
    found = desk.table("findings.csv")
    assert [row["message"] for row in found if row["code"].startswith("column-")] == [
        "orders.csv: column “city” was not read (97701, 50010)."
    ]
    assert [
        (row["order"], row["severity"], row["message"]) for row in found if row["code"] == "address-incomplete"
    ] == [
        ("1", "stop", "The address is missing a city."),
        ("2", "stop", "The address is missing a city."),
    ]


@pytest.mark.parametrize(
    ("mapping_lines", "code"), [("", 1), ('[reading]\ndates = "day"\n', 0), ('[formats]\nplaced = "day first"\n', 0)]
)
def test_a_mapping_decides_how_an_ambiguous_date_is_read(desk, mapping_lines, code):
    desk.orders = ORDERS.replace("order,", "order,placed,").replace("\n1,", "\n1,03/04/2026,").replace("\n2,", "\n2,,")
    desk.files["map.toml"] = f"[columns]\n{mapping_lines}"
    assert desk.run("--map", str(desk.folder / "map.toml")) == code
    asked = [row for row in desk.table("findings.csv") if row["code"] == "column-two-ways"]
    assert [(row["order"], row["severity"], row["fix"]) for row in asked] == (
        [("", "look", 'Say which in a mapping, under [formats]: placed = "day first"  # or "month first"')]
        if code
        else []
    )


def test_order_lines_side_by_side_are_reported_in_a_note(desk):
    desk.orders = "order,recipient,country,item 1,item 2\n1,Ada Finch,US,Pen,Ink\n"
    desk.run()
    reported = [row for row in desk.table("findings.csv") if row["code"] == "lines-side-by-side"]
    assert [(row["order"], row["severity"], row["message"]) for row in reported] == [
        ("", "note", "orders.csv: these columns were read as more lines of the order: item 2.")
    ]


@pytest.mark.parametrize("formats", ["", '[formats]\nitem = "as written"\n'])
def test_items_in_one_cell_are_reported_in_a_note_unless_a_mapping_keeps_them(desk, formats):
    desk.orders = "order,recipient,country,item,quantity\n1,Ada Finch,US,2x Pen; 1x Ink,1\n2,Bo Reed,US,1x Pen,1\n"
    desk.files["map.toml"] = f"[columns]\n{formats}"
    desk.run("--map", str(desk.folder / "map.toml"))
    reported = [row for row in desk.table("findings.csv") if row["code"] == "items-split"]
    expected = (
        "orders.csv: each item in “item” became a line of its own. “2x Pen; 1x Ink” was read as 2 × Pen, 1 × Ink."
    )
    assert [(row["order"], row["severity"], row["message"]) for row in reported] == (
        [] if formats else [("", "note", expected)]
    )


@pytest.mark.parametrize(("sku", "is_split"), [("", True), ("PN-1", False)])
def test_items_with_a_sku_are_one_item(desk, sku, is_split):
    desk.orders = f"order,recipient,country,item,sku\n1,Ada Finch,US,2x Pen; 1x Ink,{sku}\n"
    desk.run()
    assert any(row["code"] == "items-split" for row in desk.table("findings.csv")) is is_split


def test_a_column_called_region_next_to_one_called_state_is_asked_about(desk):
    desk.orders = TWO_REGIONS
    assert desk.run() == 1
    found = desk.table("findings.csv")
    assert [(row["code"], row["message"]) for row in found if row["code"].startswith("column-")] == [
        ("column-not-taken", "orders.csv: column “State” may be “state or region” (OR, IA). It was not read."),
        ("column-ignored", "orders.csv: column “Region” was not read (West, Middle)."),
    ]
    assert [(row["order"], row["severity"]) for row in found if row["code"] == "address-incomplete"] == [
        ("1", "stop"),
        ("2", "stop"),
    ]


@pytest.mark.parametrize(
    ("ignore", "code", "reported"), [("", 1, ["column-ignored"]), ('ignore = ["Region"]\n', 0, [])]
)
def test_a_mapping_settles_which_of_two_columns_is_the_state(desk, ignore, code, reported):
    desk.orders = TWO_REGIONS
    desk.files["map.toml"] = f'{ignore}[columns]\nregion = "State"\n'
    assert desk.run("--map", str(desk.folder / "map.toml")) == code
    found = desk.table("findings.csv")
    assert [row["code"] for row in found if row["severity"] != "note"] == reported
    assert {row["stands"] for row in desk.table("pieces.csv")} == {"ready"}
