"""Shop, mailer, product and stamps: finding by name, and the cost of a mailer."""

from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product, Restriction
from desk.domain.shop.shop import LetterPostage, ParcelPayment, Policy, Shop, Untracked
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import NOTHING

NOTEBOOK = Product(sku="NB-1", name="Sewn notebook")
CARD = Product(sku="", name="Letterpress card")
SHOP = Shop(
    sender=Address(recipient="Sorrel Street Bindery", country="US"),
    mailers=(Mailer("A7", MailerKind.ENVELOPE), Mailer("Small box", MailerKind.BOX)),
    products=(NOTEBOOK, CARD),
)


def line(item="", sku=""):
    return OrderLine(item, 1, Money(100), sku=sku)


@pytest.mark.parametrize(
    ("bought", "product"),
    [
        (line("Something else", "NB-1"), NOTEBOOK),  # the sku wins over the name
        (line("Sewn notebook"), NOTEBOOK),
        (line("Letterpress card", "NB-1"), NOTEBOOK),
        (line("Letterpress card", "LC-9"), CARD),  # an unknown sku leaves the name
        (line("letterpress card"), None),
        (line("Unknown"), None),
        (line("", ""), None),
    ],
)
def test_a_line_finds_its_product(bought, product):
    assert SHOP.product_for(bought) == product


@pytest.mark.parametrize(("name", "kind"), [("A7", MailerKind.ENVELOPE), ("Small box", MailerKind.BOX)])
def test_a_mailer_is_found_by_name(name, kind):
    assert SHOP.mailer(name).kind is kind


@pytest.mark.parametrize("name", ["", "a7", "Large box"])
def test_an_unknown_mailer_gives_none(name):
    assert SHOP.mailer(name) is None


@pytest.mark.parametrize(
    ("mailer", "cost"),
    [
        (Mailer("A7", MailerKind.ENVELOPE, pack_price=Money.of("12.50"), pack_count=100), "0.13"),
        (Mailer("A7", MailerKind.ENVELOPE, pack_price=Money.of("1.99")), "1.99"),
        (Mailer("A7", MailerKind.ENVELOPE, pack_price=Money.of("12.50"), pack_count=10, reused=True), "0.00"),
        (Mailer("A7", MailerKind.ENVELOPE), "0.00"),
    ],
)
def test_a_mailer_costs_its_share_of_the_pack(mailer, cost):
    assert mailer.cost("USD") == Money.of(cost)


def test_a_free_mailer_costs_zero_in_the_shops_currency():
    assert Mailer("A7", MailerKind.ENVELOPE).cost("CAD") == Money(0, "CAD")


def test_a_shop_without_a_policy_gets_the_careful_defaults():
    policy = Policy()

    assert policy.currency == "USD"
    assert policy.letter_postage is LetterPostage.STAMPED
    assert policy.parcel_payment is ParcelPayment.ONLINE
    assert policy.untracked is Untracked.ALWAYS
    assert not policy.cautious
    assert policy.max_stamps is None
    assert (policy.label_weight, policy.insert_weight) == (NOTHING, NOTHING)
    assert (policy.insert_cost, policy.label_cost) == (Money(0), Money(0))


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (MailerKind, "envelope flat padded rigid apparel box tube card"),
        (Restriction, "magnet battery flammable aerosol"),
        (
            StampKind,
            "forever additional_ounce two_ounce three_ounce nonmachinable postcard semipostal global_forever face",
        ),
        (LetterPostage, "stamped metered"),
        (ParcelPayment, "online counter"),
    ],
)
def test_kinds_have_the_words_of_the_shop_file(kind, words):
    assert [member.value for member in kind] == words.split()


def test_a_face_value_stamp_is_worth_its_face_value():
    stock = StampStock(StampKind.FACE, 12, Money.of("0.05"))

    assert stock.value.amount * stock.count == Decimal("0.60")
