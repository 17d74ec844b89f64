"""Faults of a head file: each is one sentence with the file and the line."""

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.rates.lists.chart import Charts
from desk.rates.lists.chart_file import read_chart
from tests.intake.tables import xlsx
from tests.rates.chart_folder import CELLS, GROUPS, HEAD, write_chart

RULE = """
[[dimensional]]
since = 2026-03-01
over_cubic_inches = "1728"
divisor = "139"
rounding = "up"
source = "invented"
known_by = "invented"
"""


def faults(folder: Path) -> list[str]:
    with pytest.raises(Unreadable) as caught:
        Charts.read(folder)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("was", "becomes", "expected"),
    [
        (
            "effective = 2026-03-01",
            'effective = "2026-03-01"',
            "xx-2026/chart.toml: line 1, effective: '2026-03-01' found, expected a day such as 2026-07-12",
        ),
        (
            "effective = 2026-03-01\n",
            "\n",
            "xx-2026/chart.toml: line 1, effective: expected the first day of the list",
        ),
        (
            'currency = "EUR"',
            'currency = "euro"',
            "xx-2026/chart.toml: line 2, currency: 'euro' found, expected an ISO 4217 code such as USD",
        ),
        ('unit = "g"', 'unit = "stone"', "xx-2026/chart.toml: line 3, unit: 'stone' found, expected 'oz' or 'g'"),
        ('source = "invented list"\n', "\n", "xx-2026/chart.toml: line 1, source: expected text for source"),
        (
            'known_by = "invented"',
            "known_by = 7",
            "xx-2026/chart.toml: line 5, known_by: '7' found, expected text in quotes",
        ),
        (
            'shapes = ["letter"]',
            'shapes = ["letter", "globe"]',
            (
                "xx-2026/chart.toml: line 8, shapes: \"['letter', 'globe']\" found, "
                "expected a list of some of letter, flat, parcel, postcard"
            ),
        ),
        (
            'shapes = ["letter"]',
            'shapes = "letter"',
            "xx-2026/chart.toml: line 8, shapes: 'letter' found, expected a list of texts",
        ),
        (
            'max_weight = "500"',
            "max_weight = 500.0",
            (
                "xx-2026/chart.toml: line 9, max_weight: '500.0' found, "
                'expected a number above zero in quotes, such as "3.5"'
            ),
        ),
        (
            'max_weight = "500"',
            'max_weight = "-5"',
            (
                "xx-2026/chart.toml: line 9, max_weight: '-5' found, "
                'expected a number above zero in quotes, such as "3.5"'
            ),
        ),
        (
            'max_weight = "500"',
            'max_value = "4.005"',
            "xx-2026/chart.toml: line 9, max_value: '4.005' found, expected an amount of EUR in quotes, such as \"0.49\"",
        ),
        (
            'max_weight = "500"',
            "flat_rate = 1",
            "xx-2026/chart.toml: line 9, flat_rate: '1' found, expected true or false",
        ),
        (
            'max_weight = "500"',
            'surcharges = [{ code = "heavy", amount = "1.00" }]',
            (
                "xx-2026/chart.toml: line 9, code: 'heavy' found, "
                "expected 'nonmachinable' or 'long-22' or 'long-30' or 'bulky' or 'tube'"
            ),
        ),
        (
            'max_weight = "500"',
            'surcharges = [{ code = "tube" }]',
            "xx-2026/chart.toml: line 9, amount: expected an amount",
        ),
        (
            'max_weight = "500"',
            'surcharges = [{ code = "tube", amount = "4,00" }]',
            "xx-2026/chart.toml: line 9, amount: '4,00' found, expected an amount of EUR in quotes, such as \"0.49\"",
        ),
        (
            'max_weight = "500"',
            'surcharges = ["tube"]',
            "xx-2026/chart.toml: line 9, surcharges: expected a list of tables only",
        ),
        (
            'group_column = "parcels"',
            'group_column = "letters"',
            "xx-2026/chart.toml: line 15, group_column: 'letters' found, expected a column of xx-2026/groups.csv",
        ),
        (
            "until = 2026-06-30",
            "until = true",
            "xx-2026/chart.toml: line 12, until: 'True' found, expected a day such as 2026-07-12",
        ),
        (
            'keyed_by = "group"',
            'keyed_by = "moon"',
            "xx-2026/chart.toml: line 14, keyed_by: 'moon' found, expected '' or 'zone' or 'group'",
        ),
    ],
)
def test_each_wrong_field_is_reported(tmp_path, was, becomes, expected):
    assert was in HEAD
    assert expected in faults(write_chart(tmp_path, head=HEAD.replace(was, becomes, 1)))


