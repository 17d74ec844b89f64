"""Cheaper alternatives: a lighter piece, a smaller one, the price by volume, flat-rate packaging."""

from dataclasses import replace
from datetime import date

import pytest

from desk.domain.length import Size
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import ParcelPayment, Policy
from desk.domain.weight import Weight
from desk.rates.quote import PriceRules, quote
from desk.rates.savings import lighter, other_ways, smaller
from tests.rates.chart_folder import shipped, shipped_zones
from tests.rates.tiny import BOX, FIVE, FLAT, FLAT_RATE, LARGE_ENVELOPE, LETTER, chart, piece, rules

DAY = rules()
PADDED = {"mailer_kind": MailerKind.PADDED}


def near(weight, *words, **fields):
    """Return the limit in ounces, the saving and the service; None when no limit is near."""
    posting = piece(weight, *words, **fields)
    found = lighter(posting, quote(posting, DAY), DAY)
    return found and (found.limit.ounces(), found.saves.text(), found.service)


def test_the_lower_price_just_below_the_weight_is_suggested():
    assert near("1.1") == (1, "0.30", "letter-stamped")
    assert near("1.9") == (1, "0.30", "letter-stamped")


def test_nothing_is_suggested_below_the_first_price_step():
    assert near("0.9") is None


def test_a_limit_more_than_an_ounce_away_is_not_suggested():
    assert near("6", BOX) is None
    assert near("17.5", BOX) is None


def test_a_step_without_a_price_change_is_skipped():
    """4 oz and 8 oz cost the same in the tiny list, 15.999 and 16 too."""
    assert near("4.5", BOX) is None
    assert near("16.5", BOX) == (16, "3.00", "ground-retail")


def test_another_service_may_be_the_cheaper_one():
    """A large envelope of 13.2 oz is a parcel at 8.00; at 13 oz it is a flat at 4.75."""
    limit, saves, service = near("13.2", LARGE_ENVELOPE, mailer_kind=MailerKind.FLAT)
    assert (limit, saves, service) == (13, "3.25", "flat")


def test_nothing_is_suggested_for_a_piece_without_a_service():
    posting = piece("3", BOX, country="SO")
    assert lighter(posting, quote(posting, DAY), DAY) is None
    assert smaller(posting, quote(posting, DAY), DAY) == ()


def hints(weight, *sides, **fields):
    posting = piece(weight, Size.of(*sides, "in"), **fields)
    return [(each.what, each.limit, each.saves.text()) for each in smaller(posting, quote(posting, DAY), DAY)]


def test_a_thinner_piece_would_be_a_letter():
    assert hints("0.9", "9", "6", "0.3", **PADDED) == [("thickness", "0.25", "0.95")]


def test_a_thinner_parcel_would_be_a_flat():
    assert hints("7.9", "10", "8", "0.9", **PADDED) == [("thickness", "0.75", "3.50")]


def test_a_smaller_length_and_height_would_be_a_letter():
    assert hints("0.9", "12", "6", "0.2", **PADDED) == [("face", "11.5 x 6.125", "0.95")]


def test_a_shorter_parcel_pays_no_fee_for_length():
    assert hints("8", "23", "8", "4", mailer_kind=MailerKind.BOX) == [("length", "22", "4.00")]


def test_a_smaller_volume_is_not_billed_by_size():
    """13 x 12 x 12 in is 1872 cu in, billed as 14 lb; 11 in high it is 1716 cu in and pays by weight."""
    assert [each[:2] for each in hints("8", "13", "12", "12", mailer_kind=MailerKind.BOX)] == [("volume", "1728")]


def test_far_over_a_limit_is_no_hint():
    assert hints("8", "10", "8", "4", mailer_kind=MailerKind.BOX) == []
    assert hints("8", "28", "8", "4", mailer_kind=MailerKind.BOX) == []


def test_no_hint_without_a_saving():
    posting = piece("1")
    assert smaller(posting, quote(posting, DAY), DAY) == ()
    assert smaller(piece("1", None), quote(piece("1", None), DAY), DAY) == ()


