"""Products and mailers from lists: new, same, changed; fields without a column are kept; one step, one undo."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.faults import Refused, Unreadable
from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product, Restriction
from desk.domain.shop.shop import Shop
from desk.domain.weight import Weight
from desk.intake.shop.product_lists import ListKind, known_headers
from desk.session.importing.compare import Difference
from desk.session.importing.import_orders import import_shop
from desk.session.importing.preview import Pasted, as_mapping, open_table
from desk.session.importing.product_lists import CatalogPreview, compare_shelf, import_catalog
from desk.session.pile.stored_cases import read_terms
from desk.session.sitting import Sitting
from desk.session.undo import undo
from tests.intake.tables import ods, put, xlsx
from tests.session import made
from tests.session.made import CARD, PADDED, shop

PRODUCT_ROWS = [
    ["Artikelnummer", "Bezeichnung", "Gewicht", "Einheit", "Zolltarifnummer", "Ursprungsland", "Dicke", "steif"],
    ["GL-1", "Glue", "1.234,5", "Grams", "350691", "Germany", "0,5", "ja"],
    ["CD", "Card", "18", "g", "", "", "", ""],
]


pytestmark = pytest.mark.stocked([])


def kept(sitting: Sitting) -> Shop:
    return read_terms(sitting).shop


def compare_catalog(sitting: Sitting, source, shelf: ListKind, mapping=None) -> CatalogPreview:
    """Open a list as the window does, and compare it with the shop."""
    wanted = as_mapping(mapping)
    return compare_shelf(sitting, open_table(source, wanted.reading, known_headers(shelf)), shelf, wanted)


def look(sitting: Sitting, text: str, shelf: ListKind = ListKind.PRODUCTS) -> CatalogPreview:
    return compare_catalog(sitting, Pasted(text), shelf)


@pytest.mark.parametrize("form", ["csv", "tsv", "xlsx", "ods", "paste"])
def test_a_product_list_is_read_in_any_format(full: Sitting, tmp_path: Path, form: str) -> None:
    text = "\n".join(("\t" if form in ("tsv", "paste") else ";").join(row) for row in PRODUCT_ROWS)
    raw = {"xlsx": xlsx, "ods": ods}[form](PRODUCT_ROWS) if form in ("xlsx", "ods") else text.encode()
    source = Pasted(text) if form == "paste" else put(tmp_path, f"list.{form}", raw)
    found = compare_catalog(full, source, ListKind.PRODUCTS)
    glue = Product(
        "GL-1",
        "Glue",
        Weight(Decimal("1234.5")),
        "",
        "350691",
        origin="DE",
        stiff=True,
        thickness=Length.of("0.5", "in"),
    )
    assert found.new == (glue,)
    (changed,) = found.changed
    assert (changed.name, changed.differences) == ("CD", (Difference("unit_weight", "17 g", "18 g"),))
    assert changed.now.customs_words == CARD.customs_words  # type: ignore[union-attr]


def test_a_product_list_is_imported_in_one_step(full: Sitting) -> None:
    before = kept(full)
    found = look(full, "sku,name,weight,unit\nCD,Card,18,g\nBF,Folder,25,g\nGL,Glue,40,g\n")
    assert import_catalog(full, found, {"BF"}) == 2
    weights = {product.sku: product.unit_weight for product in kept(full).products}
    assert (weights["CD"], weights["BF"], weights["GL"]) == tuple(Weight(Decimal(grams)) for grams in (17, 25, 40))
    assert kept(full).products[0] == CARD
    assert undo(full) == "Products imported"
    assert kept(full) == before


def test_the_same_product_list_again_changes_nothing(full: Sitting) -> None:
    text = "sku,name,hs\nCD,Card,490900\n"
    assert [product.name for product in look(full, text).same] == ["Card"]
    before = full.store.revision
    import_catalog(full, look(full, text))
    assert full.store.revision == before


def test_mailers_are_read_with_size_empty_weight_and_price(full: Sitting) -> None:
    text = (
        "name,type,length,width,height,size unit,tare,weight unit,price,pack size,paper\n"
        "Tube,TUBE,300,60,60,mm,45,g,12.50,25,yes\nPadded,padded,,,,,23,g,37.50,100,\n"
    )
    found = look(full, text, ListKind.MAILERS)
    tube = Mailer("Tube", MailerKind.TUBE, Size.of("300", "60", "60", "mm"), Weight(Decimal(45)), Money(1250), 25)
    assert (found.new, found.same) == ((tube,), (PADDED,))
    assert import_catalog(full, found) == 1
    assert kept(full).mailers == (*shop().mailers, tube)


def test_a_changed_mailer_reports_its_size_and_price(full: Sitting) -> None:
    text = "name,length,width,height,size unit,pack price,paper\nPadded,10.5,8,1,in,40.00,no\n"
    (changed,) = look(full, text, ListKind.MAILERS).changed
    assert changed.differences == (
        Difference("size", "10.500 x 8.000 x 0.900 in", "10.500 x 8.000 x 1.000 in"),
        Difference("pack_price", "$37.50", "$40.00"),
        Difference("paper", "yes", "no"),
    )


def test_a_product_without_a_sku_is_matched_by_name(full: Sitting) -> None:
    (changed,) = look(full, "name,restricted,thick\nBook,Magnet,0.8\n").changed
    assert changed.before.name == "Book"
    assert [(one.field, one.before, one.after) for one in changed.differences] == [
        ("thickness", "0.700 in", "0.800 in"),
        ("restricted", "", "magnet"),
    ]
    assert isinstance(changed.now, Product)
    assert changed.now.restricted == (Restriction.MAGNET,)
    assert [new.name for new in look(full, "sku,name\nOTHER,Book\n").new] == ["Book"]


@pytest.mark.parametrize(
    ("text", "shelf", "expected"),
    [
        ("sku,name,weight\nX,Ink,40\n", ListKind.PRODUCTS,
         "the clipboard: line 2, weight: expected a weight_unit with it: oz, lb, g or kg"),
        ("sku,name,weight,unit\nCD,Card,x,g\n", ListKind.PRODUCTS,
         "the clipboard: line 2, weight: 'x' found, expected a number such as 12.50"),
        ("sku,name\nX,Ink\n\nX,Pen\n", ListKind.PRODUCTS,
         "the clipboard: line 4, sku: 'X' found, expected a unique sku; products.1 already has this one"),
        ("sku,stiff\nX,perhaps\n", ListKind.PRODUCTS, "the clipboard: line 2, stiff: 'perhaps' found, expected yes or no"),
        ("name,kind\nSack,sack\n", ListKind.MAILERS,
         "the clipboard: line 2, kind: 'sack' found, expected one of envelope, flat, padded, rigid, apparel, box, tube, card"),
        ("name,length\nSack,3\n", ListKind.MAILERS,
         "the clipboard: line 2, width: expected length, width and thickness together, or none"),
        ("prodct,shelf\nInk,3\n", ListKind.PRODUCTS,
         'the clipboard: line 1, name: expected a column for name or sku; perhaps name = "prodct" (Ink)'),
        ("kind,length\nbox,3\n", ListKind.MAILERS, "the clipboard: line 1, name: expected a column for name"),
        ("name,kind,pack price\nSack,box,1.234\n", ListKind.MAILERS,
         "the clipboard: line 2, pack price: '1.234' found, expected an amount of USD with at most 2 decimals"),
    ],
)  # fmt: skip
def test_faults_name_line_and_column(full: Sitting, text: str, shelf: ListKind, expected: str) -> None:
    with pytest.raises(Unreadable) as caught:
        look(full, text, shelf)
    assert expected in caught.value.sentence


def test_a_mapping_decides_what_a_header_means(full: Sitting) -> None:
    found = compare_catalog(full, Pasted("what,shelf\nInk,3\n"), ListKind.PRODUCTS, {"name": "what"})
    assert [new.name for new in found.new] == ["Ink"]
    assert found.header == ("what", "shelf")


@pytest.mark.parametrize("text", ["sku,name\nINK,Ink\n", "sku,name,weight,unit\nCD,Card,18,g\n"])
def test_a_list_compared_before_the_shop_changed_is_refused(full: Sitting, text: str) -> None:
    found = look(full, text)
    import_catalog(full, found, {"CD"})
    before = kept(full)
    with pytest.raises(Refused, match="changed since the preview"):
        import_catalog(full, found, {"CD"})
    assert kept(full) == before


def test_a_shop_without_settings_can_import_a_list(sitting: Sitting) -> None:
    assert import_catalog(sitting, look(sitting, "name,kind\nSack,padded\n", ListKind.MAILERS)) == 1
    assert kept(sitting).mailers == (Mailer("Sack", MailerKind.PADDED),)


def test_an_unchanged_hs_code_keeps_its_edition(sitting: Sitting) -> None:
    old = Product("OLD", "Old", hs="490900", hs_edition="HS 2017")
    import_shop(sitting, made.shop(products=(old,)))
    assert look(sitting, "sku,name,hs\nOLD,Old,490900\n").same == (old,)


@pytest.mark.parametrize(("typed", "expected"), [("4909.00", ()), ("4909 00", ()), ("4909.10", ("CD",))])
def test_dots_in_an_hs_code_are_not_a_change(full: Sitting, typed: str, expected: tuple[str, ...]) -> None:
    found = look(full, f"sku,name,hs\nCD,Card,{typed}\n")
    assert tuple(changed.name for changed in found.changed) == expected


@pytest.mark.parametrize(
    ("text", "weight", "thick"),
    [
        ("sku;weight (g);thickness (mm)\nGL;40;12.7", Weight(Decimal(40)), Length.of("0.5", "in")),
        ("sku;Gewicht in oz;Dicke [in]\nGL;2,5;0,5", Weight.of("2.5", "oz"), Length.of("0.5", "in")),
        ("sku;weight (g);unit;thickness\nGL;40;g;0.5", Weight(Decimal(40)), Length.of("0.5", "in")),
        ("sku;weight;thickness\nGL;0.04 kg;12.7 mm", Weight(Decimal(40)), Length.of("0.5", "in")),
    ],
)
def test_a_product_list_may_say_its_units_in_its_headers(
    full: Sitting, text: str, weight: Weight, thick: Length
) -> None:
    (glue,) = look(full, f"{text}\n").new
    assert glue == Product("GL", "", weight, thickness=thick)


@pytest.mark.parametrize(
    ("text", "size", "tare"),
    [
        ("name;kind;length (in);width (in);thickness (in);tare (g)\nA;box;9;7;3;105", Size.of(9, 7, 3, "in"), Weight(Decimal(105))),
        ("name;Art;Länge in mm;Breite in mm;Höhe in mm;Leergewicht (kg)\nA;box;240;105;1;0,02", Size.of(240, 105, 1, "mm"), Weight(Decimal(20))),
        ("name;kind;length;width;thickness;size_unit;weight (oz)\nA;box;9;7;3;in;2", Size.of(9, 7, 3, "in"), Weight.of(2, "oz")),
    ],
)  # fmt: skip
def test_a_list_of_mailers_may_say_its_units_in_its_headers(full: Sitting, text: str, size: Size, tare: Weight) -> None:
    (mailer,) = look(full, f"{text}\n", ListKind.MAILERS).new
    assert isinstance(mailer, Mailer)
    assert (mailer.size, mailer.tare) == (size, tare)


@pytest.mark.parametrize(
    ("text", "shelf", "reported"),
    [
        ("sku,weight (g),unit\nGL,40,oz\n", ListKind.PRODUCTS, "line 2, weight (g): '40' found, expected one unit; the cell, the header and the column of units say oz and g"),
        ("sku,weight (g)\nGL,2 oz\n", ListKind.PRODUCTS, "line 2, weight (g): '2 oz' found, expected one unit; the cell, the header and the column of units say g and oz"),
        ("sku,thickness (mm),size_unit\nGL,2,in\n", ListKind.PRODUCTS, "line 2, thickness (mm): '2' found, expected one unit; the cell, the header and the column of units say in and mm"),
        ("name,kind,length (in),width (mm),thickness (in)\nA,box,9,7,3\n", ListKind.MAILERS, "line 1, width (mm): 'mm' found, expected in, as 'length (in)' says"),
        ("name,kind,tare (g),tare_unit\nA,box,9,lb\n", ListKind.MAILERS, "line 2, tare (g): '9' found, expected one unit; the cell, the header and the column of units say lb and g"),
    ],
)  # fmt: skip
def test_two_units_for_one_number_of_a_list_are_a_fault(
    full: Sitting, text: str, shelf: ListKind, reported: str
) -> None:
    with pytest.raises(Unreadable) as caught:
        look(full, text, shelf)
    assert str(caught.value) == f"the clipboard: {reported}"


def test_a_column_with_an_unsuitable_unit_is_refused(full: Sitting) -> None:
    with pytest.raises(Unreadable, match=r"Dicke \(cm\): 'cm' found, expected one of the units of a thickness: in, mm"):
        compare_catalog(full, Pasted("sku,Dicke (cm)\nGL,2\n"), ListKind.PRODUCTS, {"thickness": "Dicke (cm)"})
