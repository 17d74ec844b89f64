"""The shop's settings as texts for form fields, numbers as the locale writes them, and the options of the fields."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any  # fields of several types

from desk.domain.service import PostedAs, Service
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Policy, Shop
from desk.domain.shop.stamp import StampStock
from desk.intake.columns.currencies import CURRENCIES
from desk.intake.shop.shop_values import mailer_values, policy_values, product_values, shop_values, stamp_values
from desk.session.rulebook import Rulebook
from desk.session.words.figures import measure
from desk.session.words.services import service_words
from desk.session.words.stamp_names import name_of_stamp

# Fields with a number, an amount, or a weight with its unit. The files of a shop have decimal points in them.
NUMBERS = frozenset(
    {
        *("length", "width", "thickness", "tare", "unit_weight", "label_weight", "insert_weight", "scale_division"),
        *("pack_price", "value", "untracked", "close_call_from", "cover_from", "label_cost", "insert_cost"),
    }
)
Texts = dict[str, Any]  # texts, truth values, and lists of texts, as the fields of forms hold them


def sender_texts(shop: Shop) -> Texts:
    """Return the sender as text, by field."""
    return dict(shop_values(shop)["sender"])


def tax_texts(shop: Shop) -> Texts:
    """Return the tax numbers by kind."""
    return dict(shop.tax_ids)


def policy_texts(policy: Policy) -> Texts:
    """Return the policy as text, by field."""
    return _as_written(policy_values(policy))


def mailer_texts(mailer: Mailer) -> Texts:
    """Return a mailer as text, by field."""
    return _as_written(mailer_values(mailer))


def product_texts(product: Product) -> Texts:
    """Return a product as text, by field."""
    return _as_written(product_values(product))


def stamp_texts(stamp: StampStock) -> Texts:
    """Return a kind of stamp as text, by field."""
    return _as_written(stamp_values(stamp))


def _as_written(values: Texts) -> Texts:
    return {name: measure(str(value)) if name in NUMBERS else value for name, value in values.items()}


def stamp_words(stamp: StampStock) -> str:
    """Return the name of a kind of stamp, with its face value."""
    return name_of_stamp(stamp.kind, stamp.value)


def parcel_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Return the domestic services a policy can list, with their names."""
    return _in_words(rulebook, lambda service: not service.abroad and service.posted_as is PostedAs.PARCEL)


def services_abroad(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Return the international services, with their names."""
    return _in_words(rulebook, lambda service: service.abroad)


def all_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Return every service a shipping choice can allow, with its name."""
    return _in_words(rulebook, lambda _service: True)


def packaging_services(rulebook: Rulebook) -> list[tuple[str, str]]:
    """Return the services that need the post's own packaging, with their names."""
    return _in_words(rulebook, lambda service: bool(service.packaging))


def currencies() -> list[str]:
    """Return every currency a shop can use."""
    return sorted(CURRENCIES)


def _in_words(rulebook: Rulebook, wanted: Callable[[Service], bool]) -> list[tuple[str, str]]:
    """Return the wanted services with their names, those in the post's own packaging last."""
    charts = rulebook.charts
    services = [facts for facts in map(charts.service, charts.services()) if wanted(facts)]
    pairs = [(facts, service_words(facts.id)) for facts in services]
    pairs.sort(key=lambda pair: (bool(pair[0].packaging), pair[1]))
    return [(facts.id, words) for facts, words in pairs]
