from __future__ import annotations

import pytest

from desk.intake.columns.headers import ORDER_FIELDS, Meanings, match_headers
from desk.intake.columns.questions import Question, open_questions
from desk.intake.columns.sheet import read_sheet_text
from desk.intake.table.faults_found import FaultsFound


def asked(placed: list[str], price: list[str]) -> tuple[Question, ...]:
    rows = "".join(f"{number}\t{day}\t{paid}\n" for number, (day, paid) in enumerate(zip(placed, price, strict=True)))
    sheet = read_sheet_text(f"order\tplaced\tunit price\n{rows}")
    columns = match_headers(sheet.header, Meanings(ORDER_FIELDS), FaultsFound("f"), 1)
    return open_questions(sheet, columns, "USD")


def test_a_date_of_two_readings_is_asked_once() -> None:
    (found,) = asked(["2026-01-01", "03/04/2026", "05/06/2026"], ["1", "2", "3"])
    assert (found.about, found.column, found.line, found.found) == ("dates", "placed", 3, "03/04/2026")
    assert (found.readings, found.likely) == ({"month": "2026-03-04", "day": "2026-04-03"}, "")


@pytest.mark.parametrize(
    ("other", "expected"),
    [("25/04/2026", "day"), ("04/25/2026", "month"), ("25.04.2026", "day"), ("2026-04-25", ""), ("25 April 2026", ""),
     ("04/04/2026", ""), ("soon", "")],
)  # fmt: skip
def test_other_dates_speak_for_one_answer(other: str, expected: str) -> None:
    (found,) = asked(["03/04/2026", other], ["1", "2"])
    assert found.likely == expected


@pytest.mark.parametrize(
    ("other", "expected"),
    [("2,50", ","), ("2.50", "."), ("1.234,50", ","), ("$1,234.50", "."), ("3", ""), ("3.25 €", "")],
)
def test_other_amounts_speak_for_one_answer(other: str, expected: str) -> None:
    (found,) = asked(["2026-01-01"] * 2, ["1.250", other])
    assert (found.about, found.readings, found.likely) == ("decimal", {",": "1250", ".": "1.25"}, expected)


def test_both_kinds_are_asked_and_nothing_else() -> None:
    assert [found.about for found in asked(["03/04/2026"], ["1.250"])] == ["dates", "decimal"]
    assert asked(["2026-04-03"], ["12.50"]) == ()
