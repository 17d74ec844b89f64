from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product, Restriction
from desk.domain.shop.shop import ExchangeRate, LetterPostage, ParcelPayment, Policy, Shop, Untracked
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import Weight, WeightUnit
from desk.intake.shop.shop_file import read_shop
from tests.intake.tables import SHOP, put, sentences

FULL = """\
[sender]
name = "Ada Finch"
company = "Sorrel Street Bindery"
address1 = "14 Sorrel Street"
address2 = "Back door"
city = "Portland"
region = "OR"
postal_code = "97201"
country = "us"
phone = "503 555 0100"
email = "desk@shop.example"

[policy]
currency = "USD"
letter_postage = "metered"
parcel_services = ["ground-commercial", "media"]
intl_services = ["intl-letter"]
parcel_payment = "counter"
untracked = "45.00"
skip_status = ["canceled"]
stamp_request_phrases = ["by stamp"]
cautious = true
max_stamps = 5
scale_division = 0.1
scale_unit = "oz"
scale_rounds_up = true
label_weight = "3 g"
insert_cost = 0.10
insert_weight = "0.1 oz"
label_cost = "0.04"

[choices]
"Standard mail" = ["letter-stamped", "flat"]

[tax_ids]
ioss = "IM0400000000"

[rates]
XDR_USD = {rate = "1.37276", date = 2026-04-21}
EUR_USD = {rate = 1.0850, date = "2026-11-20"}

[[mailers]]
name = "No. 10"
kind = "envelope"
length = 9.5
width = "4.125"
thickness = "0.05"
size_unit = "in"
tare = "0.2"
tare_unit = "oz"
pack_price = 9.00
pack_count = 100
stiff = true
reused = true
paper = false
only_service = "priority-flat-envelope-retail"

[[mailers]]
name = "Old box"
kind = "box"

[[products]]
sku = "NB-1"
name = "Notebook"
unit_weight = 119
weight_unit = "g"
customs_words = "Notebook, paper, sewn"
hs = "482010"
origin = "us"
stiff = true
thickness = "0.5"
document = false
media = true
restricted = "magnet"

[[products]]
name = "Card"
thickness = 2
size_unit = "mm"

[[stamps]]
kind = "forever"
count = 40

[[stamps]]
kind = "face"
value = 0.05
count = 0
"""


MAILERS = (
    Mailer(
        name="No. 10",
        kind=MailerKind.ENVELOPE,
        size=Size.of("9.5", "4.125", "0.05", "in"),
        tare=Weight.of("0.2", "oz"),
        pack_price=Money(900),
        pack_count=100,
        stiff=True,
        reused=True,
        paper=False,
        only_service="priority-flat-envelope-retail",
    ),
    Mailer(name="Old box", kind=MailerKind.BOX),
)
PRODUCTS = (
    Product(
        sku="NB-1",
        name="Notebook",
        unit_weight=Weight(Decimal(119)),
        customs_words="Notebook, paper, sewn",
        hs="482010",
        origin="US",
        stiff=True,
        thickness=Length.of("0.5", "in"),
        media=True,
        restricted=(Restriction.MAGNET,),
    ),
    Product(sku="", name="Card", thickness=Length(Decimal(2))),
)


def test_every_field_of_a_shop_file_is_read(tmp_path: Path) -> None:
    assert read_shop(put(tmp_path, "shop.toml", FULL)) == Shop(
        sender=Address(
            recipient="Ada Finch",
            company="Sorrel Street Bindery",
            address1="14 Sorrel Street",
            address2="Back door",
            city="Portland",
            region="OR",
            postal_code="97201",
            country="US",
            phone="503 555 0100",
            email="desk@shop.example",
        ),
        policy=Policy(
            currency="USD",
            letter_postage=LetterPostage.METERED,
            parcel_services=("ground-commercial", "media"),
            intl_services=("intl-letter",),
            parcel_payment=ParcelPayment.COUNTER,
            untracked=Untracked.UP_TO,
            untracked_up_to=Money(4500),
            skip_status=("canceled",),
            stamp_request_phrases=("by stamp",),
            cautious=True,
            max_stamps=5,
            scale_division=Decimal("0.1"),
            scale_unit=WeightUnit.OUNCE,
            scale_rounds_up=True,
            label_weight=Weight(Decimal(3)),
            insert_cost=Money(10),
            insert_weight=Weight.of("0.1", "oz"),
            label_cost=Money(4),
        ),
        choices={"Standard mail": ("letter-stamped", "flat")},
        tax_ids={"ioss": "IM0400000000"},
        rates=(
            ExchangeRate("XDR", "USD", Decimal("1.37276"), date(2026, 4, 21)),
            ExchangeRate("EUR", "USD", Decimal("1.0850"), date(2026, 11, 20)),
        ),
        mailers=MAILERS,
        products=PRODUCTS,
        stamps=(StampStock(StampKind.FOREVER, 40), StampStock(StampKind.FACE, 0, Money(5))),
    )


