from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.domain.length import Length, Size
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.shop.shop import Shop
from desk.domain.weight import Shown, WeightUnit
from desk.intake.columns.amounts import NotRead
from desk.intake.shop.shop_file import read_shop
from desk.intake.weights import WeightRow, pounds_ounces, read_weights
from tests.intake.tables import SHOP, put, sentences

SAYS = "the cell, the header and the column of units say {}"
MAILER = '[[mailers]]\nname = "No. 10"\nkind = "envelope"\nlength = 240\nwidth = 105\nthickness = 1\nsize_unit = "mm"\n'


def shop(folder: Path, more: str = "") -> Shop:
    return read_shop(put(folder, "shop.toml", SHOP + more))


def read(folder: Path, text: str, more: str = "") -> tuple[WeightRow, ...]:
    return read_weights(put(folder, "weights.csv", text), shop=shop(folder, more))


def faults(folder: Path, text: str) -> list[str]:
    with pytest.raises(Unreadable) as caught:
        read(folder, text)
    return sentences(caught, folder)


def test_every_field_of_a_weights_file_is_read(tmp_path: Path) -> None:
    text = (
        "order,piece,gross,unit,mailer,length,width,thickness,size_unit,division,stiff,uneven\n"
        "#7,2,4.20,oz,No. 10,9.5,4.125,0.05,in,0.05,yes,no\n"
    )
    assert read(tmp_path, text) == (
        WeightRow(
            2,
            PieceKey("7", 2),
            Weighing(
                Shown(Decimal("4.20"), WeightUnit.OUNCE, Decimal("0.05")),
                "No. 10",
                Size.of("9.5", "4.125", "0.05", "in"),
                stiff=True,
                uneven=False,
            ),
        ),
    )


def test_a_weights_file_needs_only_order_and_gross_weight(tmp_path: Path) -> None:
    (row,) = read(tmp_path, "order,gross,unit\n0007,119,g\n")
    assert row == WeightRow(2, PieceKey("0007"), Weighing(Shown(Decimal(119), WeightUnit.GRAM, Decimal(1))))


@pytest.mark.parametrize(
    ("header", "row", "shown"),
    [
        ("order,weight (g)", "1,119", ("119", "g")),
        ("order,Weight in oz", "1,4.2", ("4.2", "oz")),
        ("order;Gewicht [kg]", "1;0,119", ("0.119", "kg")),
        ("order,gross (lb-oz)", "1,1 lb 3.2 oz", ("19.2", "lb-oz")),
        ("order,weight (g),unit", "1,119,", ("119", "g")),
        ("order,weight (g),unit", "1,119,grams", ("119", "g")),
        ("order,weight", "1,4.2 oz", ("4.2", "oz")),
        ("order,weight,unit", "1,4.2 oz,oz", ("4.2", "oz")),
        ("order,weight,unit", "1,3.2 oz,lb-oz", ("3.2", "lb-oz")),
    ],
)
def test_a_unit_may_be_in_the_header_or_after_the_number(
    tmp_path: Path, header: str, row: str, shown: tuple[str, str]
) -> None:
    (found,) = read(tmp_path, f"{header}\n{row}\n")
    assert (str(found.weighing.shown.value), str(found.weighing.shown.unit)) == shown


@pytest.mark.parametrize(
    ("header", "row", "reported"),
    [
        ("order,weight (g),unit", "1,119,oz", "line 2, weight (g): '119' found, expected one unit; " + SAYS.format("oz and g")),
        ("order,weight (g)", "1,4.2 oz", "line 2, weight (g): '4.2 oz' found, expected one unit; " + SAYS.format("g and oz")),
        ("order,weight,unit", "1,4.2 oz,g", "line 2, weight: '4.2 oz' found, expected one unit; " + SAYS.format("g and oz")),
        ("order,weight (g),division (oz)", "1,119,1", "line 1, division (oz): 'oz' found, expected g, as 'weight (g)' says"),
        ("order,weight,unit,division (oz)", "1,119,g,1", "line 2, division (oz): '1' found, expected one unit; " + SAYS.format("g and oz")),
        ("order,weight (g)", "1,", "line 2, weight (g): expected a weight in g"),
        ("order,weight", "1,4.2 oz\n2,7", "line 3, unit: expected a unit: oz, lb, g, kg or lb-oz"),
        (
            "order,weight (mm)", "1,7",
            ("line 1, gross: expected a column for gross; perhaps gross = \"weight (mm)\" (7)\n"
            "line 1, unit: expected a column for unit"),
        ),
        (
            "order,weight,unit,length (in),width (mm),thickness (in)", "1,7,g,9,4,1",
            "line 1, width (mm): 'mm' found, expected in, as 'length (in)' says",
        ),
        (
            "order,weight,unit,length (in),width (in),thickness (in),size_unit", "1,7,g,9,4,1,mm",
            "line 2, length (in): '9' found, expected one unit; " + SAYS.format("mm and in"),
        ),
    ],
)  # fmt: skip
def test_two_units_for_one_weight_or_size_are_a_fault(tmp_path: Path, header: str, row: str, reported: str) -> None:
    assert faults(tmp_path, f"{header}\n{row}\n") == [f"weights.csv: {line}" for line in reported.split("\n")]


