"""Faults of the cells file: each is one sentence with the file and the line."""

import pytest

from desk.domain.faults import FileFault
from desk.domain.money import Money
from desk.domain.weight import Weight, WeightUnit
from desk.rates.lists.cells_file import read_cells, read_groups

HEADING = "service,weight_max,key,price\n"


def read(tmp_path, text, currency="EUR"):
    file = tmp_path / "cells.csv"
    file.write_text(HEADING + text, encoding="utf-8")
    faults: list[FileFault] = []
    cells = read_cells([("cells.csv", file)], WeightUnit.GRAM, currency, faults)
    return cells, [str(fault) for fault in faults]


def test_valid_cells_are_read(tmp_path):
    cells, faults = read(tmp_path, "brief,20,,1.15\n brief , 50 ,, 2.3 \n")
    assert faults == []
    first, second = cells["brief"].rows[""]
    assert (first.max_weight, first.max_label, first.price) == (Weight.of(20, "g"), "20", Money(115, "EUR"))
    assert second.price == Money(230, "EUR")


def test_a_currency_without_decimals_is_read(tmp_path):
    cells, faults = read(tmp_path, "hagaki,6,,85\n", currency="JPY")
    assert (faults, cells["hagaki"].rows[""][0].price) == ([], Money(85, "JPY"))


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("brief,20,,1,15", "cells.csv: line 2: 'brief,20,,1,15' found, expected four cells; a price has no comma"),
        ("brief,20,", "cells.csv: line 2: 'brief,20,' found, expected four cells; a price has no comma"),
        (
            'brief,20,,"1,15"',
            "cells.csv: line 2, price: '1,15' found, expected an amount of EUR in plain digits, such as 7.90",
        ),
        (
            "brief,20,,-1.15",
            "cells.csv: line 2, price: '-1.15' found, expected an amount of EUR in plain digits, such as 7.90",
        ),
        (
            "brief,20,,1.155",
            "cells.csv: line 2, price: '1.155' found, expected an amount of EUR in plain digits, such as 7.90",
        ),
        (
            "brief,20,,free",
            "cells.csv: line 2, price: 'free' found, expected an amount of EUR in plain digits, such as 7.90",
        ),
        (
            "brief,-20,,1.15",
            "cells.csv: line 2, weight_max: '-20' found, expected a weight in g above zero, oversized, or a volume such as 0.10 cu ft",
        ),
        (
            "brief,0,,1.15",
            "cells.csv: line 2, weight_max: '0' found, expected a weight in g above zero, oversized, or a volume such as 0.10 cu ft",
        ),
        (
            "brief,1e3,,1.15",
            "cells.csv: line 2, weight_max: '1e3' found, expected a weight in g above zero, oversized, or a volume such as 0.10 cu ft",
        ),
        (
            "brief,,,1.15",
            "cells.csv: line 2, weight_max: expected a weight in g above zero, oversized, or a volume such as 0.10 cu ft",
        ),
        (
            "brief,20,1+,1.15",
            "cells.csv: line 2, key: '1+' found, expected a zone, a price group, a range such as 3-5, or nothing",
        ),
    ],
)
def test_each_bad_line_is_one_fault(tmp_path, line, expected):
    _, faults = read(tmp_path, line + "\n")
    assert faults == [expected]


def test_overlapping_rows_are_a_fault(tmp_path):
    _, faults = read(tmp_path, "brief,20,,1.15\nbrief,20.0,,2.30\n")
    assert faults == [
        (
            "cells.csv: line 3, weight_max: '20.0' found, "
            "expected a weight above 20, the row before it for this key; rows do not overlap"
        )
    ]


def test_rows_with_falling_weights_are_a_fault(tmp_path):
    _, faults = read(tmp_path, "brief,50,,2.30\nbrief,20,,1.15\n")
    assert [fault[:29] for fault in faults] == ["cells.csv: line 3, weight_max"]


def test_a_gap_between_rows_is_a_fault(tmp_path):
    cells, _ = read(tmp_path, "pakje,1000,1,5.00\npakje,1000,2,6.00\npakje,2000,1,7.00\n")
    faults = [str(fault) for fault in cells["pakje"].holes(may_end_early=False)]
    assert faults == ["cells.csv: line 3, weight_max: expected a row up to 2000 for key 2"]