def test_a_sender_alone_makes_a_shop(tmp_path: Path) -> None:
    assert read_shop(put(tmp_path, "shop.toml", SHOP)) == Shop(
        Address("Sorrel Street Bindery", "", "14 Sorrel Street", "", "Portland", "OR", "97201", "US")
    )


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ('"always"', (Untracked.ALWAYS, None)),
        ('"asked"', (Untracked.ASKED, None)),
        ("45", (Untracked.UP_TO, Money(4500, "EUR"))),
        ('"0"', (Untracked.UP_TO, Money(0, "EUR"))),
    ],
)
def test_untracked_is_always_asked_or_a_limit(
    tmp_path: Path, typed: str, expected: tuple[Untracked, Money | None]
) -> None:
    text = f'{SHOP}[policy]\ncurrency = "EUR"\nuntracked = {typed}\n'
    policy = read_shop(put(tmp_path, "shop.toml", text)).policy
    assert (policy.untracked, policy.untracked_up_to) == expected


def test_costs_are_in_the_shops_currency_and_stamps_in_the_post_s(tmp_path: Path) -> None:
    text = f'{SHOP}[policy]\ncurrency = "JPY"\nlabel_cost = 7\n[[stamps]]\nkind = "face"\nvalue = "0.05"\ncount = 1\n'
    shop = read_shop(put(tmp_path, "shop.toml", text))
    assert (shop.policy.label_cost, shop.policy.insert_cost) == (Money(7, "JPY"), Money(0, "JPY"))
    assert shop.stamps[0].value == Money(5, "USD")


def test_an_empty_list_of_services_allows_none(tmp_path: Path) -> None:
    policy = read_shop(put(tmp_path, "shop.toml", f"{SHOP}[policy]\nparcel_services = []\nintl_services = []\n")).policy
    assert (policy.parcel_services, policy.intl_services) == ((), ())


