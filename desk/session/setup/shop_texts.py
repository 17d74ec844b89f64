"""What the shop has settled, as texts for the fields of a form; and the choices such fields offer."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from desk.domain.mailer import Mailer
from desk.domain.product import Product
from desk.domain.shop import Policy, Shop
from desk.domain.stamp import StampStock
from desk.intake.columns.currencies import CURRENCIES
from desk.intake.shop.shop_values import mailer_values, policy_values, product_values, shop_values, stamp_values
from desk.session.rulebook import Rulebook
from desk.session.words.services import service_words

Texts = dict[str, Any]
LETTERS = ("letter-stamped", "letter-metered", "postcard", "flat")


def sender_texts(shop: Shop) -> Texts:
    """The sender, field by field."""
    return dict(shop_values(shop)["sender"])


def tax_texts(shop: Shop) -> Texts:
    """The tax numbers by kind."""
    return dict(shop.tax_ids)


def policy_texts(policy: Policy) -> Texts:
    """The policy, field by field."""
    return policy_values(policy)


def mailer_texts(mailer: Mailer) -> Texts:
    """A mailer, field by field."""
    return mailer_values(mailer)


def product_texts(product: Product) -> Texts:
    """A product, field by field."""
    return product_values(product)


def stamp_texts(stamp: StampStock) -> Texts:
    """A kind of stamp, field by field."""
    return stamp_values(stamp)


def stamp_words(stamp: StampStock) -> str:
    """A kind of stamp in a few words, with its printed value."""
    kind = stamp.kind.value.replace("_", " ")
    return f"{kind} {stamp.value.text()}" if stamp.value else kind


def parcel_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Domestic services that a policy lists, with their words."""
    return _in_words(
        service for service in rulebook.charts.services() if not _is_abroad(service) and service not in LETTERS
    )


def services_abroad(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Services abroad, with their words."""
    return _in_words(service for service in rulebook.charts.services() if _is_abroad(service))


def all_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Every service that a buyer's choice may allow, with its words."""
    return _in_words(rulebook.charts.services())


def packaging_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Services that only go in the post's own packaging, with their words."""
    return _in_words(service for service in rulebook.charts.services() if "priority-flat-" in service)


def currencies() -> list[str]:
    """Every currency a shop may count in."""
    return sorted(CURRENCIES)


def _is_abroad(service: str) -> bool:
    return service.startswith("intl-")


def _in_words(services: Iterable[str]) -> list[tuple[str, str]]:
    pairs = ((service, f"{service_words(service)}{_price(service)}") for service in services)
    return sorted(pairs, key=lambda pair: ("priority-flat-" in pair[0], pair[1]))


def _price(service: str) -> str:
    """Flat-rate services say which of their two prices is meant; others have it in their words."""
    if not service.startswith("priority-flat-"):
        return ""
    return ", online price" if service.endswith("-commercial") else ", counter price"
