"""Saved mappings: by name, by header row, through TOML; two shops' number 1047; what a person chose, remembered."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Refused, Unreadable
from desk.intake.columns.formats import FormatWord
from desk.intake.columns.reading import ReadingChoices
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.session.importing.compare import compare, import_accepted
from desk.session.importing.mappings import (
    forget_mapping,
    import_mapping,
    mapping_for,
    save_mapping,
    saved_mappings,
    write_mapping,
)
from desk.session.importing.preview import Pasted, read_order_list, read_orders_of
from desk.session.sitting import Sitting
from desk.session.undo import undo
from desk.session.verdict.verdict import Terms
from desk.tables.watch import Watch
from tests.session.importing.previewed import preview_orders

HEADER = ("No", "Who", "Where", "What")
FAIR = ColumnMapping(
    {"order": "No", "recipient": "Who", "country": "Where", "item": "What"},
    prefix="F-",
    reading=ReadingChoices("cp1250", ";", "Sheet 2"),
    formats={"placed": (FormatWord.DAY_FIRST,), "unit_price": (FormatWord.COMMA_DECIMALS,)},
    ignore=("Gate code",),
)


def test_a_mapping_is_saved_by_name_and_undone(sitting: Sitting) -> None:
    save_mapping(sitting, " Fair ", FAIR, HEADER)
    save_mapping(sitting, "Shop", ColumnMapping(prefix="S-"))
    assert [saved.name for saved in saved_mappings(sitting)] == ["Shop", "Fair"]
    save_mapping(sitting, "Fair", ColumnMapping(prefix="G-"))
    assert [(saved.name, saved.mapping.prefix) for saved in saved_mappings(sitting)] == [("Fair", "G-"), ("Shop", "S-")]
    undo(sitting)
    assert saved_mappings(sitting)[1].mapping.reading == FAIR.reading
    forget_mapping(sitting, "Fair")
    assert [saved.name for saved in saved_mappings(sitting)] == ["Shop"]


def test_a_mapping_without_a_name_is_refused(sitting: Sitting) -> None:
    with pytest.raises(Refused, match="Type a name"):
        save_mapping(sitting, " ", FAIR)


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        (HEADER, "Fair"),
        (("what", "WHERE", "who", "no."), "Fair"),
        ((*HEADER, "Shelf"), None),
        (HEADER[:3], None),
    ],
)
def test_a_mapping_is_found_by_its_header_row(sitting: Sitting, header: tuple[str, ...], expected: str | None) -> None:
    save_mapping(sitting, "Fair", FAIR, HEADER)
    found = mapping_for(sitting, header)
    assert (found and found.name) == expected


def test_a_mapping_is_exported_and_imported_as_toml(sitting: Sitting, tmp_path: Path) -> None:
    odd = ColumnMapping({"recipient": 'Who "it" is\\for\x7f\t'}, prefix="Ö-", reading=ReadingChoices(delimiter="\t"))
    for name, mapping in (("Fair", FAIR), ("Odd one", odd)):
        save_mapping(sitting, name, mapping, HEADER)
        kept = saved_mappings(sitting)[0].mapping
        file = tmp_path / "mapping.toml"
        write_mapping(kept, file)
        forget_mapping(sitting, name)
        assert import_mapping(sitting, file).mapping == kept


def test_an_imported_mapping_is_found_by_the_headers_it_names(sitting: Sitting, tmp_path: Path) -> None:
    file = tmp_path / "Market.toml"
    file.write_text('[columns]\nrecipient = "Who"\nitem = "What"\n', encoding="utf-8")
    assert import_mapping(sitting, file).name == "Market"
    found = mapping_for(sitting, (*HEADER, "Shelf"))
    assert found is not None
    assert found.name == "Market"
    assert mapping_for(sitting, ("What", "Who")) == found
    assert mapping_for(sitting, ("Who", "Which")) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("[columns]\n[formats]\nplaced = 'year'\n", 'expected "day first" or "month first"'),
        ("delimiter = ':'\n[columns]\n", r"expected ',' or ';' or '\t' or '|'"),
        ("encoding = 'rot13'\n[columns]\n", "the name of an encoding"),
        ("encoding = 'no-such'\n[columns]\n", "the name of an encoding"),
        ("sheet = 2\n[columns]\n", "text in quotes"),
        ("colour = 'red'\n[columns]\n", "one of name, prefix, country, encoding, delimiter, sheet, ignore"),
        ("name = 3\n[columns]\n", "text in quotes"),
    ],
)
def test_an_invalid_mapping_file_is_reported(sitting: Sitting, tmp_path: Path, text: str, expected: str) -> None:
    file = tmp_path / "m.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        import_mapping(sitting, file)
    assert expected in caught.value.sentence
    assert saved_mappings(sitting) == ()


def test_a_folder_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="cannot be written"):
        write_mapping(FAIR, tmp_path / "none" / "m.toml")


def test_encoding_and_delimiter_are_remembered_by_the_header_row(
    sitting: Sitting, tmp_path: Path, terms: Terms
) -> None:
    """Mac letters that cannot be guessed: chosen once, then found again by the header row."""
    file = tmp_path / "orders.csv"
    file.write_bytes("No;Who;Where;What\n1;Zoë Müller;US;Card\n".encode("mac_roman"))
    chosen = ColumnMapping(FAIR.columns, reading=ReadingChoices(encoding="mac_roman"))
    save_mapping(sitting, "Mac", chosen, preview_orders(file, chosen).header)
    found = mapping_for(sitting, HEADER)
    assert found is not None
    assert preview_orders(file, found.mapping).rows == (("1", "Zoë Müller", "US", "Card"),)
    (order,) = read_orders_of(file, terms, found.mapping)
    assert order.address.recipient == "Zoë Müller"


def test_number_1047_of_two_shops_is_two_orders(sitting: Sitting, terms: Terms) -> None:
    table = Pasted("order\trecipient\tcountry\titem\n#1047\tAda Quist\tUS\tCard\n")
    for prefix in ("A-", "B-"):
        found = read_order_list(table, terms, ColumnMapping(prefix=prefix))
        assert found is not None
        import_accepted(sitting, compare(sitting, found.orders, found.left_out))
    again = read_order_list(table, terms, ColumnMapping(prefix="B-"))
    assert again is not None
    assert compare(sitting, again.orders).same == ("B-1047",)
    assert compare(sitting, again.orders).gone == ("A-1047",)


def test_a_pasted_table_is_examined_like_a_file(terms: Terms) -> None:
    table = Pasted("order\trecipient\tcountry\titem\tplaced\tunit_price\n1\tAda\tUS\tCard\t03/04/2026\t1.250\n")
    found = preview_orders(table)
    assert (found.path, found.delimiter, found.encoding) == (Path("the clipboard"), "\t", "")
    dates, amounts = found.questions
    assert (dates.field, dates.readings) == ("placed", {"day first": "2026-04-03", "month first": "2026-03-04"})
    assert (amounts.field, amounts.readings) == ("unit_price", {"point decimals": "1.25", "comma decimals": "1250"})
    settled = ColumnMapping(formats={"placed": (FormatWord.DAY_FIRST,), "unit_price": (FormatWord.POINT_DECIMALS,)})
    assert preview_orders(table, settled).questions == ()
    (open_order,) = read_orders_of(table, terms)
    assert (open_order.placed, [one.code for one in open_order.findings]) == (None, ["cell-not-read"])
    (order,) = read_orders_of(table, terms, settled)
    assert (str(order.placed), order.lines[0].unit_price.text()) == ("2026-04-03", "1.25")


def test_contradicting_cells_are_shown_and_suggestions_have_examples() -> None:
    found = preview_orders(
        Pasted("order,recipient,country,itm,region\n1,Ada,US,Card,12 Quire St\n2,Bo,US,Pen,3 Folio Rd\n")
    )
    assert found.doubtful == {"region": ("12 Quire St", "3 Folio Rd")}
    assert [(offer.ours, offer.values) for offer in found.suggestions] == [("item", ("Card", "Pen"))]


def test_a_canceled_preview_gives_nothing(terms: Terms) -> None:
    table = Pasted("order,recipient,country,item\n1,Ada,US,Card\n")
    answers = iter([False, True])
    assert read_order_list(table, terms, watch=Watch(canceled=lambda: next(answers))) is None