def test_every_fault_of_the_file_is_reported(tmp_path: Path) -> None:
    text = """\
[sender]
company = "Sorrel Street Bindery"
address1 = ""
region = "OR"
postal_code = 97201
country = "USA"
fax = "1"

[policy]
letter_postage = "franked"
parcel_services = "media"
untracked = "sometimes"
cautious = "yes"
max_stamps = 0
scale_division = "0"
label_weight = 3
insert_cost = "-1"

[rates]
XDR_USD = {rate = "many", date = "soon"}

[[mailers]]
kind = "bag"
length = 9
"""
    with pytest.raises(Unreadable) as caught:
        read_shop(put(tmp_path, "shop.toml", text))
    assert sentences(caught, tmp_path) == [
        "shop.toml: line 1, sender.city: expected a value here; it is needed",
        "shop.toml: line 3, sender.address1: expected text that is not empty",
        "shop.toml: line 5, sender.postal_code: '97201' found, expected text in quotes",
        "shop.toml: line 6, sender.country: 'USA' found, expected a country code of two letters, such as \"US\"",
        (
            "shop.toml: line 7, sender.fax: 'fax' found, expected one of name, company, address1, address2, city, region, "
            "postal_code, country, phone, email, first_name, last_name"
        ),
        "shop.toml: line 10, policy.letter_postage: 'franked' found, expected one of stamped, metered",
        'shop.toml: line 11, policy.parcel_services: \'media\' found, expected a list, such as ["one", "two"]',
        (
            'shop.toml: line 12, policy.untracked: \'sometimes\' found, expected "always", "asked", '
            'or an order value such as "45.00"'
        ),
        "shop.toml: line 13, policy.cautious: 'yes' found, expected true or false",
        "shop.toml: line 14, policy.max_stamps: '0' found, expected a whole number of at least 1",
        "shop.toml: line 15, policy.scale_division: '0' found, expected a number above 0",
        "shop.toml: line 16, policy.label_weight: '3' found, expected a weight with its unit, such as \"3 g\"",
        "shop.toml: line 17, policy.insert_cost: '-1' found, expected a number of 0 or more",
        "shop.toml: line 20, rates.XDR_USD.rate: 'many' found, expected a number such as 12.50",
        "shop.toml: line 20, rates.XDR_USD.date: 'soon' found, expected a date such as 2026-11-25",
        "shop.toml: line 22, mailers.1.width: expected length, width and thickness together, or none",
        "shop.toml: line 22, mailers.1.name: expected a value here; it is needed",
        (
            "shop.toml: line 23, mailers.1.kind: 'bag' found, expected one of envelope, flat, padded, rigid, apparel, box, "
            "tube, card"
        ),
        "shop.toml: line 24, mailers.1.length: expected a size_unit with it: in or mm",
    ]


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("[policy]\nscale_division = true\n", "line 9, policy.scale_division: 'True' found, expected a number, such as \"4.20\""),
        ("[policy]\ninsert_cost = nan\n", "line 9, policy.insert_cost: 'NaN' found, expected a number, such as \"4.20\""),
        ("[policy]\ncurrency = 7\n", "line 9, policy.currency: '7' found, expected a currency code in quotes, such as \"USD\""),
        ('[policy]\ncurrency = "dollars"\n', "line 9, policy.currency: 'dollars' found, expected an ISO 4217 currency code such as USD"),
        ('[policy]\nlabel_weight = "3"\n', "line 9, policy.label_weight: '3' found, expected a weight with its unit, such as \"3 g\""),
        ('[policy]\nlabel_weight = "-3 g"\n', "line 9, policy.label_weight: '-3 g' found, expected a weight with its unit, such as \"3 g\""),
        ("[choices]\nfast = 3\n", "line 9, choices.fast: '3' found, expected a list, such as [\"one\", \"two\"]"),
        ("[choices]\nfast = [3]\n", "line 9, choices.fast.1: '3' found, expected text in quotes"),
        ("[rates]\nXDR_USD = 1.2\n", "line 9, rates.XDR_USD: '1.2' found, expected a table"),
        ("[tax_ids]\nvat = 'x'\n", "line 9, tax_ids.vat: 'vat' found, expected one of ioss, voec, uk_vat, au_arn, nz_gst"),
        ("[[stamps]]\nkind = 'forever'\ncount = -1\n", "line 10, stamps.1.count: '-1' found, expected a whole number of at least 0"),
        ("[[stamps]]\nkind = 'forever'\ncount = 1.5\n", "line 10, stamps.1.count: '1.5' found, expected a whole number without quotes"),
        ("[[products]]\nname = 'x'\norigin = 'China'\n", "line 10, products.1.origin: 'China' found, expected a country code of two letters, such as \"US\""),
        ("[[products]]\nname = 'x'\nunit_weight = '1,234'\nweight_unit = 'g'\n", "line 10, products.1.unit_weight: '1,234' found, expected a number that reads one way: 1234 or 1.234"),
        ("[[products]]\nname = 'x'\n[products.size]\nlength = 1\n", "line 10, products.1.size: 'size' found, expected one of sku, name, unit_weight, weight_unit, customs_words, hs, origin, stiff, length, width, thickness, size_unit, document, media, restricted, usual_mailer, no_goods"),
    ],
)  # fmt: skip
def test_each_wrong_type_has_its_own_message(tmp_path: Path, more: str, expected: str) -> None:
    with pytest.raises(Unreadable) as caught:
        read_shop(put(tmp_path, "shop.toml", SHOP + more))
    assert sentences(caught, tmp_path) == [f"shop.toml: {expected}"]