def test_an_unknown_field_is_reported_with_the_known_ones(tmp_path):
    head = HEAD.replace('max_weight = "500"', 'max_wait = "500"')
    (fault,) = faults(write_chart(tmp_path, head=head))
    assert fault.startswith("xx-2026/chart.toml: line 9, max_wait: 'max_wait' found, expected one of the fields ")
    assert "max_weight" in fault


def test_a_folder_without_a_head_file_is_reported(tmp_path):
    (tmp_path / "zz").mkdir()
    assert faults(tmp_path) == ["zz/chart.toml: expected a head file in every chart folder"]


def test_a_head_file_that_is_not_toml_is_reported(tmp_path):
    (fault,) = faults(write_chart(tmp_path, head=HEAD.replace('"EUR"', "EUR")))
    assert fault.startswith("xx-2026/chart.toml: line 2: expected valid TOML: ")


def test_a_head_file_that_is_not_text_is_reported(tmp_path):
    write_chart(tmp_path)
    (tmp_path / "xx-2026" / "chart.toml").write_bytes(b"source = '\xff'")
    assert faults(tmp_path) == ["xx-2026/chart.toml: expected text in UTF-8"]


def test_a_service_without_cells_is_reported(tmp_path):
    head = HEAD + '\n[services.kaart]\nshapes = ["postcard"]\n'
    assert faults(write_chart(tmp_path, head=head)) == [
        "xx-2026/chart.toml: line 18, service: 'kaart' found, expected rows of this service in a CSV file of the folder"
    ]


def test_services_that_are_not_tables_are_reported(tmp_path):
    found = faults(write_chart(tmp_path, head=HEAD.partition("[services")[0] + "services.brief = 3\n"))
    assert "xx-2026/chart.toml: line 7, services: 'brief' found, expected tables [services.ID]" in found


def test_cells_without_a_service_are_reported(tmp_path):
    assert faults(write_chart(tmp_path, cells=CELLS + "kaart,50,,1.00\n")) == [
        "xx-2026/cells.csv: line 10, service: 'kaart' found, expected a service that chart.toml describes"
    ]


def test_only_a_keyed_service_has_keys(tmp_path):
    head = HEAD.replace('keyed_by = "group"\n', 'keyed_by = "zone"\n').replace('group_column = "parcels"\n', "")
    cells = CELLS.replace("brief,20,,1.15", "brief,20,7,1.15").replace(",1,", ",,")
    found = faults(write_chart(tmp_path, head=head, cells=cells))
    assert "xx-2026/cells.csv: line 2, key: '7' found, expected no key: the service is not keyed_by anything" in found
    assert "xx-2026/cells.csv: line 5, key: expected a zone" in found


def test_groups_without_a_group_column_are_reported(tmp_path):
    head = HEAD.replace('group_column = "parcels"\n', "")
    assert faults(write_chart(tmp_path, head=head)) == [
        "xx-2026/chart.toml: line 11, group_column: expected a group_column with groups, exactly when keyed_by is group"
    ]


def test_a_group_without_prices_is_reported(tmp_path):
    assert faults(write_chart(tmp_path, groups=GROUPS + "NL,,9,66\n")) == [
        "xx-2026/groups.csv: '9' found, expected only groups that pakje has rows for"
    ]


def test_a_country_limit_that_is_not_a_number_is_reported(tmp_path):
    assert faults(write_chart(tmp_path, groups=GROUPS.replace("BE,,1,44", "BE,,1,many"))) == [
        "xx-2026/groups.csv: BE: 'many' found, expected a limit in whole pounds"
    ]


def test_a_complete_rule_is_read(tmp_path):
    head = HEAD + "dimensional = true\n" + RULE
    (rule,) = Charts.read(write_chart(tmp_path, head=head)).lists["pakje"][0].dimensional_rules
    assert (str(rule.since), rule.over_cubic_inches, rule.divisor, rule.rounding) == ("2026-03-01", 1728, 139, "up")


@pytest.mark.parametrize(
    ("was", "becomes", "expected"),
    [
        ("since = 2026-03-01\n", "", "line 18, since: expected the first day of the rule"),
        ('divisor = "139"\n', "", "line 18, divisor: expected a number for divisor"),
        ('divisor = "139"', 'divisor = ""', "line 21, divisor: expected a number above zero in quotes"),
        ('rounding = "up"', 'rounding = "down"', "line 22, rounding: 'down' found, expected 'nearest' or 'up'"),
        ('known_by = "invented"', 'known_by = ""', "line 24, known_by: expected text for known_by"),
    ],
)
def test_a_wrong_dimensional_rule_is_reported(tmp_path, was, becomes, expected):
    found = faults(write_chart(tmp_path, head=HEAD + RULE.replace(was, becomes)))
    assert any(fault.startswith(f"xx-2026/chart.toml: {expected}") for fault in found)


