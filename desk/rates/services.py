"""Services: how their postage is paid, and which ones a shop's policy tries."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from enum import StrEnum

from desk.domain.service import PaidBy, Service
from desk.domain.shop.shop import LetterPostage, ParcelPayment, Policy

# The domestic services tried for every piece before the policy's parcel services. Every list of the operator prices
# them under these ids (resources/handbook/headless.md).
STAMPED_LETTER, METERED_LETTER = "letter-stamped", "letter-metered"
POSTCARD, LARGE_ENVELOPE = "postcard", "flat"
LETTER_ABROAD = "intl-letter"
BY_STAMP = (STAMPED_LETTER, POSTCARD, LARGE_ENVELOPE)


class Payment(StrEnum):
    """How postage is paid."""

    STAMPED = "stamped"
    METERED = "metered"
    COUNTER = "counter"
    ONLINE = "online"


def services_named(text: str, services: Iterable[Service]) -> frozenset[str]:
    """Return the ids of the services a text may name; none when it names none of them. Nothing is guessed.

    Case, punctuation, trademark signs and the operator's initials don't matter.
    """
    wanted = _plain(text)
    return frozenset(one.id for one in services if wanted and wanted in _names(one))


def _names(service: Service) -> Iterator[str]:
    return map(_plain, (service.id, *service.names))


def _plain(name: str) -> str:
    return " ".join(word for word in re.findall(r"[^\W_]+", name.casefold()) if word != "usps")


def letters_tried(policy: Policy) -> tuple[str, ...]:
    """Return the letter, postcard and large envelope that a shop tries, in the order that breaks ties."""
    letter = STAMPED_LETTER if policy.letter_postage is LetterPostage.STAMPED else METERED_LETTER
    return letter, POSTCARD, LARGE_ENVELOPE


def payment_for(service: Service, policy: Policy) -> Payment:
    """Return how a piece of that service is paid: in the service's own way, or as the shop pays letters or parcels."""
    if service.paid_by is PaidBy.STAMPS:
        return Payment.STAMPED
    if service.paid_by is PaidBy.METER:
        return Payment.METERED
    if service.paid_by is PaidBy.AS_LETTERS:
        return Payment.STAMPED if policy.letter_postage is LetterPostage.STAMPED else Payment.METERED
    return Payment.COUNTER if policy.parcel_payment is ParcelPayment.COUNTER else Payment.ONLINE