def test_the_suggested_limit_is_a_weight():
    posting = piece("1.1")
    assert lighter(posting, quote(posting, DAY), DAY).limit == Weight.of(1, "oz")


def shipped_rules(on=date(2026, 8, 12), payment=ParcelPayment.ONLINE, services=("ground-commercial",)):
    policy = Policy(parcel_services=services, parcel_payment=payment)
    return PriceRules(shipped(), shipped_zones(), policy, on)


def ways(posting, rules):
    found = other_ways(posting, quote(posting, rules), rules)
    return [(way.service, way.price.text(), way.now.text()) for way in found]


def heavy(**fields):
    plain = {"origin_zip": "85001", "destination_zip": "10001", "mailer_kind": MailerKind.BOX}
    return piece("240", **(plain | {"size": Size.of("8", "6", "5", "in")} | fields))


def test_price_by_volume_and_flat_rate_are_shown_with_the_price_by_weight():
    """Notice 123, July 12, 2026, zone 8: 15 lb online, 0.20 cu ft, and the flat-rate packages sold online."""
    found = ways(heavy(), shipped_rules())
    services = [service for service, _, _ in found]
    assert services[0] == "ground-cubic-commercial"
    assert "priority-flat-medium-box-commercial" in services
    assert not any(service.endswith("-retail") for service in services)
    assert [price for _, price, _ in found] == sorted((price for _, price, _ in found), key=float)
    assert all(float(price) < float(now) for _, price, now in found[1:])


def test_a_more_expensive_flat_rate_is_hidden_but_the_price_by_volume_is_shown():
    light = ways(piece("3", Size.of("8", "6", "3", "in"), mailer_kind=MailerKind.BOX), tiny_zone_rules())
    assert [service for service, _, _ in light] == ["ground-cubic-commercial"]


def tiny_zone_rules():
    return replace(shipped_rules(), zones=FIVE)


def test_at_the_counter_only_counter_prices_are_shown():
    rules = shipped_rules(payment=ParcelPayment.COUNTER, services=("ground-retail",))
    services = [service for service, _, _ in ways(heavy(), rules)]
    assert services
    assert all(service.endswith("-retail") for service in services)


def test_a_piece_without_a_size_has_no_alternatives():
    posting = replace(heavy(), size=None)
    rules = shipped_rules()
    assert other_ways(posting, quote(posting, rules), rules) == ()


@pytest.mark.parametrize(
    ("sides", "packaging", "shown"),
    [
        (("8.625", "5.375", "1.625"), "small-box", True),
        (("8.7", "5.375", "1.6"), "small-box", False),
        (("11", "8.5", "5.5"), "medium-box", True),
        (("11", "8.5", "5.6"), "medium-box", False),
        (("12", "9", "0.5"), "envelope", True),
        (("12", "9", "0.6"), "envelope", False),
        (("14", "9", "0.5"), "legal", True),
        (("14.6", "9", "0.5"), "legal", False),
    ],
)
def test_only_packaging_that_fits_the_piece_is_shown(sides, packaging, shown):
    """Envelopes of Notice 123, July 12, 2026, closed around the piece; insides of boxes from memory."""
    rules = shipped_rules(payment=ParcelPayment.COUNTER, services=("priority-retail",))
    posting = replace(heavy(), size=Size.of(*sides, "in"))
    services = [service for service, _, _ in ways(posting, rules)]
    assert (f"priority-flat-{packaging}-retail" in services) is shown


@pytest.mark.parametrize(
    ("sides", "what"),
    [
        (("9", "6", "0.5"), "thickness"),  # twice the quarter inch of a letter
        (("9", "6", "0.51"), ""),
        (("10", "8", "1.5"), "thickness"),  # twice the three quarters of a large envelope
        (("10", "8", "1.51"), ""),
        (("14.375", "6", "0.2"), "face"),  # a quarter more than 11.5
        (("14.376", "6", "0.2"), ""),
        (("11", "7.65625", "0.2"), "face"),  # a quarter more than 6.125
        (("11", "7.66", "0.2"), ""),
        (("27.5", "8", "4"), "length"),  # a quarter more than 22
        (("27.6", "8", "4"), ""),
        (("15", "12", "12"), "volume"),  # 2160 is a quarter more than 1728 cubic inches
        (("15", "12", "12.01"), ""),
    ],
)
def test_a_side_up_to_a_quarter_over_its_limit_is_a_hint_and_more_is_not(sides, what):
    kind = PADDED if float(sides[2]) < 2 else {"mailer_kind": MailerKind.BOX}
    assert what in [found[0] for found in hints("0.9", *sides, **kind)] or not what
    if not what:
        assert [found[0] for found in hints("0.9", *sides, **kind)] == []


