"""Limits in reading a table's columns, with a case on either side of each. Common practice, no source."""

from __future__ import annotations

from datetime import date

import pytest

from desk.domain.faults import Unreadable
from desk.domain.money import Money
from desk.intake.columns import sheet as sheet_module
from desk.intake.columns.amounts import NotRead, day, money
from desk.intake.columns.header_words import WEIGHT_WORDS
from desk.intake.columns.headers import WEIGHT_FIELDS, Columns, Meanings, Suggestion, match_headers, suggestions
from desk.intake.columns.resemblance import resembling
from desk.intake.columns.samples import Samples
from desk.intake.columns.sheet import header_place, read_sheet_text
from desk.intake.columns.units import without_unit
from desk.intake.columns.value_kinds import fits, looks_like_a_unit, looks_like_money
from desk.intake.columns.yes_no import YesNoColumn
from desk.tables.faults_found import FaultsFound


@pytest.mark.parametrize(("text", "minor"), [("3.3333333", 333), ("3.3350000", 334), ("3.333333", None)])
def test_seven_decimals_are_rounding_noise_and_six_are_not_an_amount(text: str, minor: int | None) -> None:
    if minor is None:
        with pytest.raises(NotRead):
            money(text, "USD")
    else:
        assert money(text, "USD") == Money(minor, "USD")


@pytest.mark.parametrize(("month", "number"), [("maerz", 3), ("mrz", 3), ("fev", 2), ("sep", 9), ("sept", 9)])
def test_usual_short_months_are_read(month: str, number: int) -> None:
    assert day(f"5 {month} 2026") == date(2026, number, 5)


def near(likeness: dict[str, float], monkeypatch: pytest.MonkeyPatch, values: tuple[str, ...] = ()) -> list[Suggestion]:
    """Return the suggestions for a mailer's column when each of these headers is that similar to every known word."""
    from rapidfuzz import fuzz

    monkeypatch.setattr(fuzz, "WRatio", lambda name, _word: likeness[name])
    columns = match_headers(list(likeness), Meanings(WEIGHT_FIELDS), FaultsFound("a"), 1)
    rows = [(value,) * len(likeness) for value in values]
    return list(suggestions(columns, [name for name in WEIGHT_WORDS if name == "mailer"], WEIGHT_FIELDS, rows))


