"""What a person says of columns: a field belongs to one column, and who gives it to another exchanges the two."""

from __future__ import annotations

import pytest

from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.session.importing.columns import Column, accepted, as_field, columns_of, exchanged, skipped
from desk.session.importing.preview import NO_SHOP, Pasted, accept_all, open_table
from tests.session.importing.previewed import preview_orders

TABLE = Pasted(
    "order,recipient,country,itm,region,city,shelf\n"
    "1,Ada Quist,US,Card,Duluth,MN,A1\n2,Bo Rand,US,Pen,Bend,OR,A1\n3,Cy Holm,US,Ink,Ames,IA,B2\n"
)
SWAPPED = {"region": "city", "city": "region"}


def look(mapping: ColumnMapping | None = None) -> tuple[Column, ...]:
    return columns_of(preview_orders(TABLE, mapping))


def read_as(mapping: ColumnMapping) -> dict[str, tuple[str, ...]]:
    """What each column is when the table is looked at again: what counts is what is read, not what was noted."""
    return {column.header: column.fields for column in look(mapping)}


def test_columns_are_in_the_order_of_the_file_with_their_cells() -> None:
    columns = look()
    assert [column.header for column in columns] == ["order", "recipient", "country", "itm", "region", "city", "shelf"]
    assert [column.fields for column in columns[:3]] == [("order",), ("recipient",), ("country",)]
    assert (columns[3].header, columns[3].offered, columns[3].values) == ("itm", "item", ("Card", "Pen", "Ink"))
    assert columns[6] == Column("shelf", (), "", ("A1", "B2"))
    assert not columns[6].needs_a_choice


def test_a_column_whose_values_contradict_its_header_is_doubtful() -> None:
    table = Pasted("order,recipient,country,item,region\n1,Ada,US,Card,12 Quire St\n2,Bo,US,Pen,3 Folio Rd\n")
    assert [column.header for column in columns_of(preview_orders(table)) if column.is_doubtful] == ["region"]


def test_choosing_the_field_of_another_column_swaps_the_two() -> None:
    chosen_format = as_field(ColumnMapping(), look(), 4, "city")
    assert {name: chosen_format.columns[name] for name in SWAPPED} == SWAPPED
    now = read_as(chosen_format)
    assert (now["region"], now["city"]) == (("city",), ("region",))
    back = as_field(chosen_format, look(chosen_format), 4, "region")
    assert (read_as(back)["region"], read_as(back)["city"]) == (("region",), ("city",))


def test_a_column_is_swapped_with_the_next_one() -> None:
    now = read_as(exchanged(ColumnMapping(), look(), 4, 5))
    assert (now["region"], now["city"]) == (("city",), ("region",))
    now = read_as(exchanged(ColumnMapping(), look(), 5, 6))
    assert (now["city"], now["shelf"]) == ((), ("city",))


def test_choosing_a_field_for_an_ignored_column_leaves_the_old_one_ignored() -> None:
    now = read_as(as_field(ColumnMapping(), look(), 6, "city"))
    assert (now["shelf"], now["city"]) == (("city",), ())


def test_a_skipped_column_stays_unread_until_it_is_restored() -> None:
    chosen = as_field(ColumnMapping(), look(), 5, "")
    assert (chosen.columns, chosen.ignore, read_as(chosen)["city"]) == ({"city": ""}, ("city",), ())
    assert look(chosen)[5].is_skipped
    back = as_field(chosen, look(chosen), 5, "city")
    assert (read_as(back)["city"], back.ignore) == (("city",), ())


def test_every_column_that_needs_a_choice_is_skipped_at_once() -> None:
    table = Pasted(
        "order,recipient,country,item,Gate name,Door\n1,Ada,US,Card,Main gate,3 Quire Street\n2,Bo,US,Pen,Side gate,4 Folio Road\n"
    )
    columns = columns_of(preview_orders(table))
    assert [column.looks_like for column in columns] == ["", "", "", "", "name", "address"]
    chosen = skipped(ColumnMapping(), columns)
    assert chosen.ignore == ("Gate name", "Door")
    assert preview_orders(table, chosen).unsettled == ()
    assert preview_orders(table, chosen).skipped == ("Gate name", "Door")


def test_the_old_field_of_a_column_goes_to_the_column_with_that_header() -> None:
    table = Pasted("order,recipient,ship city,city,country,item\n1,Ada,Bath,x,US,Card\n")
    columns = columns_of(preview_orders(table))
    assert [column.fields for column in columns[2:4]] == [(), ("city",)]
    chosen = as_field(ColumnMapping(), columns, 3, "buyer_note")
    assert [column.fields for column in columns_of(preview_orders(table, chosen))[2:4]] == [("city",), ("buyer_note",)]


def test_choosing_the_same_field_keeps_the_mapping() -> None:
    mapping = ColumnMapping(prefix="A-")
    assert as_field(mapping, look(), 0, "order") is mapping


@pytest.mark.parametrize("places", [[3], [0, 3, 6]])
def test_a_suggestion_is_accepted_by_itself_or_with_others(places: list[int]) -> None:
    chosen_format = accepted(ColumnMapping(prefix="A-"), look(), places)
    assert (chosen_format.columns, chosen_format.prefix) == ({"item": "itm"}, "A-")
    assert read_as(chosen_format)["itm"] == ("item",)


def test_columns_without_a_suggestion_stay_unread() -> None:
    assert accepted(ColumnMapping(), look(), [0, 6]).columns == {}


def test_accepting_all_includes_suggestions_that_follow_from_others() -> None:
    sheet = open_table(Pasted("order,Ship too,country,itm,Adres 1,Adres 2\n1,Ada Finch,US,Card,1 Quire St,Apt 2\n"))
    chosen = accept_all(sheet, NO_SHOP)
    assert chosen.columns == {"recipient": "Ship too", "item": "itm", "address1": "Adres 1", "address2": "Adres 2"}


def test_a_column_may_have_two_fields_until_one_is_chosen() -> None:
    both = ColumnMapping({"recipient": "recipient", "company": "recipient"})
    columns = look(both)
    assert columns[1].fields == ("recipient", "company")
    now = read_as(as_field(both, columns, 1, "company"))
    assert now["recipient"] == ("company",)
