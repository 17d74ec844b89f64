"""Importing a table without a window: what it contains, what it would change, and doing it as one step."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from desk.domain.faults import Refused, Unreadable
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.intake.columns.formats import FormatWord
from desk.intake.shop.product_lists import ListKind
from desk.session.importing import import_table
from desk.session.importing.import_table import (
    ORDERS,
    ColumnMapping,
    ImportEffect,
    OpenedTable,
    Pasted,
    ReadingChoices,
    Stopped,
    Watch,
)
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.sitting import Sitting
from desk.session.undo import undo
from desk.session.verdict.verdict import Terms
from desk.store.tables.hand_overs import put_postage_on
from tests.intake.tables import put, xlsx
from tests.session.made import policy, shop

HEAD = "order,recipient,address1,city,region,postal_code,country,item,quantity,status\n"
ONE = "7001,Ada Quist,1 Quire St,Bath,ME,04530,US,Card,1,paid\n"
TWO = "7002,Bo Finch,2 Quire St,Bath,ME,04530,US,Card,1,paid\n"
PRODUCTS = "sku,name,unit_weight,weight_unit\nCD,Card,18,g\nGL,Glue,40,g\n"
MAILERS = "name,kind,length,width,thickness,size_unit\nTube,tube,12,3,3,in\n"
NOTHING_SAID = ColumnMapping()


pytestmark = pytest.mark.stocked([], shop=shop(policy=policy(skip_status=("canceled", "on hold"))))


def terms_of(sitting: Sitting) -> Terms:
    return read_terms(sitting)


def compared(sitting: Sitting, text: str, mapping: ColumnMapping = NOTHING_SAID, kind: str = "") -> ImportEffect:
    looked = import_table.open_list(Pasted(text), mapping, kind)
    return import_table.compare(sitting, looked, terms_of(sitting), mapping)


def status(sitting: Sitting) -> dict[str, PieceStatus | None]:
    return {stored.case.key.order: stored.case.beside for stored in read_stored(sitting)}


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        (HEAD + ONE, ORDERS),
        (PRODUCTS, str(ListKind.PRODUCTS)),
        (MAILERS, str(ListKind.MAILERS)),
        ("Bestellnummer;Empfänger;Land;Artikel\n1;Ada;US;Card\n", ORDERS),
        ("this;that\n1;2\n", ORDERS),
    ],
)
def test_headers_tell_what_a_table_contains(text: str, kind: str) -> None:
    assert import_table.open_list(Pasted(text), ColumnMapping()).kind == kind


def test_the_kind_of_a_table_can_be_chosen() -> None:
    looked = import_table.open_list(Pasted("name,kind\nSack,padded\n"), ColumnMapping(), str(ListKind.PRODUCTS))
    assert (looked.kind, looked.preview.columns) == (str(ListKind.PRODUCTS), ("name",))
    assert "hs" in looked.fields


@pytest.mark.parametrize(
    ("text", "mapping", "expected"),
    [
        (HEAD + ONE, ColumnMapping(), True),
        (HEAD.replace("item", "itm") + ONE, ColumnMapping(), False),
        (HEAD.replace("item", "itm") + ONE, ColumnMapping({"item": "itm"}), True),
        (HEAD.replace("status", "placed") + ONE.replace("paid", "03/04/2026"), ColumnMapping(), False),
        (
            HEAD.replace("status", "placed") + ONE.replace("paid", "03/04/2026"),
            ColumnMapping(formats={"placed": (FormatWord.DAY_FIRST,)}),
            True,
        ),
        (HEAD.replace("status", "Town name") + ONE, ColumnMapping(), False),
        (HEAD.replace("status", "Town name") + ONE, ColumnMapping(ignore=("Town name",)), True),
        ("kind,length\nbox,3\n", ColumnMapping(), False),
    ],
)
def test_required_columns_must_be_chosen_first(text: str, mapping: ColumnMapping, expected: bool) -> None:
    kind = str(ListKind.MAILERS) if text.startswith("kind") else ""
    assert import_table.open_list(Pasted(text), mapping, kind).can_be_read is expected


def test_a_table_is_opened_once_however_often_a_column_becomes_another() -> None:
    first = import_table.open_list(Pasted(HEAD.replace("item", "itm") + ONE), ColumnMapping())
    again = import_table.look_up_again(first.sheet, ColumnMapping({"item": "itm"}), first.kind)
    assert again.sheet is first.sheet
    assert (first.preview.missing, again.preview.missing) == (("item",), ())


def test_a_sheet_is_chosen_by_its_headers_or_by_hand(tmp_path: Path) -> None:
    file = put(tmp_path, "book.xlsx", xlsx([["sku", "name"], ["CD", "Card"]]))
    looked = import_table.open_list(file, ColumnMapping())
    assert (looked.kind, looked.preview.sheets) == (str(ListKind.PRODUCTS), (looked.preview.sheet,))
    with pytest.raises(Unreadable, match="a sheet called 'Nowhere'"):
        import_table.open_list(file, ColumnMapping(reading=ReadingChoices(sheet="Nowhere")))


def test_a_list_has_new_same_changed_canceled_and_missing_orders(full: Sitting) -> None:
    three = TWO.replace("7002", "7003")
    import_table.take(full, compared(full, HEAD + ONE + TWO + three + ONE.replace("7001", "7004")), ())
    found = compared(
        full,
        HEAD + ONE + TWO.replace("Bath", "Bend") + three.replace("paid", "Canceled") + ONE.replace("7001", "7005"),
    )
    assert (found.new, found.same, found.changed, dict(found.skipped)) == (1, 1, ("7002",), {"Canceled": 1})
    assert [(line.name, line.what, line.field, line.after) for line in found.lines] == [
        ("7002", "changed", "city", "Bend"),
        ("7003", "canceled", "status", "Canceled"),
        ("7004", "not in the list", "", ""),
    ]
    assert [line.may_be_accepted for line in found.lines] == [True, False, False]


def test_an_import_is_one_step_that_can_be_undone(full: Sitting) -> None:
    import_table.take(full, compared(full, HEAD + ONE + TWO), ())
    found = compared(
        full, HEAD + ONE.replace("Bath", "Bend") + TWO.replace("paid", "canceled") + ONE.replace("1,A", "9,A")
    )
    done = import_table.take(full, found, {"7001"})
    assert (done.new, done.changed, done.set_aside) == (1, 1, 1)
    assert status(full) == {"7001": None, "7002": PieceStatus.SET_ASIDE, "7009": None}
    assert undo(full) == "Orders imported"
    assert status(full) == {"7001": None, "7002": None}
    assert compared(full, HEAD + ONE).same == 1


def test_a_change_that_is_not_accepted_is_not_made(full: Sitting) -> None:
    import_table.take(full, compared(full, HEAD + ONE), ())
    done = import_table.take(full, compared(full, HEAD + ONE.replace("Bath", "Bend")), ())
    assert (done.new, done.changed) == (0, 0)
    assert compared(full, HEAD + ONE).same == 1


def test_a_changed_order_with_postage_on_is_marked(full: Sitting) -> None:
    import_table.take(full, compared(full, HEAD + ONE), ())
    (stored,) = read_stored(full)
    with full.store.act("Put postage on") as tx:
        put_postage_on(tx, [stored.id])
    (line,) = compared(full, HEAD + ONE.replace("Bath", "Bend")).lines
    assert (line.what, line.may_be_accepted) == ("changed, postage is on", True)


def test_a_list_compared_before_the_last_change_is_refused(full: Sitting) -> None:
    found = compared(full, HEAD + ONE)
    import_table.take(full, compared(full, HEAD + ONE), ())
    with pytest.raises(Refused, match="changed since the preview"):
        import_table.take(full, found, ())


def test_a_prefix_keeps_the_same_number_of_two_shops_apart(full: Sitting) -> None:
    for prefix in ("A-", "B-"):
        import_table.take(full, compared(full, HEAD + ONE, ColumnMapping(prefix=prefix)), ())
    assert {stored.case.key for stored in read_stored(full)} == {PieceKey("A-7001"), PieceKey("B-7001")}


def test_importing_products_or_mailers_is_one_step(full: Sitting) -> None:
    before = terms_of(full).shop
    found = compared(full, PRODUCTS)
    assert (found.new, found.changed, [line.field for line in found.lines]) == (1, ("CD",), ["unit_weight"])
    done = import_table.take(full, found, {"CD"})
    assert (done.new, done.changed, done.set_aside) == (1, 1, 0)
    import_table.take(full, compared(full, MAILERS), ())
    assert terms_of(full).shop.mailer("Tube") is not None
    undo(full)
    undo(full)
    assert terms_of(full).shop == before


def test_an_order_with_an_unreadable_cell_is_imported_and_counted(full: Sitting) -> None:
    found = compared(full, HEAD + ONE.replace(",1,paid", ",many,paid") + TWO)
    assert (found.new, found.issues) == (2, 1)


def test_orders_that_only_gain_missing_values_are_listed_separately(full: Sitting) -> None:
    import_table.take(full, compared(full, HEAD + ONE.replace("Bath", "") + TWO), ())
    found = compared(full, HEAD + ONE + TWO.replace("Bath", "Bend"))
    assert (found.changed, found.filled) == (("7001", "7002"), ("7001",))
    assert [(line.name, line.what) for line in found.lines] == [("7001", "fills an empty field"), ("7002", "changed")]


def test_an_order_marked_as_shipped_is_left_out_and_not_reported_missing(full: Sitting) -> None:
    import_table.take(full, compared(full, HEAD + ONE + TWO), ())
    found = compared(full, HEAD + ONE + TWO.replace("paid", "Shipped"))
    assert (found.new, found.same, dict(found.skipped), found.lines) == (0, 1, {"Shipped": 1}, ())


def test_an_answer_applies_to_every_column_in_question_and_can_be_reverted() -> None:
    text = "order,recipient,country,item,placed,unit_price,shipping_paid\n1,Ada,US,Card,03/04/2026,1.250,2.500\n"
    looked = import_table.open_list(Pasted(text), ColumnMapping())
    decimals = {"point decimals": "", "comma decimals": ""}
    answered = import_table.answered(ColumnMapping(), looked.preview, "comma decimals", decimals)
    assert answered.formats == {"unit_price": ("comma decimals",), "shipping_paid": ("comma decimals",)}
    again = import_table.open_list(Pasted(text), answered)
    assert [question.field for question in again.preview.questions] == ["placed"]
    other = import_table.answered(answered, again.preview, "point decimals", decimals)
    assert other.formats == {"unit_price": ("point decimals",), "shipping_paid": ("point decimals",)}
    assert import_table.answered(other, again.preview, "", decimals).formats == {}


def looking(_sitting: Sitting, watch: Watch) -> OpenedTable:
    return import_table.open_list(Pasted(HEAD + ONE), ColumnMapping(), watch=watch)


def comparing(sitting: Sitting, watch: Watch) -> ImportEffect:
    return import_table.compare(sitting, looking(sitting, Watch()), terms_of(sitting), ColumnMapping(), watch)


def comparing_products(sitting: Sitting, watch: Watch) -> ImportEffect:
    looked = import_table.open_list(Pasted(PRODUCTS), ColumnMapping())
    return import_table.compare(sitting, looked, terms_of(sitting), ColumnMapping(), watch)


WAYS: list[Callable[[Sitting, Watch], object]] = [looking, comparing, comparing_products]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("yes_after", [0, 1, 2])
def test_canceling_an_import_stores_nothing(
    full: Sitting, way: Callable[[Sitting, Watch], object], yes_after: int
) -> None:
    before = full.store.revision
    answers = iter([False] * yes_after + [True] * 1000)
    with pytest.raises(Stopped):
        way(full, Watch(canceled=lambda: next(answers)))
    assert full.store.revision == before


@pytest.mark.parametrize("way", WAYS)
def test_progress_only_rises_and_ends_at_its_end(full: Sitting, way: Callable[[Sitting, Watch], object]) -> None:
    reported: list[tuple[int, int]] = []
    way(full, Watch(lambda done, of: reported.append((done, of))))
    assert [done for done, _ in reported] == sorted(done for done, _ in reported)
    assert reported[-1] == (1000, 1000)
    assert {of for _, of in reported} == {1000}


def test_an_uncertain_encoding_is_asked_about_with_the_likeliest_first(tmp_path: Path) -> None:
    file = put(tmp_path, "orders.csv", "order,recipient,country,item\n1,Ureńa,PL,Card\n".encode("cp1250"))
    looked = import_table.open_list(file, ColumnMapping())
    assert {"cp1250", "cp1252"} <= {name for name, _ in looked.preview.encodings}
    assert not looked.can_be_read
    chosen = import_table.open_list(file, ColumnMapping(reading=ReadingChoices(encoding="cp1250")))
    assert (chosen.can_be_read, chosen.preview.rows[0][1]) == (True, "Ureńa")