def test_a_price_group_may_end_early_where_countries_have_their_own_limits(tmp_path):
    text = "pakje,1000,1,5.00\npakje,1000,2,6.00\npakje,2000,1,7.00\npakje,3000,1,8.00\npakje,3000,2,9.00\n"
    cells, _ = read(tmp_path, text)
    (fault,) = cells["pakje"].holes(may_end_early=True)
    assert fault.expected == "a row up to 2000 for key 2"  # a gap between rows is a fault, after the last row it is not
    shorter, _ = read(tmp_path, text.rpartition("pakje")[0])
    assert list(shorter["pakje"].holes(may_end_early=True)) == []


def test_volumes_must_rise(tmp_path):
    cells, faults = read(tmp_path, "pakje,0.10 cu ft,1,5.00\npakje,0.20 cu ft,1,6.00\npakje,0.20 cu ft,1,7.00\n")
    assert [tier.label for tier in cells["pakje"].tiers["1"]] == ["0.10 cu ft", "0.20 cu ft"]
    assert faults == [
        "cells.csv: line 4, weight_max: '0.20 cu ft' found, expected a volume above 0.20 cu ft, the one before it"
    ]


def test_two_oversized_prices_are_a_fault(tmp_path):
    _, faults = read(tmp_path, "pakje,1000,1,5.00\npakje,oversized,1,80.00\npakje,oversized,1,90.00\n")
    assert faults == ["cells.csv: line 4, weight_max: 'oversized' found, expected one oversized price for key 1"]


def test_every_fault_is_reported(tmp_path):
    _, faults = read(tmp_path, "brief,20,,x\nbrief,y,,1.00\nbrief,-1,,z\n")
    assert [fault.split(":")[1] for fault in faults] == [
        " line 2, price",
        " line 3, weight_max",
        " line 4, price",
        " line 4, weight_max",
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "cells.csv: line 1: expected the heading service,weight_max,key,price"),
        ("a,b\n", "cells.csv: line 1: 'a,b' found, expected the heading service,weight_max,key,price"),
    ],
)
def test_another_header_row_is_refused(tmp_path, text, expected):
    file = tmp_path / "cells.csv"
    file.write_text(text)
    faults: list[FileFault] = []
    assert read_cells([("cells.csv", file)], WeightUnit.GRAM, "EUR", faults) == {}
    assert [str(fault) for fault in faults] == [expected]


def test_a_file_that_is_not_text_is_refused(tmp_path):
    file = tmp_path / "cells.csv"
    file.write_bytes(b"\xff\xfe\x00")
    faults: list[FileFault] = []
    read_cells([("cells.csv", file)], WeightUnit.GRAM, "EUR", faults)
    assert str(faults[0]) == "cells.csv: expected text in UTF-8"


def groups(tmp_path, text):
    file = tmp_path / "groups.csv"
    file.write_text(text)
    faults: list[FileFault] = []
    return read_groups(file, "groups.csv", faults), [str(fault) for fault in faults]


def test_a_place_gets_the_price_group_of_its_parent(tmp_path):
    found, faults = groups(tmp_path, "country,parent,letters\nFR,,5\nMC,FR,\nSO,,\n")
    assert faults == []
    assert found.column("letters") == {"FR": "5", "MC": "5"}
    assert found.column("parcels") is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("land,parent\n", "groups.csv: line 1: 'land,parent' found, expected a heading that begins country,parent"),
        (
            "country,parent,letters\nMC,FR,\n",
            "groups.csv: line 2, parent: 'FR' found, expected a country of this file",
        ),
        (
            "country,parent,letters\nFR,,5\nFR,,6\n",
            "groups.csv: line 2, country: 'FR' found, expected 3 cells, once for a country",
        ),
        (
            "country,parent,letters\nFR,,5,6\n",
            "groups.csv: line 2, country: 'FR' found, expected 3 cells, once for a country",
        ),
    ],
)
def test_invalid_price_groups_are_a_fault(tmp_path, text, expected):
    found, faults = groups(tmp_path, text)
    assert faults == [expected]
    assert found.column("letters") is None