def test_an_extra_without_a_code_is_reported(tmp_path):
    head = HEAD + '\n[[extras]]\namount = "2.40"\n'
    assert faults(write_chart(tmp_path, head=head)) == ["xx-2026/chart.toml: line 18, code: expected text for code"]


def test_an_extra_takes_the_source_of_the_whole_list(tmp_path):
    charts = Charts.read(write_chart(tmp_path, head=HEAD + '\n[[extras]]\ncode = "bewijs"\namount = "2.40"\n'))
    ((_, extra),) = charts.extras
    assert (extra.code, extra.amount.text(), extra.source, extra.known_by) == (
        "bewijs",
        "2.40",
        "invented list",
        "invented",
    )


NINES = "9" * 40


@pytest.mark.parametrize(
    ("file", "was", "now", "reported"),
    [
        ("cells", "brief,20", f"brief,{NINES}", f"cells.csv: line 2, weight_max: '{NINES}' found"),
        ("cells", "brief,20", "brief," + "2" * 200_000, "cells.csv: line 2: expected cells of at most"),
        ("cells", "2-3", "3-2", "cells.csv: line 6, key: '3-2' found"),
        ("cells", "2-3", "1-9999999", "cells.csv: line 6, key: '1-9999999' found"),
        ("groups", "44", NINES, f"groups.csv: BE: '{NINES}' found, expected a limit in whole pounds"),
        ("groups", "44", "4" * 200_000, "groups.csv: line 2: expected cells of at most"),
        ("head", '"500"', f'"{NINES}"', f"chart.toml: line 9, max_weight: '{NINES}' found"),
        ("head", "2026-06-30", "2025-06-30", "chart.toml: line 12, until: '2025-06-30' found, expected a day from"),
    ],
)
def test_absurdly_large_numbers_are_reported(tmp_path, file, was, now, reported):
    texts = {"head": HEAD, "cells": CELLS, "groups": GROUPS}
    texts[file] = texts[file].replace(was, now, 1)
    faults = []
    read_chart(write_chart(tmp_path, **texts) / "xx-2026", faults)
    assert str(faults[0]).startswith(f"xx-2026/{reported}")


def test_one_wrong_field_is_one_fault(tmp_path):
    """A wrong currency does not make the fields that depend on it, such as the groups, faulty too."""
    faults = []
    read_chart(write_chart(tmp_path, HEAD.replace('"EUR"', '"eur"')) / "xx-2026", faults)
    assert [fault.column for fault in faults] == ["currency"]


@pytest.mark.parametrize(("until", "faulty"), [("2026-03-01", False), ("2026-02-28", True)])
def test_a_list_may_be_valid_for_one_day(tmp_path, until, faulty):
    write_chart(tmp_path, HEAD.replace("2026-06-30", until), CELLS, GROUPS)
    if faulty:
        assert any("a day from 2026-03-01 on" in fault for fault in faults(tmp_path))
    else:
        assert str(next(iter(Charts.read(tmp_path).lists.values()))[0].until) in (until, "None")


def test_a_workbook_may_replace_each_table(tmp_path):
    folder = write_chart(tmp_path, groups=GROUPS) / "xx-2026"
    as_text, none = read_chart(folder, []), []
    for name, text in (("cells", CELLS), ("groups", GROUPS)):
        (folder / f"{name}.csv").unlink()
        (folder / f"{name}.xlsx").write_bytes(xlsx([line.split(",") for line in text.splitlines()]))
    assert read_chart(folder, none) == as_text
    assert none == []


def test_a_fault_in_a_workbook_names_its_row(tmp_path):
    folder = write_chart(tmp_path) / "xx-2026"
    (folder / "cells.csv").unlink()
    rows = [line.split(",") for line in CELLS.replace("brief,50", "brief,heavy").splitlines()]
    (folder / "cells.xlsx").write_bytes(xlsx(rows))
    found = []
    read_chart(folder, found)
    assert (found[0].file, found[0].line, found[0].column, found[0].found) == (
        "xx-2026/cells.xlsx",
        3,
        "weight_max",
        "heavy",
    )
