"""Which services a piece may be priced with, as shop, buyer and mailer allow, and why others are ruled out."""

from __future__ import annotations

from collections.abc import Iterator

from desk.domain.finding import Code, Finding, reason
from desk.domain.places.country import MILITARY_STATES
from desk.domain.service import Service
from desk.domain.shop.shop import Policy, Untracked
from desk.rates.posting import Posting
from desk.rates.rules import PriceRules, ServiceOut
from desk.rates.services import letters_tried

_NOT_IN_POLICY = reason(Code.NOT_IN_POLICY, "your rules in Setup > Rules")
_NOT_CHOSEN = reason(Code.NOT_AMONG_CHOICES, "your shipping choices in Setup")
_OWN_PACKAGING = reason(Code.ONLY_OWN_PACKAGING, "Price list, flat rate: only in the post's own packaging")
_COUNTRY_UNKNOWN = reason(Code.COUNTRY_UNKNOWN, "the order's address")
_OTHER_SIDE = reason(Code.OTHER_SIDE, "domestic and international services do not mix")
_ONLY_MEDIA = reason(Code.MEDIA_ONLY, "DMM 273.3.1")
_ONLY_MILITARY = reason(Code.MILITARY_ONLY, "Price list, flat rate")
_ONLY_LIBRARY = reason(Code.LIBRARY_ONLY, "DMM 273.4")  # from memory


def services_tried(posting: Posting, policy: Policy) -> tuple[str, ...]:
    """Return service ids in tie-breaking order: the mailer's own service, else the buyer's choice, else the shop's."""
    if posting.only_service:
        return (posting.only_service,)
    if posting.allowed is not None:
        return tuple(dict.fromkeys(posting.allowed))
    if posting.abroad:
        return tuple(dict.fromkeys(policy.intl_services))
    return tuple(dict.fromkeys((*letters_tried(policy), *policy.parcel_services)))


def bar(service: Service, posting: Posting, rules: PriceRules) -> Finding | None:
    """Return why policy closes a tried service to this piece, at any size and weight; None when it is open."""
    if not posting.country:
        return _COUNTRY_UNKNOWN
    if service.abroad != posting.abroad:
        return _OTHER_SIDE
    if posting.allowed is not None and service.id not in posting.allowed:
        return _NOT_CHOSEN
    if service.packaging and service.id != posting.only_service:
        return _OWN_PACKAGING
    if only := only_for(service, posting):
        return only
    if not (service.tracked or service.abroad or untracked_allowed(posting, rules)):
        policy = rules.policy
        limit = policy.untracked_up_to.text() if policy.untracked_up_to else ""
        return reason(Code.NEEDS_TRACKING, "your rules in Setup > Rules", up_to=limit, value=posting.order_value.text())
    return None


def only_for(service: Service, posting: Posting) -> Finding | None:
    """Return why a service that is only for some mail is closed to this piece; None when it is open."""
    if service.takes in ("media", "library") and not posting.media:
        return _ONLY_MEDIA
    if service.takes == "library" and not posting.library:
        return _ONLY_LIBRARY
    if service.takes == "military" and posting.region not in MILITARY_STATES:
        return _ONLY_MILITARY
    return None


def untracked_allowed(posting: Posting, rules: PriceRules) -> bool:
    """Return True when this order may go untracked; a buyer offered only untracked services has asked for it."""
    policy, allowed = rules.policy, posting.allowed
    only_untracked = allowed is not None and not any(rules.service(service).tracked for service in allowed)
    if posting.stamp_asked or only_untracked or policy.untracked is Untracked.ALWAYS:
        return True
    if policy.untracked is Untracked.ASKED or policy.untracked_up_to is None:
        return False
    limit = policy.untracked_up_to
    return limit.currency == posting.order_value.currency and posting.order_value <= limit


def not_tried(posting: Posting, rules: PriceRules, tried: tuple[str, ...]) -> tuple[ServiceOut, ...]:
    """Return every other service on the same side (domestic or international) that has a list, and why it was not
    tried.

    Results are cached because they are needed for every piece.
    """
    asked = (tried, posting.abroad, posting.only_service, posting.allowed is None)
    if asked not in rules.kept:
        rules.kept[asked] = tuple(_left_aside(posting, rules, tried))
    return rules.kept[asked]


def _left_aside(posting: Posting, rules: PriceRules, tried: tuple[str, ...]) -> Iterator[ServiceOut]:
    why = _NOT_IN_POLICY if posting.allowed is None else _NOT_CHOSEN
    if posting.only_service:
        why = reason(Code.MAILER_ONLY_FOR, "Price list, flat-rate packaging", service=posting.only_service)
    for service in rules.services():
        facts = rules.service(service)
        if service not in tried and facts.abroad == posting.abroad:
            own = facts.packaging and not posting.only_service
            yield ServiceOut(service, _OWN_PACKAGING if own else why)
