"""What the shop has settled, as texts for the fields of a form; and the choices such fields offer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from desk.domain.service import PostedAs, PriceLevel, Service
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Policy, Shop
from desk.domain.shop.stamp import StampStock
from desk.intake.columns.currencies import CURRENCIES
from desk.intake.shop.shop_values import mailer_values, policy_values, product_values, shop_values, stamp_values
from desk.session.rulebook import Rulebook
from desk.session.words.services import service_words

Texts = dict[str, Any]
# Flat-rate services name which of their two prices is meant; others have it in their words.
_PRICE = {PriceLevel.ANY: "", PriceLevel.COUNTER: ", counter price", PriceLevel.ONLINE: ", online price"}


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
    return _in_words(rulebook, lambda service: not service.abroad and service.posted_as is PostedAs.PARCEL)


def services_abroad(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Services abroad, with their words."""
    return _in_words(rulebook, lambda service: service.abroad)


def all_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Every service that a buyer's choice may allow, with its words."""
    return _in_words(rulebook, lambda _service: True)


def packaging_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Services that only go in the post's own packaging, with their words."""
    return _in_words(rulebook, lambda service: bool(service.packaging))


def currencies() -> list[str]:
    """Every currency a shop may count in."""
    return sorted(CURRENCIES)


def _in_words(rulebook: Rulebook, wanted: Callable[[Service], bool]) -> list[tuple[str, str]]:
    """Return the wanted services with their words, the post's own packaging last."""
    charts = rulebook.charts
    services = [facts for facts in map(charts.service, charts.services()) if wanted(facts)]
    pairs = [
        (facts, f"{service_words(facts.id)}{_PRICE[facts.price_level] if facts.packaging else ''}")
        for facts in services
    ]
    pairs.sort(key=lambda pair: (bool(pair[0].packaging), pair[1]))
    return [(facts.id, words) for facts, words in pairs]
