"""Headers of weights files, products, and mailers."""

from __future__ import annotations

import pytest

from desk.domain.faults import FileFault
from desk.intake.columns.header_words import WEIGHT_WORDS
from desk.intake.columns.headers import WEIGHT_FIELDS, Meanings, folded, match_headers, suggestions
from desk.intake.weights import known_weight_headers
from desk.tables.faults_found import FaultsFound


def match(header: list[str], mapped: dict[str, str] | None = None) -> tuple[dict[str, int], list[FileFault]]:
    faults = FaultsFound("a.csv")
    return dict(match_headers(header, Meanings(WEIGHT_FIELDS, mapped or {}), faults, 1).places), faults.faults


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        ("Order #", "order"),
        ("Postal-Code", "postalcode"),
        ("STRASSE", "strasse"),
        ("Straße", "strasse"),
        ("Nº pedido", "nopedido"),
        ("Größe", "grosse"),
        ("注文番号", "注文番号"),
        (" ?! ", ""),
    ],
)
def test_headers_are_compared_without_case_accents_and_punctuation(header: str, expected: str) -> None:
    assert folded(header) == expected


@pytest.mark.parametrize("ours", WEIGHT_WORDS)
def test_our_own_field_names_are_always_recognized(ours: str) -> None:
    assert match([ours]) == ({ours: 0}, [])


def test_no_header_means_two_fields() -> None:
    fields: dict[str, set[str]] = {}
    for ours, line in WEIGHT_WORDS.items():
        for word in (ours, *line.split("|")):
            fields.setdefault(folded(word), set()).add(ours)
    assert len(fields) > len(WEIGHT_WORDS)
    assert {word: of for word, of in fields.items() if len(of) > 1} == {}


def test_our_own_field_name_takes_priority_over_other_headers() -> None:
    assert match(["Order No", "order", "gross"]) == ({"order": 1, "gross": 2}, [])


def test_two_headers_for_one_field_are_a_fault() -> None:
    places, faults = match(["Weight", "Gross weight", "order"])
    assert places == {"order": 2}
    assert [str(fault) for fault in faults] == [
        (
            "a.csv: line 1, Weight: expected one column for gross; 'Weight' and 'Gross weight' both mean it, "
            "a mapping says which"
        )
    ]


def test_a_mapping_wins_and_its_columns_are_not_used_again() -> None:
    assert match(["order", "Order code (old)", "Who"], {"order": "order code (old)"}) == ({"order": 1}, [])
    assert match(["Weight"], {"division": "Weight"}) == ({"division": 0}, [])


def test_a_mapping_to_nothing_or_to_two_is_a_fault() -> None:
    faults = match(["a", "Who", "Who"], {"order": "Who", "gross": "What"})[1]
    assert [str(fault) for fault in faults] == [
        "a.csv: line 1, Who: expected one column called 'Who', as the mapping says for order; 2 is there",
        "a.csv: line 1, What: expected one column called 'What', as the mapping says for gross; none is there",
    ]


def test_cells_are_read_by_field_name() -> None:
    columns = match_headers(["order", "x", "Weight"], Meanings(WEIGHT_FIELDS), FaultsFound("a"), 1)
    assert columns.texts(("1", "y", "4.2", "z")) == {"order": "1", "gross": "4.2"}
    assert columns.texts(("", "y")) == {}
    assert (columns.cell(("1", "y", "4.2"), "gross"), columns.cell(("1",), "gross"), columns.cell(("1",), "unit")) == (
        "4.2",
        "",
        "",
    )
    assert (columns.name("gross"), columns.name("unit")) == ("Weight", "unit")


def near(header: list[str], *rows: list[str]) -> dict[str, str]:
    columns = match_headers(header, Meanings(WEIGHT_FIELDS), FaultsFound("f"), 1)
    return {
        offer.ours: offer.header for offer in suggestions(columns, columns.missing(WEIGHT_WORDS), WEIGHT_FIELDS, rows)
    }


def test_similar_headers_are_suggested_with_sample_values() -> None:
    columns = match_headers(["Ordr number", "Mailar", "Zodiac", ""], Meanings(WEIGHT_FIELDS), FaultsFound("a"), 1)
    rows = [("1", "Small box", "x", ""), ("2", "", "x"), ("3", "B" * 30, "x", "")]
    assert [one.words() for one in suggestions(columns, ["order", "mailer"], WEIGHT_FIELDS, rows)] == [
        'order = "Ordr number" (1, 2, 3)',
        f'mailer = "Mailar" (Small box, {"B" * 23}…)',
    ]


def test_no_missing_columns_suggest_nothing() -> None:
    columns = match_headers(["Waight"], Meanings(WEIGHT_FIELDS), FaultsFound("a"), 1)
    assert suggestions(columns, [], WEIGHT_FIELDS, []) == ()


def test_known_headers_are_counted() -> None:
    assert known_weight_headers(["order", "gross", "Länge", "zodiac", ""]) == 3


def test_a_cell_missing_from_a_short_row_is_empty() -> None:
    columns = match_headers(["order", "gross", "unit"], Meanings(WEIGHT_FIELDS), FaultsFound("a.csv"), 1)
    assert [columns.cell(("7", "1.2"), ours) for ours in ("order", "gross", "unit")] == ["7", "1.2", ""]
    assert columns.texts(("7", "1.2")) == {"order": "7", "gross": "1.2"}
    assert columns.texts(("7",)) == {"order": "7"}
