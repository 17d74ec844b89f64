"""A list without a country column: the suggestion, and a mapping that names one country for all orders."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.intake.columns.samples import Samples
from desk.intake.order_headers.mapping_file import ColumnMapping, mapping_text, read_mapping
from desk.intake.order_headers.match import match_order_headers
from desk.intake.orders.one_country import likely_country, with_one_country
from desk.intake.orders.order_list import match_columns
from desk.session.importing.preview import list_rules, open_table
from desk.tables.faults_found import FaultsFound
from tests.intake.tables import COUNTRIES, put, read_list, sentences

HEAD = "order,recipient,address1,city,state,zip,item\n"
ROWS = HEAD + "1,Ada Finch,1 Quire St,Bend,OR,97701,Card\n2,Bo Reed,2 Folio St,Boston,MA,2134,Card\n"
WHOLE = "order,recipient,address,item\n"


def test_the_refusal_explains_how_to_name_one_country(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        read_list(put(tmp_path, "orders.csv", ROWS))
    assert sentences(caught, tmp_path) == [
        (
            "orders.csv: line 1, country: expected a column for country; the postal codes look like those of US. "
            'If so, put country = "US" above [columns] in a mapping'
        )
    ]


@pytest.mark.parametrize("typed", ["US", "United States of America", "usa"])
def test_a_mapping_names_the_country_of_all_orders(tmp_path: Path, typed: str) -> None:
    mapping = ColumnMapping(country=typed)
    found = read_list(put(tmp_path, "orders.csv", ROWS), mapping=mapping)
    assert [order.address.country for order in found.orders] == ["US", "US"]
    assert found.orders[1].address.postal_code == "02134"
    assert read_mapping(put(tmp_path, "m.toml", mapping_text(mapping))) == mapping


def test_a_mapping_may_name_a_country_instead_of_a_column(tmp_path: Path) -> None:
    found = read_list(put(tmp_path, "orders.csv", ROWS), mapping=ColumnMapping({"country": "United States of America"}))
    assert {order.address.country for order in found.orders} == {"US"}


def test_the_country_of_a_row_overrides_the_one_for_all_orders(tmp_path: Path) -> None:
    text = "order,recipient,country,item\n1,Ada,FR,Card\n2,Bo,,Card\n"
    found = read_list(put(tmp_path, "orders.csv", text), mapping=ColumnMapping(country="DE"))
    assert [order.address.country for order in found.orders] == ["FR", "DE"]


def test_an_unknown_country_is_a_fault(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="a name or ISO code of one country"):
        read_list(put(tmp_path, "orders.csv", ROWS), mapping=ColumnMapping(country="Nowhere"))


@pytest.mark.parametrize(
    ("text", "likely"),
    [
        (ROWS, "US"),
        (HEAD + "1,Ada,1 Quire St,Bath,,BA1 1AA,Card\n2,Bo,2 Folio,Lyon,,69001,Card\n", ""),
        ("order,recipient,state,item\n1,Ada,OR,Card\n2,Bo,ME,Card\n", "US"),
        ("order,recipient,state,item\n1,Ada,Bavaria,Card\n2,Bo,ME,Card\n", ""),
        (WHOLE + '1,Ada,"1 Quire St, Bend, OR 97701",Card\n2,Bo,"2 Folio, Bath, ME 04530",Card\n', "US"),
        (WHOLE + '1,Ada,"1 Quire St, Bend, OR 97701, USA",Card\n2,Bo,"3 Rue X, 69001 Lyon, France",Card\n', ""),
        (ROWS.replace("zip,", "zip,country,").replace("97701,", "97701,US,").replace("2134,", "2134,US,"), ""),
    ],
)
def test_the_shops_country_is_suggested_where_codes_or_states_match(tmp_path: Path, text: str, likely: str) -> None:
    sheet = open_table(put(tmp_path, "orders.csv", text))
    assert match_columns(sheet, list_rules(COUNTRIES), FaultsFound("x")).likely_country == likely


@pytest.mark.parametrize(("home", "country"), [("US", "US"), ("DE", "")])
def test_us_states_do_not_suggest_a_country_to_a_shop_elsewhere(home: str, country: str) -> None:
    names = ["order", "recipient", "address1", "city", "state", "item"]
    samples = Samples([["1", "Ada Finch", "1 Quire St", "Bend", "OR", "Card"]], len(names))
    found = match_order_headers(names, samples, {}, (), FaultsFound("a.csv"), 1)
    assert likely_country(found, samples, home) == country


@pytest.mark.parametrize(("header", "is_column"), [("France", True), ("Land", False)])
def test_a_header_called_like_a_country_is_still_a_column(header: str, is_column: bool) -> None:
    mapping = ColumnMapping(columns={"country": "France"})
    assert with_one_country(mapping, ("order", header), COUNTRIES).country == ("" if is_column else "France")
