from __future__ import annotations

import pytest

from desk.domain.faults import FileFault
from desk.intake.columns.header_words import ORDER_WORDS, WEIGHT_WORDS
from desk.intake.columns.headers import (
    ORDER_FIELDS,
    WEIGHT_FIELDS,
    Meanings,
    check_values,
    doubtful,
    folded,
    known_names,
    match_headers,
    suggestions,
)
from desk.intake.table.faults_found import FaultsFound


def match(header: list[str], mapped: dict[str, str] | None = None) -> tuple[dict[str, int], list[FileFault]]:
    faults = FaultsFound("a.csv")
    return dict(match_headers(header, Meanings(ORDER_FIELDS, mapped or {}), faults, 1).places), faults.faults


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
def test_folding(header: str, expected: str) -> None:
    assert folded(header) == expected


@pytest.mark.parametrize(
    ("header", "ours"),
    [
        ("Order No.", "order"),
        ("ORDER_NUMBER", "order"),
        ("Ship To", "recipient"),
        ("Address Line 1", "address1"),
        ("State/Province", "region"),
        ("ZIP", "postal_code"),
        ("Country code", "country"),
        ("E-Mail", "email"),
        ("Product name", "item"),
        ("Qty", "quantity"),
        ("Price each", "unit_price"),
        ("Bestellnummer", "order"),
        ("Empfänger", "recipient"),
        ("Straße", "address1"),
        ("PLZ", "postal_code"),
        ("Land", "country"),
        ("Artikel", "item"),
        ("Stückpreis", "unit_price"),
        ("N° de commande", "order"),
        ("Destinataire", "recipient"),
        ("Pays", "country"),
        ("Désignation", "item"),
        ("Quantité", "quantity"),
        ("Frais de port", "shipping_paid"),
        ("Número de pedido", "order"),
        ("Destinatario", "recipient"),
        ("País", "country"),
        ("Artículo", "item"),
        ("Cantidad", "quantity"),
        ("Código postal", "postal_code"),
    ],
)
def test_words_of_the_trade_are_certain(header: str, ours: str) -> None:
    assert match(["x", header]) == ({ours: 1}, [])


@pytest.mark.parametrize("ours", ORDER_WORDS)
def test_our_own_names_are_certain(ours: str) -> None:
    assert match([ours]) == ({ours: 0}, [])


@pytest.mark.parametrize(
    "header", ["Name", "Price", "Total", "Date", "Address", "ID", "Shipping", "Notes", "Weight", ""]
)
def test_words_with_two_meanings_are_not_taken(header: str) -> None:
    assert match([header]) == ({}, [])


@pytest.mark.parametrize("words", [ORDER_WORDS, WEIGHT_WORDS])
def test_no_word_stands_for_two_fields(words: dict[str, str]) -> None:
    all_words = [folded(word) for ours, line in words.items() for word in {*line.split("|"), ours}]
    fields: dict[str, set[str]] = {}
    for ours, line in words.items():
        for word in (ours, *line.split("|")):
            fields.setdefault(folded(word), set()).add(ours)
    assert all_words
    assert {word: of for word, of in fields.items() if len(of) > 1} == {}


def test_our_own_name_beats_another_word_for_it() -> None:
    assert match(["Order No", "order", "item"]) == ({"order": 1, "item": 2}, [])


def test_two_words_for_one_field_ask() -> None:
    places, faults = match(["Ship to", "Addressee", "item"])
    assert places == {"item": 2}
    assert [str(fault) for fault in faults] == [
        (
            "a.csv: line 1, Ship to: expected one column for recipient; 'Ship to' and 'Addressee' both mean it, "
            "a mapping says which"
        )
    ]


def test_one_header_twice_asks_only_when_it_is_ours() -> None:
    assert match(["tag", "tag", "item"]) == ({"item": 2}, [])
    assert [fault.column for fault in match(["city", "city"])[1]] == ["city"]


def test_a_mapping_wins() -> None:
    mapped = {"recipient": "Who", "order": "order code (old)"}
    assert match(["order", "Order code (old)", "Who", "recipient"], mapped) == ({"order": 1, "recipient": 2}, [])


def test_a_column_the_mapping_took_is_not_taken_again() -> None:
    assert match(["Product"], {"sku": "Product"}) == ({"sku": 0}, [])


def test_a_mapping_to_nothing_or_to_two_is_told() -> None:
    faults = match(["a", "Who", "Who"], {"recipient": "Who", "item": "What"})[1]
    assert [str(fault) for fault in faults] == [
        "a.csv: line 1, Who: expected one column called 'Who', as the mapping says for recipient; 2 is there",
        "a.csv: line 1, What: expected one column called 'What', as the mapping says for item; none is there",
    ]


def test_cells_by_field() -> None:
    columns = match_headers(["order", "x", "City"], Meanings(ORDER_FIELDS), FaultsFound("a"), 1)
    assert columns.texts(("1", "y", "Salem", "z")) == {"order": "1", "city": "Salem"}
    assert columns.texts(("", "y")) == {}
    assert columns.cell(("1", "y", "Salem"), "city") == "Salem"
    assert columns.cell(("1",), "city") == ""
    assert columns.cell(("1",), "item") == ""
    assert (columns.name("city"), columns.name("item")) == ("City", "item")