@pytest.mark.parametrize(
    ("header", "row", "size"),
    [
        ("length (in),width in inches,thickness [in]", "9.5,4.125,0.05", Size.of("9.5", "4.125", "0.05", "in")),
        ("Länge (mm);Breite in mm;Höhe_mm", "240;105;1", Size.of(240, 105, 1, "mm")),
        ("length,width,thickness", "9.5 in,4.125 in,0.05", Size.of("9.5", "4.125", "0.05", "in")),
        ("length (mm),width,thickness,size_unit", "240,105,1,mm", Size.of(240, 105, 1, "mm")),
    ],
)
def test_a_unit_of_a_size_may_be_in_the_headers_or_after_the_numbers(
    tmp_path: Path, header: str, row: str, size: Size
) -> None:
    sign = ";" if ";" in header else ","
    (found,) = read(tmp_path, f"order{sign}weight (g){sign}{header}\n1{sign}20{sign}{row}\n")
    assert found.weighing.size == size


def test_the_step_of_the_scale_may_have_its_own_unit(tmp_path: Path) -> None:
    (row,) = read(tmp_path, "order,gross,unit,division (oz)\n1,1 lb 3.2 oz,lb-oz,0.2\n")
    assert row.weighing.shown.division == Decimal("0.2")


def test_two_rows_for_one_piece_are_both_kept(tmp_path: Path) -> None:
    rows = read(tmp_path, "order,gross,unit\n7,119,g\n\n7,121,g\n")
    assert [(row.line, row.key.order, str(row.weighing.shown.value)) for row in rows] == [
        (2, "7", "119"),
        (4, "7", "121"),
    ]


@pytest.mark.parametrize(
    ("gross", "unit", "value", "division", "kept"),
    [
        ("4.2", "oz", "4.2", "0.1", WeightUnit.OUNCE),
        ("4.20", "oz", "4.20", "0.01", WeightUnit.OUNCE),
        ("1.234", "lb", "1.234", "0.001", WeightUnit.POUND),
        ("119", "g", "119", "1", WeightUnit.GRAM),
        ("0.119", "KG", "0.119", "0.001", WeightUnit.KILOGRAM),
        ("3,2", "oz", "3.2", "0.1", WeightUnit.OUNCE),
        ("1 lb 3.2 oz", "lb-oz", "19.2", "0.1", WeightUnit.POUND_OUNCE),
        ("1 lb", "lb-oz", "16", "1", WeightUnit.POUND_OUNCE),
        ("3.2 oz", "lb-oz", "3.2", "0.1", WeightUnit.POUND_OUNCE),
        ("2 LB 0.00 OZ", "lb-oz", "32.00", "0.01", WeightUnit.POUND_OUNCE),
    ],
)
def test_readings_keep_value_step_and_unit(
    tmp_path: Path, gross: str, unit: str, value: str, division: str, kept: WeightUnit
) -> None:
    (row,) = read(tmp_path, f"order;gross;unit\n7;{gross};{unit}\n")
    shown = row.weighing.shown
    assert (str(shown.value), str(shown.division), shown.unit) == (value, division, kept)


@pytest.mark.parametrize(
    ("policy", "unit", "gross", "typed", "division"),
    [
        ('scale_division = "0.05"', "oz", "4.2", "", "0.05"),
        ('scale_division = "0.05"\nscale_unit = "oz"', "oz", "4.2", "", "0.05"),
        ('scale_division = "0.05"\nscale_unit = "oz"', "lb-oz", "1 lb 4.2 oz", "", "0.05"),
        ('scale_division = "0.2"\nscale_unit = "lb-oz"', "oz", "4.2", "", "0.2"),
        ('scale_division = "2"\nscale_unit = "g"', "oz", "4.2", "", "0.1"),
        ('scale_division = "2"\nscale_unit = "g"', "g", "118", "", "2"),
        ('scale_division = "0.05"', "oz", "4.2", "0.2", "0.2"),
        ("", "oz", "4.2", "", "0.1"),
    ],
)
def test_the_step_is_the_typed_one_then_the_shops_then_the_last_decimal(
    tmp_path: Path, policy: str, unit: str, gross: str, typed: str, division: str
) -> None:
    (row,) = read(tmp_path, f"order,gross,unit,division\n7,{gross},{unit},{typed}\n", f"[policy]\n{policy}\n")
    assert str(row.weighing.shown.division) == division


