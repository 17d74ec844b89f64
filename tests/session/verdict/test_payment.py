import pytest

from desk.domain.shop.shop import LetterPostage, ParcelPayment, Policy
from desk.session.verdict.payment import Payment, has_label, payment_for
from tests.rates.chart_folder import shipped


@pytest.mark.parametrize(
    ("service", "letters", "parcels", "expected"),
    [
        ("letter-stamped", "metered", "online", "stamped"),
        ("letter-metered", "stamped", "online", "metered"),
        ("postcard", "stamped", "online", "stamped"),
        ("flat", "stamped", "counter", "stamped"),
        ("flat", "metered", "counter", "metered"),
        ("intl-letter", "stamped", "online", "stamped"),
        ("intl-flat", "metered", "online", "metered"),
        ("intl-package", "stamped", "online", "online"),
        ("ground-retail", "stamped", "counter", "counter"),
        ("media", "stamped", "online", "online"),
    ],
)
def test_the_payment_depends_on_service_and_policy(service, letters, parcels, expected):
    policy = Policy(letter_postage=LetterPostage(letters), parcel_payment=ParcelPayment(parcels))
    assert payment_for(shipped().service(service), policy) == expected


@pytest.mark.parametrize(
    ("payment", "expected"), [("stamped", True), ("metered", True), ("counter", True), ("online", False)]
)
def test_postage_bought_online_comes_with_its_own_label(payment, expected):
    assert has_label(Payment(payment)) is expected


def test_without_a_service_there_is_no_label():
    assert has_label(None) is False
