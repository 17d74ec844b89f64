"""A column is read as a whole: one unambiguous cell settles the rest."""

from __future__ import annotations

import pytest

from desk.intake.columns.formats import FormatWord, allowed_formats, format_of, may_be_fraction


@pytest.mark.parametrize(
    ("cells", "first"),
    [
        (["03/04/2026", "2/13/2026"], "month"),
        (["03/04/2026", "2/12/2026"], ""),
        (["03/04/2026", "13/2/2026"], "day"),
        (["03/04/2026", "12/2/2026"], ""),
        (["13/2/2026", "2/13/2026"], ""),  # both orders in one column: each cell is read alone
        (["2026-11-25", "soon"], ""),
        (["3/4/2026 10:00", "2/24/2003 0:00"], "month"),
        (["3/4/26", "24/2/26"], "day"),
    ],
)
def test_the_order_of_day_and_month_is_found_from_all_cells(cells: list[str], first: str) -> None:
    assert format_of("placed", cells, ()).first == first


@pytest.mark.parametrize(
    ("cells", "decimal"),
    [
        (["1,234", "12,50"], ","),
        (["1,234", "12.50"], "."),
        (["1,234", "1.234,50"], ","),
        (["1,234", "1,234,567"], "."),
        (["1.234", "1.234.567"], ","),
        (["1,234", "1,000"], ""),
        (["1,234", "12.50", "12,50"], ""),
        (["1.250", "0,5"], ","),
        (["12", "$1,234.50"], "."),
    ],
)
def test_the_decimal_separator_is_found_from_all_cells(cells: list[str], decimal: str) -> None:
    assert format_of("unit_price", cells, ()).decimal == decimal


def test_other_money_columns_decide_an_ambiguous_one() -> None:
    assert format_of("unit_price", ["1,234"], (), ["4,50"]).decimal == ","
    assert format_of("unit_price", ["1,234", "5.25"], (), ["4,50"]).decimal == "."


def test_formats_in_the_mapping_override_the_cells() -> None:
    assert format_of("placed", ["13/2/2026"], [FormatWord.MONTH_FIRST]).first == "month"
    chosen = format_of("discount", ["1.5"], [FormatWord.PERCENT, FormatWord.COMMA_DECIMALS])
    assert (chosen.decimal, chosen.discount) == (",", "percent")


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        (["0", "0.15"], True),
        (["0", "1"], True),
        (["0", "1.01"], False),
        (["0", "0.00"], False),
        (["0.1", "15%"], False),
        ([], False),
    ],
)
def test_discounts_of_at_most_one_may_be_fractions(cells: list[str], *, expected: bool) -> None:
    assert may_be_fraction(cells) is expected


def test_each_kind_of_field_has_its_formats_and_text_has_none() -> None:
    assert allowed_formats("placed") == ("day first", "month first")
    assert allowed_formats("unit_price") == ("point decimals", "comma decimals")
    assert "percent" in allowed_formats("line_discount")
    assert allowed_formats("recipient") == ()