def test_thickness_alone_takes_length_and_height_from_the_mailer(tmp_path: Path) -> None:
    text = "order,gross,unit,mailer,thickness,size_unit\n1,20,g,No. 10,4,mm\n2,20,g,Bag,4,mm\n3,20,g,,4,mm\n4,20,g,No. 10,,\n"
    sizes = [row.weighing.size for row in read(tmp_path, text, MAILER)]
    millimetres = [Length(Decimal(side)) for side in (240, 105, 4)]
    assert sizes == [Size(*millimetres), None, None, None]


def test_every_fault_of_the_file_is_reported(tmp_path: Path) -> None:
    text = (
        "order,gross,unit,piece,length,width,thickness,size_unit,division,stiff,uneven\n"
        "1,4.2,,,,,,,,,\n"
        "2,4.2,stone,,,,,,,,\n"
        "3,-1,oz,0,,,,,0,maybe,\n"
        "4,0.00,oz,,9,4,,in,,,perhaps\n"
        "5,four,oz,,9,4,1,,,,\n"
        "6,17 oz,lb-oz,,9,0,x,in,,,\n"
        ",1,oz,,,,,,,,\n"
        "7,,oz,,,,,,,,\n"
        '8,"1,234",g,,9,,1,in,,,\n'
    )
    assert faults(tmp_path, text) == [
        "weights.csv: line 2, unit: expected a unit: oz, lb, g, kg or lb-oz",
        "weights.csv: line 3, unit: 'stone' found, expected a unit: oz, lb, g, kg or lb-oz",
        "weights.csv: line 4, piece: '0' found, expected a whole number of at least 1",
        "weights.csv: line 4, gross: '-1' found, expected a number above 0",
        "weights.csv: line 4, division: '0' found, expected a number above 0",
        "weights.csv: line 4, stiff: 'maybe' found, expected yes or no",
        "weights.csv: line 5, gross: '0.00' found, expected a number above 0",
        "weights.csv: line 5, thickness: expected length, width and thickness together, or thickness alone",
        "weights.csv: line 5, uneven: 'perhaps' found, expected yes or no",
        "weights.csv: line 6, gross: 'four' found, expected a number such as 12.50",
        "weights.csv: line 6, size_unit: expected the unit of the size: in or mm",
        "weights.csv: line 7, width: '0' found, expected a number above 0",
        "weights.csv: line 7, thickness: 'x' found, expected a number such as 12.50",
        "weights.csv: line 8, order: expected an order number",
        "weights.csv: line 9, gross: expected a weight in oz",
        "weights.csv: line 10, gross: '1,234' found, expected a number that reads one way: 1234 or 1.234",
        "weights.csv: line 10, width: expected length, width and thickness together, or thickness alone",
    ]


def test_missing_columns_are_reported(tmp_path: Path) -> None:
    assert faults(tmp_path, "order,gros weight\n1,4.2\n") == [
        'weights.csv: line 1, gross: expected a column for gross; perhaps gross = "gros weight" (4.2)',
        "weights.csv: line 1, unit: expected a column for unit",
    ]


@pytest.mark.parametrize(
    ("text", "ounces"), [("1lb", "16"), ("1 lbs 3 oz", "19"), ("0 lb 3.5oz", "3.5"), ("17 oz", "17")]
)
def test_pounds_and_ounces_are_read(text: str, ounces: str) -> None:
    assert pounds_ounces(text) == Decimal(ounces)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("19.2", "a weight such as 1 lb 3.2 oz"),
        ("", "a weight such as 1 lb 3.2 oz"),
        ("1.5 lb", "a weight such as 1 lb 3.2 oz"),
        ("1 lb 16 oz", "fewer than 16 oz after the pounds"),
        ("0 lb 0 oz", "a weight above 0"),
        ("1 lb . oz", "a number such as 12.50"),
    ],
)
def test_malformed_pounds_and_ounces_are_refused(text: str, expected: str) -> None:
    with pytest.raises(NotRead) as caught:
        pounds_ounces(text)
    assert str(caught.value) == expected
