"""Product and mailer lists: each row changes what the shop already has, and every fault is reported with its place."""

from decimal import Decimal

import pytest

from desk.domain.faults import Unreadable
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.domain.weight import Weight
from desk.intake.columns.sheet import read_sheet
from desk.intake.shop.product_lists import CatalogRules, ListKind, catalog_in, known_headers, known_product
from tests.intake.tables import COUNTRIES, put, sentences

BOOK = Product("NB", "Notebook", Weight(Decimal(150)), "Blank book", "482010", origin="US")
CARD = Product("", "Card", Weight(Decimal(17)))
BOX = Mailer("Box", MailerKind.BOX, Size.of("9", "6", "3", "in"), Weight(Decimal(40)), Money(2000), 30)
SHOP = Shop(Address(), products=(BOOK, CARD), mailers=(BOX,))


def read(folder, text, shelf=ListKind.PRODUCTS, **columns):
    return catalog_in(read_sheet(put(folder, "list.csv", text)), shelf, CatalogRules(SHOP, COUNTRIES, columns))


def faults(folder, text, shelf=ListKind.PRODUCTS):
    with pytest.raises(Unreadable) as caught:
        read(folder, text, shelf)
    return sentences(caught, folder)


def test_a_new_product_has_the_values_of_its_row(tmp_path):
    (one,) = read(tmp_path, "sku,name,weight,unit,hs code,made in\nBF,Bone folder,21,g,960190,Germany\n").records
    assert one == Product("BF", "Bone folder", Weight(Decimal(21)), "", "960190", origin="DE")


def test_a_known_product_changes_only_in_the_columns_of_the_list(tmp_path):
    (one,) = read(tmp_path, "sku,name,hs code,customs description\nNB,,482020,\n").records
    assert one == Product("NB", "Notebook", Weight(Decimal(150)), "Blank book", "482020", origin="US")


def test_a_new_number_never_gets_the_unit_of_the_old_one(tmp_path):
    reported = faults(tmp_path, "sku,weight\nNB,5\n")
    assert [line.split(":")[0] for line in reported] == ["list.csv"]
    (one,) = read(tmp_path, "sku,weight,unit\nNB,5,oz\n").records
    assert one.unit_weight == Weight.of("5", "oz")


def test_a_partial_size_replaces_the_whole_old_one(tmp_path):
    assert faults(tmp_path, "name,kind,length\nBox,box,9\n", ListKind.MAILERS)
    text = "name,length,width,height,size_unit\nBox,8,5,2,in\n"
    (one,) = read(tmp_path, text, ListKind.MAILERS).records
    assert one == Mailer("Box", MailerKind.BOX, Size.of("8", "5", "2", "in"), BOX.tare, BOX.pack_price, 30)


def test_the_words_of_a_mailer_list_are_those_of_a_shop_file(tmp_path):
    text = "name;type;pack price;pack size;rigid;reused\nBoard;RIGID;12.50;25;yes;no\n"
    (one,) = read(tmp_path, text, ListKind.MAILERS, pack_price="pack price").records
    assert one == Mailer("Board", MailerKind.RIGID, None, None, Money(1250), 25, stiff=True)


@pytest.mark.parametrize(
    ("sku", "name", "found"),
    [
        ("NB", "", BOOK),
        ("NB", "Card", BOOK),
        ("", "Notebook", BOOK),
        ("", "Card", CARD),
        ("XX", "Card", CARD),  # the one without a sku gets it
        ("XX", "Notebook", None),  # another product of that name
        ("", "", None),
        ("nb", "", None),
    ],
)
def test_a_product_is_found_by_its_sku_or_else_by_its_name(sku, name, found):
    assert known_product(SHOP, sku, name) == found


@pytest.mark.parametrize(
    ("shelf", "text", "reported"),
    [
        (ListKind.PRODUCTS, "colour,hs code\nred,482010\n", "line 1, name: expected a column for name or sku"),
        (ListKind.MAILERS, "colour,kind\nred,box\n", "line 1, name: expected a column for name"),
        (ListKind.PRODUCTS, "sku,rigid\nNB,perhaps\n", "line 2, rigid: 'perhaps' found, expected yes or no"),
        (ListKind.MAILERS, "name,kind\nSack,sack\n", "line 2, kind: 'sack' found, expected one of envelope"),
        (
            ListKind.MAILERS,
            "name,kind,pack size\nA,box,none\n",
            "line 2, pack size: 'none' found, expected a whole number",
        ),
    ],
)
def test_an_unreadable_value_is_reported_by_line_and_column(tmp_path, shelf, text, reported):
    assert any(line.startswith(f"list.csv: {reported}") for line in faults(tmp_path, text, shelf)), faults(
        tmp_path, text, shelf
    )


def test_all_faults_are_reported_at_once(tmp_path):
    assert len(faults(tmp_path, "sku,rigid,document\nA,perhaps,no\nB,yes,maybe\nC,some,never\n")) == 4


def test_known_headers_are_counted():
    assert known_headers(ListKind.PRODUCTS)(["SKU", "HS code", "colour", ""]) == 2
    assert known_headers(ListKind.MAILERS)(["SKU", "HS code"]) == 0