@pytest.mark.parametrize(("likeness", "is_suggested"), [(71.0, False), (71.1, True)])
def test_a_header_more_than_71_percent_similar_is_suggested(
    likeness: float, is_suggested: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert bool(near({"zodiac": likeness}, monkeypatch)) is is_suggested


@pytest.mark.parametrize(("header", "is_suggested"), [("zo", False), ("zod", True)])
def test_a_similar_header_needs_three_letters(header: str, is_suggested: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    assert bool(near({header: 90.0}, monkeypatch)) is is_suggested


def test_of_equally_similar_headers_the_first_is_suggested(monkeypatch: pytest.MonkeyPatch) -> None:
    assert [one.header for one in near({"zodiac": 80.0, "zebra": 80.0}, monkeypatch)] == ["zodiac"]
    assert [one.header for one in near({"zodiac": 80.0, "zebra": 80.1}, monkeypatch)] == ["zebra"]


def test_three_different_values_are_shown_with_a_suggestion(monkeypatch: pytest.MonkeyPatch) -> None:
    (one,) = near({"zodiac": 80.0}, monkeypatch, ("a", "a", "b", "c", "d"))
    assert one.values == ("a", "b", "c")


@pytest.mark.parametrize(("length", "shown"), [(24, "B" * 24), (25, "B" * 23 + "…")])
def test_a_value_of_24_characters_is_shown_whole(length: int, shown: str) -> None:
    assert Suggestion("mailer", "Box", ("B" * length,)).words() == f'mailer = "Box" ({shown})'


def test_two_fields_may_share_a_column_even_in_a_short_row() -> None:
    columns = Columns(("a", "b"), {"order": 0, "gross": 1, "unit": 1})
    assert columns.texts(("7", "2 oz")) == {"order": "7", "gross": "2 oz", "unit": "2 oz"}
    assert columns.texts(("7",)) == {"order": "7"}
    assert columns.texts(("7", "")) == {"order": "7"}


def test_the_same_name_comes_before_the_most_similar_one(monkeypatch: pytest.MonkeyPatch) -> None:
    from rapidfuzz import fuzz

    monkeypatch.setattr(fuzz, "token_set_ratio", lambda _text, _name: 100.0)
    assert resembling("Pen", ["Pen nib", "pen"]) == ("pen", "Pen nib")


def test_columns_are_judged_by_their_first_400_rows_and_show_three_samples() -> None:
    samples = Samples([(str(number),) for number in range(401)], 1)
    assert samples.values(0)[-1] == "399"
    assert samples.examples(0) == ("0", "1", "2")


@pytest.mark.parametrize(("most", "can_be_read"), [(22, True), (21, False)])
def test_a_paste_is_read_up_to_the_size_limit(monkeypatch: pytest.MonkeyPatch, most: int, can_be_read: bool) -> None:
    monkeypatch.setattr(sheet_module, "MOST_BYTES", most)
    text = "order,item\n1001,Pocket"
    assert len(text) == 22
    if can_be_read:
        assert read_sheet_text(text).rows[0].cells == ("1001", "Pocket")
    else:
        with pytest.raises(Unreadable, match="at most 64 million"):
            read_sheet_text(text)


@pytest.mark.parametrize(("known", "place"), [(1, 0), (2, 1)])
def test_two_known_headers_make_a_header_row(known: int, place: int) -> None:
    rows = [["a", "b", "c", "d"], [*["order"] * known, ""], ["1", "2", "3", "4"]]
    assert header_place(rows, lambda cells: list(cells).count("order")) == place


@pytest.mark.parametrize(("above", "is_found"), [(19, True), (20, False)])
def test_the_header_row_is_searched_in_the_first_twenty_rows(above: int, is_found: bool) -> None:
    text = "a,b\n" * above + "order,item\n1,Pen\n"
    found = read_sheet_text(text, known=lambda cells: 2 * (list(cells) == ["order", "item"]))
    assert (found.header == ("order", "item")) is is_found


@pytest.mark.parametrize(("length", "unit"), [(60, "oz"), (61, "")])
def test_a_unit_is_read_from_a_header_of_at_most_60_characters(length: int, unit: str) -> None:
    assert without_unit("w" * (length - 5) + " (oz)")[1] == unit


@pytest.mark.parametrize(
    ("ours", "fitting", "not_fitting"),
    [("house_number", "12345678", "123456789"), ("quantity", "9999", "10000"), ("full_address", "1,a,b", "1,a")],
)
def test_values_fit_a_field_up_to_its_length(ours: str, fitting: str, not_fitting: str) -> None:
    assert fits(ours, [fitting])
    assert not fits(ours, [not_fitting])


@pytest.mark.parametrize(("others", "does_fit"), [(1, True), (2, False)])
def test_half_of_the_values_decide_whether_a_column_fits(others: int, does_fit: bool) -> None:
    assert fits("email", ["ada@shop.example", *["Bend"] * others]) is does_fit


@pytest.mark.parametrize(
    ("values", "is_unit"),
    [(["Apt 4"], True), (["Apt 4", "Bend"], True), (["Apt 4", "Bend", "Bath"], False), ([], False)],
)
def test_half_of_the_values_must_look_like_apartments(values: list[str], is_unit: bool) -> None:
    assert looks_like_a_unit(values) is is_unit


def test_a_single_amount_with_a_sign_makes_a_column_of_money() -> None:
    assert looks_like_money(["$3"])


@pytest.mark.parametrize(("cells", "is_short"), [("y n", True), ("y n maybe", False), ("", False)])
def test_y_and_n_are_read_only_where_every_cell_is_a_short_answer(cells: str, is_short: bool) -> None:
    assert YesNoColumn.of(cells.split()).is_short is is_short


def test_a_column_in_use_is_never_suggested_for_another_field() -> None:
    columns = Columns(["order", "mailers"], {"order": 1})
    assert suggestions(columns, ["mailer"], WEIGHT_FIELDS, [["1", "A7"]]) == ()
    unused = Columns(["order", "mailers"], {"order": 0})
    assert [one.header for one in suggestions(unused, ["mailer"], WEIGHT_FIELDS, [["1", "A7"]])] == ["mailers"]
