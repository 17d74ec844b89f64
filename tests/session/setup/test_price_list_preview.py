"""Preview of an imported price list: its columns, the facts from the list in force, and a complete list as a folder."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from desk.domain.money import Money
from desk.domain.weight import WeightUnit
from desk.rates.lists.chart import Charts
from desk.session.setup.price_list_preview import ListHead, is_folder_head, preview_chart
from tests.rates.tiny import GROUND, INTL_PACKAGE, LETTER

HEAD = ListHead(date(2026, 7, 13))
CHARTS = Charts.of([LETTER, GROUND, INTL_PACKAGE])
FOLDER = {
    "chart.toml": """effective = 2026-03-01
currency = "EUR"
unit = "g"
source = "invented"
known_by = "invented"

[services.brief]
shapes = ["letter"]
max_weight = "350"
""",
    "cells.csv": "service,weight_max,key,price\nbrief,20,,1.15\nbrief,50,,2.30\nbrief,350,,3.45\n",
}


@pytest.fixture
def look(tmp_path: Path):
    def one(text, head=HEAD):
        (tmp_path / "new.csv").write_text(text, encoding="utf-8")
        return preview_chart(tmp_path / "new.csv", head, CHARTS)

    return one


@pytest.fixture
def folder(tmp_path: Path):
    """Write a list folder with these texts instead of its own; return the path of its head file."""

    def one(**texts):
        place = tmp_path / "zz-2026-03-01"
        place.mkdir()
        for name, text in {**FOLDER, **{f"{name}.csv": text for name, text in texts.items()}}.items():
            (place / name).write_text(text, encoding="utf-8")
        return place / "chart.toml"

    return one


def reported(preview):
    return [str(fault) for fault in preview.faults]


def test_service_facts_come_from_the_list_in_force(look):
    (letter,) = look("service,weight_max,price\nletter-stamped,1,0.90\nletter-stamped,3.5,1.80\n").lists
    assert (letter.shapes, letter.surcharges, letter.max_weight) == (
        LETTER.shapes,
        LETTER.surcharges,
        LETTER.max_weight,
    )
    assert (letter.chart, letter.effective, letter.until) == ("new.csv", date(2026, 7, 13), None)
    assert (letter.source, letter.known_by) == ("new.csv", "imported by you")


@pytest.mark.parametrize(
    "text",
    [
        "service,weight_max,key,price\nground-retail,4,1,7.10\nground-retail,4,2,7.20\n",
        "Service,Up to,Zone,Price\nground-retail,4,1,7.10\nground-retail,4,2,7.20\n",
        "Not over,service,Zone 1,Zone 2\n4,ground-retail,7.10,7.20\n",
        "weight,service,1,2\n4,ground-retail,7.10,7.20\n",
    ],
)
def test_a_sheet_has_a_price_per_row_or_a_column_per_zone(look, text):
    (ground,) = look(text).lists
    assert {key: [row.price for row in rows] for key, rows in ground.rows.items()} == {
        "1": [Money.of("7.10")],
        "2": [Money.of("7.20")],
    }


def test_the_service_can_be_chosen_by_hand(look):
    text = "weight_max,price\n1,0.90\n"
    assert look(text, replace(HEAD, service="letter-stamped")).lists[0].service == "letter-stamped"
    assert reported(look(text)) == ["new.csv: line 1: 'weight_max,price' found, expected a column service"]


def test_faults_are_listed_in_the_order_of_their_lines(look):
    text = "service,weight_max,price\nletter-stamped,1,free\npigeon,1,0.90\nletter-stamped,-2,1.00\n"
    assert [fault.line for fault in look(text).faults] == [2, 3, 4]


def test_a_group_that_is_left_out_would_leave_countries_without_a_price(look):
    text = "service,weight_max,key,price\nintl-package,8,2,20.00\n"
    assert reported(look(text)) == ["new.csv: key: expected prices of intl-package for group 1"]


def test_a_sheet_without_a_price_is_refused(look):
    (fault,) = reported(look("service,weight_max,price\n"))
    assert fault.startswith("new.csv: line 1: expected rows below the header, but there are none")


def test_a_list_folder_has_its_own_services_units_and_currency(folder):
    preview = preview_chart(folder(), HEAD, CHARTS)
    (brief,) = preview.lists
    assert preview.faults == ()
    assert (brief.service, brief.bills_in, brief.currency, brief.effective) == (
        "brief",
        WeightUnit.GRAM,
        "EUR",
        date(2026, 3, 1),
    )
    assert [(change.weight, change.before, change.after) for change in preview.fresh] == [
        ("20", None, Money(115, "EUR")),
        ("50", None, Money(230, "EUR")),
        ("350", None, Money(345, "EUR")),
    ]
    assert preview.file == "zz-2026-03-01"


def test_faults_in_a_list_folder_name_file_and_line(folder):
    preview = preview_chart(folder(cells="service,weight_max,key,price\nbrief,20,,cheap\n"), HEAD, CHARTS)
    assert preview.lists == ()
    assert reported(preview)[0].startswith("zz-2026-03-01/cells.csv: line 2")


@pytest.mark.parametrize(("name", "is_one"), [("chart.toml", True), ("shop.toml", False), ("chart.csv", False)])
def test_a_list_folder_is_recognized_by_its_head_file(name, is_one):
    assert is_folder_head(Path("somewhere") / name) is is_one