def test_near_headers_are_suggested_with_values() -> None:
    header = ["Ordr number", "Recipiant", "Zodiac", "", "Ship contry"]
    columns = match_headers(header, Meanings(ORDER_FIELDS), FaultsFound("a"), 1)
    rows = [("1", "Ada Finch", "x", "", "US"), ("2", "", "x"), ("3", "B" * 30, "x", "", "US")]
    found = suggestions(columns, ["order", "recipient", "country", "item"], ORDER_FIELDS, rows)
    assert [suggestion.words() for suggestion in found] == [
        'order = "Ordr number" (1, 2, 3)',
        f'recipient = "Recipiant" (Ada Finch, {"B" * 23}…)',
        'country = "Ship contry" (US)',
    ]


def test_a_column_is_suggested_for_its_likest_field_alone() -> None:
    columns = match_headers(["Adress", "Adress line 1"], Meanings(ORDER_FIELDS), FaultsFound("a"), 1)
    found = suggestions(columns, list(ORDER_WORDS), ORDER_FIELDS, [])
    assert [(suggestion.ours, suggestion.header, suggestion.words()) for suggestion in found] == [
        ("address1", "Adress line 1", 'address1 = "Adress line 1"')
    ]


def test_nothing_wanted_suggests_nothing() -> None:
    columns = match_headers(["Adress"], Meanings(ORDER_FIELDS), FaultsFound("a"), 1)
    assert suggestions(columns, [], ORDER_FIELDS, []) == ()


def test_known_names_count_orders_and_weights() -> None:
    assert known_names(["order", "gross", "Land", "zodiac", ""]) == 3
    assert WEIGHT_FIELDS["grossweight"] == "gross"


def near(header: list[str], *rows: list[str]) -> dict[str, str]:
    columns = match_headers(header, Meanings(ORDER_FIELDS), FaultsFound("f"), 1)
    return {
        offer.ours: offer.header for offer in suggestions(columns, columns.missing(ORDER_WORDS), ORDER_FIELDS, rows)
    }


def test_words_of_two_meanings_are_offered_first_and_never_taken() -> None:
    header = ["order", "Ship Mode", "Customer Name", "Price", "Date"]
    offered = near(header, ["1", "Second Class", "Ada Finch", "12.50", "2026-11-25"])
    assert offered == {
        "recipient": "Customer Name",
        "shipping_choice": "Ship Mode",
        "unit_price": "Price",
        "placed": "Date",
    }


def test_a_column_whose_values_do_not_fit_is_not_offered() -> None:
    assert near(["order", "Citty"], ["1", "Bend"], ["2", "Bath"]) == {"city": "Citty"}
    assert near(["order", "Citty"], ["1", "97701"], ["2", "55804"]).get("city") is None


def test_a_header_whose_values_say_otherwise_is_told() -> None:
    header, rows = ("order", "city"), [("1", "97701"), ("2", "55804")]
    columns, faults = match_headers(header, Meanings(ORDER_FIELDS), FaultsFound("f"), 1), FaultsFound("f")
    assert [(doubt.ours, doubt.values) for doubt in doubtful(columns, rows)] == [("city", ("97701", "55804"))]
    check_values(columns, {}, rows, faults, 1)
    assert [str(fault) for fault in faults.faults] == [
        "f: line 1, city: '97701, 55804' found, expected values that can be a city (a mapping says which column is)"
    ]
    mapped = FaultsFound("f")
    check_values(columns, {"city": "city"}, rows, mapped, 1)
    assert mapped.faults == []


@pytest.mark.parametrize(("header", "doubted"), [(["Region", "State"], True), (["region", "State"], False)])
def test_a_region_beside_a_state_is_asked(header: list[str], *, doubted: bool) -> None:
    """Sales lists have both: the region of a sales plan, and the state the parcel goes to."""
    faults = FaultsFound("f")
    columns = match_headers(header, Meanings(ORDER_FIELDS), faults, 1)
    assert ("region" in columns.doubted, bool(faults.faults)) == (doubted, doubted)


def test_a_person_may_say_that_no_column_is_a_field() -> None:
    columns = match_headers(["order", "Discount"], Meanings(ORDER_FIELDS, {"discount": ""}), FaultsFound("f"), 1)
    assert set(columns.places) == {"order"}


def test_one_column_may_be_two_fields_when_a_mapping_says_so() -> None:
    columns = match_headers(["Ref", "Pen"], Meanings(ORDER_FIELDS, {"order": "Ref", "sku": "Ref"}), FaultsFound("f"), 1)
    assert columns.texts(("7", "Ink")) == {"order": "7", "sku": "7"}
    assert columns.texts(("",)) == {}


def test_a_column_that_fits_nothing_left_is_passed_over() -> None:
    assert near(["order", "Citty"], ["1", "97701"]) == {}
