"""What forms show: fields as texts that can be read back, and services in words, each once."""

from dataclasses import replace

import pytest

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.intake.columns.currencies import CURRENCIES
from desk.intake.shop.shop_values import shop_values
from desk.session.setup import shop_texts as shop_words
from desk.session.setup.shop_texts import (
    all_services,
    currencies,
    packaging_services,
    parcel_services,
    services_abroad,
    stamp_words,
)
from tests.session import made

SHOP = replace(made.shop(), tax_ids={"ioss": "IM0400000000"})


def test_a_form_shows_the_values_of_a_shop_file():
    held = shop_values(SHOP)
    assert shop_words.sender_texts(SHOP) == held["sender"]
    assert shop_words.policy_texts(SHOP.policy) == held["policy"]
    assert [shop_words.mailer_texts(one) for one in SHOP.mailers] == held["mailers"]
    assert [shop_words.product_texts(one) for one in SHOP.products] == held["products"]
    assert [shop_words.stamp_texts(one) for one in SHOP.stamps] == held["stamps"]
    assert shop_words.tax_texts(SHOP) == {"ioss": "IM0400000000"}


def test_editing_form_values_does_not_change_the_shop():
    shop_words.tax_texts(SHOP)["ioss"] = ""
    assert SHOP.tax_ids == {"ioss": "IM0400000000"}


@pytest.mark.parametrize(
    ("stamp", "words"),
    [
        (StampStock(StampKind.FOREVER, 3), "Forever"),
        (StampStock(StampKind.ADDITIONAL_OUNCE, 0), "additional ounce"),
        (StampStock(StampKind.FACE, 1, Money(5)), "$0.05"),
        (StampStock(StampKind.FACE, 1, Money(120, "JPY")), "JPY 120"),
    ],
)
def test_a_stamp_is_described_briefly(stamp, words):
    assert stamp_words(stamp) == words


def ids(services):
    return {service for service, _ in services}


def test_domestic_international_and_letter_services_are_all_services_without_overlap(rulebook):
    parcels, abroad = ids(parcel_services(rulebook)), ids(services_abroad(rulebook))
    assert parcels & abroad == set()
    assert ids(all_services(rulebook)) - parcels - abroad == {"letter-stamped", "letter-metered", "postcard", "flat"}
    assert ids(all_services(rulebook)) == set(rulebook.charts.services())
    assert {"ground-retail", "media", "priority-flat-padded-retail"} <= parcels
    assert {"intl-package", "intl-priority-flat-envelope"} <= abroad


def test_flat_rate_packaging_is_listed_for_domestic_and_international_mail(rulebook):
    found = ids(packaging_services(rulebook))
    assert found == {service for service in rulebook.charts.services() if "priority-flat-" in service}
    assert len(found) == 6 * 2 + 4 + 1  # six kinds at two prices, four abroad, one for military mail: the service ids


@pytest.mark.parametrize("offer", [parcel_services, services_abroad, all_services, packaging_services])
def test_no_two_services_have_the_same_words_and_none_shows_its_id(rulebook, offer):
    found = offer(rulebook)
    words = [label for _, label in found]
    assert len(set(words)) == len(words) == len(ids(found))
    assert [service for service, label in found if label == service and "-" in service] == []


def test_plain_services_come_before_packaging_each_sorted_by_name(rulebook):
    found = all_services(rulebook)
    packed = ["priority-flat-" in service for service, _ in found]
    assert packed == sorted(packed)
    plain = [label for service, label in found if "priority-flat-" not in service]
    assert plain == sorted(plain)


def test_flat_rate_names_which_of_its_two_prices_it_means(rulebook):
    words = dict(packaging_services(rulebook))
    assert words["priority-flat-legal-retail"] == "priority flat-rate legal envelope (retail)"
    assert words["priority-flat-legal-commercial"] == "priority flat-rate legal envelope (online)"


def test_currencies_are_offered_in_order(rulebook):
    assert currencies() == sorted(CURRENCIES)