FITS = [
    ("envelope", ("12", "9", "0.5"), ("12.1", "9", "0.5"), ("12", "9.1", "0.5")),
    ("padded", ("12", "9", "0.5"), ("12.1", "9", "0.5"), ("12", "9.1", "0.5")),
    ("legal", ("14.5", "9", "0.5"), ("14.6", "9", "0.5"), ("14.5", "9.1", "0.5")),
    ("small-box", ("8.625", "5.375", "1.625"), ("8.6255", "5", "1"), ("8", "5.3755", "1"), ("8", "5", "1.6255")),
    ("medium-box", ("11", "8.5", "5.5"), ("11.1", "8", "5"), ("11", "8.6", "5"), ("11", "8", "5.6")),
    ("large-box", ("12", "12", "5.5"), ("12.1", "12", "5"), ("12.1", "12.1", "5"), ("12", "12", "5.6")),
]


@pytest.mark.parametrize(
    ("packaging", "fits", "over"), [(name, fits, over) for name, fits, *overs in FITS for over in overs]
)
def test_flat_rate_packaging_is_offered_up_to_its_own_size(packaging, fits, over):
    """Notice 123 of July 12, 2026: envelopes 12-1/2 x 9-1/2 and 15 x 9-1/2 in; insides of the boxes from memory."""
    service = f"priority-flat-{packaging}-commercial"

    def offered(sides):
        return service in [each for each, _, _ in ways(heavy(size=Size.of(*sides, "in")), shipped_rules())]

    assert offered(fits)
    assert not offered(over)


def test_flat_rate_at_the_same_price_is_no_saving():
    def other(price):
        ground = chart("ground-retail", {"320": price}, key="5", keyed_by="zone")
        level = rules(ground, FLAT_RATE, parcel_services=("ground-retail",), parcel_payment=ParcelPayment.COUNTER)
        return ways(piece("30", Size.of("11", "8", "1", "in"), mailer_kind=MailerKind.BOX), level)

    assert other("12.00") == []
    assert other("12.01") == [("priority-flat-envelope-retail", "12.00", "12.01")]


def test_a_service_already_compared_is_not_an_alternative():
    both = shipped_rules(services=("ground-commercial", "ground-cubic-commercial"))
    assert "ground-cubic-commercial" in [service for service, _, _ in ways(heavy(), shipped_rules())]
    assert "ground-cubic-commercial" not in [service for service, _, _ in ways(heavy(), both)]


def test_a_package_abroad_is_not_offered_domestic_packaging():
    abroad = heavy(country="DE", destination_zip="", size=Size.of("8", "5", "1.5", "in"), allowed=("intl-priority",))
    services = [service for service, _, _ in ways(replace(abroad, gross=piece("60").gross), shipped_rules())]
    assert services
    assert all(service.startswith("intl-") for service in services)


def test_nothing_is_compared_with_a_piece_that_no_service_takes():
    """No service takes this large envelope here; as a letter it would have one."""
    only_letters = rules(LETTER)
    posting = piece("1", Size.of("12", "6", "0.2", "in"))
    answer = quote(posting, only_letters)
    assert answer.chosen is None
    assert smaller(posting, answer, only_letters) == ()
    assert other_ways(posting, answer, only_letters) == ()


def test_a_lower_weight_that_no_service_takes_saves_nothing():
    """At 3.5 oz and less it is a letter, and this shop has only the price of large envelopes."""
    only_flats = rules(FLAT)
    posting = piece("3.6")
    assert lighter(posting, quote(posting, only_flats), only_flats) is None
