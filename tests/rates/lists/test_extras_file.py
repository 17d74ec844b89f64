"""Extras file: prices by code, declared value and service, and faults with their line."""

from datetime import date

import pytest

from desk.domain.faults import FileFault
from desk.domain.money import Money
from desk.rates.lists.chart import Charts
from desk.rates.lists.extras_file import read_extras

HEADING = "code,value_max,services,amount\n"


def read(tmp_path, text):
    folder = tmp_path / "xx"
    folder.mkdir()
    (folder / "extras.csv").write_text(HEADING + text, encoding="utf-8")
    faults: list[FileFault] = []
    return read_extras(folder, "USD", "made up", "made up", faults), [fault.line for fault in faults]


def test_extras_have_value_steps_and_services(tmp_path):
    extras, faults = read(tmp_path, "insurance,100.00,,3.50\ninsurance,50.00,,2.80\nsignature,,parcel box,5.15\n")
    charts = Charts.of([], [(date(2026, 1, 1), extra) for extra in extras])
    on = date(2026, 2, 1)
    assert faults == []
    assert [charts.extra("insurance", on, value=Money.of(value)).amount.text() for value in ("50", "50.01")] == [
        "2.80",
        "3.50",
    ]
    assert charts.extra("insurance", on, value=Money.of("100.01")) is None
    assert charts.extra("signature", on, "box").amount.text() == "5.15"
    assert charts.extra("signature", on, "letter") is None
    assert charts.extra_codes(on) == {"insurance", "signature"}
    assert charts.extra_codes(date(2026, 1, 1)) == {"insurance", "signature"}
    assert charts.extra_codes(date(2025, 12, 31)) == frozenset()


@pytest.mark.parametrize("line", ["insurance,100.00,,x", "insurance,lots,,3.50", ",,,3.50", "insurance,3.50"])
def test_a_wrong_line_is_a_fault(tmp_path, line):
    assert read(tmp_path, f"certified,,,5.55\n{line}\n")[1] == [3]


def test_a_folder_without_an_extras_file_has_no_extras(tmp_path):
    assert read_extras(tmp_path, "USD", "", "", []) == ()
