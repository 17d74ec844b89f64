"""Which services are tried, by policy, buyer's choice, mailer and tracking."""

from __future__ import annotations

import pytest

from desk.domain.money import Money
from desk.domain.shop.shop import LetterPostage, Policy, Untracked
from desk.rates.eligible import bar, not_tried, services_tried, untracked_allowed
from desk.rates.rules import PriceRules
from tests.rates.chart_folder import shipped
from tests.rates.tiny import FIVE, ON, piece, rules

POLICY = Policy(parcel_services=("priority-retail", "ground-retail"), intl_services=("intl-letter", "intl-package"))
RULES = PriceRules(shipped(), FIVE, POLICY, ON)
MILITARY_BOX = "priority-flat-large-box-military-retail"
UP_TO = Policy(untracked=Untracked.UP_TO, untracked_up_to=Money.of("45.00"))
ASKED = Policy(untracked=Untracked.ASKED)


@pytest.mark.parametrize(
    ("fields", "tried"),
    [
        ({}, ("letter-stamped", "postcard", "flat", "priority-retail", "ground-retail")),
        ({"country": "DE"}, ("intl-letter", "intl-package")),
        ({"allowed": ("media", "flat", "media")}, ("media", "flat")),
        ({"only_service": "priority-flat-envelope-retail"}, ("priority-flat-envelope-retail",)),
        ({"only_service": "ground-retail", "allowed": ("flat", "ground-retail")}, ("ground-retail",)),
    ],
)
def test_the_mailer_comes_before_the_buyers_choice_and_that_before_the_policy(fields, tried):
    assert services_tried(piece("1", **fields), POLICY) == tried


def test_metered_letters_replace_stamped_ones():
    metered = Policy(letter_postage=LetterPostage.METERED)
    assert services_tried(piece("1"), metered)[0] == "letter-metered"


@pytest.mark.parametrize(
    ("service", "fields", "code"),
    [
        ("flat", {}, None),
        ("flat", {"country": "DE"}, "other-side"),
        ("intl-package", {}, "other-side"),
        ("ground-retail", {"only_service": "ground-retail", "allowed": ("flat",)}, "not-among-choices"),
        ("ground-retail", {"only_service": "ground-retail", "allowed": ("ground-retail",)}, None),
        ("media", {}, "media-only"),
        ("media", {"media": True}, None),
        (MILITARY_BOX, {"only_service": MILITARY_BOX, "region": "MN"}, "military-only"),
        (MILITARY_BOX, {"only_service": MILITARY_BOX, "region": "AE"}, None),
        (MILITARY_BOX, {"region": "AE"}, "only-own-packaging"),
        ("priority-flat-envelope-retail", {}, "only-own-packaging"),
        ("priority-flat-envelope-retail", {"only_service": "priority-flat-envelope-retail"}, None),
        ("intl-priority-flat-small-box", {"country": "DE"}, "only-own-packaging"),
    ],
)
def test_a_service_is_excluded_with_its_reason(service, fields, code):
    found = bar(RULES.service(service), piece("1", **fields), RULES)
    assert (found.code if found else None) == code


@pytest.mark.parametrize(
    ("policy", "fields", "allowed"),
    [
        (Policy(), {}, True),
        (ASKED, {}, False),
        (ASKED, {"stamp_asked": True}, True),
        (ASKED, {"allowed": ("letter-stamped", "flat")}, True),  # the buyer could choose no service with tracking
        (ASKED, {"allowed": ("letter-stamped", "ground-retail")}, False),
        (UP_TO, {"order_value": Money.of("45.00")}, True),
        (UP_TO, {"order_value": Money.of("45.01")}, False),
        (UP_TO, {"order_value": Money.of("45.01"), "stamp_asked": True}, True),
        (UP_TO, {"order_value": Money.of("10.00", "EUR")}, False),
        (Policy(untracked=Untracked.UP_TO), {}, False),
    ],
)
def test_untracked_services_are_allowed_by_policy_and_order_value(policy, fields, allowed):
    posting = piece("1", **fields)
    asked = PriceRules(shipped(), FIVE, policy, ON)
    assert untracked_allowed(posting, asked) is allowed
    assert (bar(asked.service("flat"), posting, asked) is None) is allowed


def left_aside(posting, *tried):
    return {out.service: out.reason.code for out in not_tried(posting, rules(), tried)}


def test_services_not_tried_are_named_with_the_reason():
    named = left_aside(piece("1"), "letter-stamped", "flat")
    assert (named["ground-retail"], named["priority-flat-envelope-retail"]) == ("not-in-policy", "only-own-packaging")
    assert not [service for service in named if service.startswith("intl-") or service in ("letter-stamped", "flat")]
    assert left_aside(piece("1", allowed=("flat",)), "flat")["ground-retail"] == "not-among-choices"
    assert set(left_aside(piece("1", only_service="ground-retail"), "ground-retail").values()) == {"mailer-only-for"}


def test_excluded_services_are_grouped_by_request():
    day = rules()
    first = not_tried(piece("1"), day, ("flat",))
    assert not_tried(piece("9"), day, ("flat",)) is first
    assert not_tried(piece("1", allowed=("flat",)), day, ("flat",)) != first


@pytest.mark.parametrize(
    ("service", "fields", "open_"),
    [
        ("media", {}, False),
        ("media", {"media": True}, True),
        ("library", {"media": True}, False),
        ("library", {"media": True, "library": True}, True),
        ("library", {"library": True}, False),
        (MILITARY_BOX, {"region": "AE", "only_service": MILITARY_BOX}, True),
        (MILITARY_BOX, {"region": "NY", "only_service": MILITARY_BOX}, False),
    ],
)
def test_a_service_for_some_mail_only_is_open_to_that_mail(service, fields, open_):
    """DMM 173.3.1 and 173.4.1: library mail is media mail between libraries, schools and the like."""
    assert (bar(shipped().service(service), piece("3", **fields), RULES) is None) is open_
