"""Turn a shop back into the values of a shop file, the inverse of `shop_file`, for editing field by field.

Every number is text in the most readable unit. The inverse is exact, so an untouched field does not change.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any  # as TOML gives values

from desk.domain.exact import plain
from desk.domain.length import INCH_MM, Length
from desk.domain.money import Money
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import ExchangeRate, Policy, Shop, Untracked
from desk.domain.shop.stamp import StampStock
from desk.domain.weight import OUNCE_G, Weight
from desk.intake.columns.units import SIDES

Values = dict[str, Any]  # as TOML gives them and pydantic checks them
# A sender that the rules of the shop file accept, to read other records alone.
ANYBODY = {"name": "x", "address1": "x", "city": "x", "region": "x", "postal_code": "x", "country": "US"}
FINEST = Decimal("0.0001")  # a number with more decimals was entered in the other unit


def shop_values(shop: Shop) -> Values:
    """Return the values of a whole shop; a sender that is not filled in has empty fields."""
    sender = shop.sender
    fields = ("company", "address1", "address2", "city", "region", "postal_code", "country", "phone", "email")
    return {
        "sender": {
            "name": sender.recipient,
            **{name: getattr(sender, name) for name in fields},
            "first_name": shop.sender_name.first,
            "last_name": shop.sender_name.last,
        },
        "policy": policy_values(shop.policy),
        "choices": {name: list(services) for name, services in shop.choices.items()},
        "tax_ids": dict(shop.tax_ids),
        "rates": {f"{rate.from_currency}_{rate.to_currency}": _rate_values(rate) for rate in shop.rates},
        "mailers": [mailer_values(mailer) for mailer in shop.mailers],
        "products": [product_values(product) for product in shop.products],
        "stamps": [stamp_values(stamp) for stamp in shop.stamps],
    }


def policy_values(policy: Policy) -> Values:
    """Return the values of a policy."""
    up_to = policy.untracked is Untracked.UP_TO
    values = {
        "currency": policy.currency,
        "letter_postage": policy.letter_postage.value,
        "parcel_services": list(policy.parcel_services),
        "intl_services": list(policy.intl_services),
        "parcel_payment": policy.parcel_payment.value,
        "untracked": _money(policy.untracked_up_to) or "0" if up_to else policy.untracked.value,
        "skip_status": list(policy.skip_status),
        "ship_status": list(policy.ship_status),
        "stamp_request_phrases": list(policy.stamp_request_phrases),
        "cautious": policy.cautious,
        "max_stamps": policy.max_stamps,
        "scale_division": None if policy.scale_division is None else plain(policy.scale_division),
        "scale_unit": policy.scale_unit.value if policy.scale_unit else None,
        "scale_rounds_up": policy.scale_rounds_up,
        "learn_weights": policy.learn_weights,
        "close_call_from": _money(policy.close_call_from),
        "cover_from": _money(policy.cover_from),
        "label_weight": " ".join(weight_parts(policy.label_weight)),
        "insert_cost": _money(policy.insert_cost),
        "insert_weight": " ".join(weight_parts(policy.insert_weight)),
        "label_cost": _money(policy.label_cost),
    }
    return _given(values)


def mailer_values(mailer: Mailer) -> Values:
    """Return the values of a mailer."""
    sides: Values = {}
    if mailer.size is not None:
        size = mailer.size
        *texts, sides["size_unit"] = length_parts(size.length, size.width, size.thickness)
        sides |= dict(zip(SIDES, texts, strict=True))
    values = {
        "name": mailer.name,
        "kind": mailer.kind.value,
        **sides,
        **_weight("tare", "tare_unit", mailer.tare),
        "pack_price": _money(mailer.pack_price),
        "pack_count": mailer.pack_count,
        "stiff": mailer.stiff,
        "reused": mailer.reused,
        "paper": mailer.paper,
        "only_service": mailer.only_service,
    }
    return _given(values)


def product_values(product: Product) -> Values:
    """Return the values of a product."""
    sides: Values = {name: getattr(product, name) for name in SIDES}
    known = {name: side for name, side in sides.items() if side is not None}
    sized: Values = dict(zip((*known, "size_unit"), length_parts(*known.values()), strict=True)) if known else {}
    values = {
        "sku": product.sku,
        "name": product.name,
        **_weight("unit_weight", "weight_unit", product.unit_weight),
        "customs_words": product.customs_words,
        "hs": product.hs,
        "origin": product.origin,
        "stiff": product.stiff,
        **sized,
        "document": product.document,
        "media": product.media,
        "restricted": [one.value for one in product.restricted] or None,
        "usual_mailer": product.usual_mailer,
        "no_goods": product.no_goods or None,
    }
    return _given(values)


def _rate_values(rate: ExchangeRate) -> Values:
    return {"rate": plain(rate.rate), "date": rate.on, **({"source": rate.source} if rate.source else {})}


def stamp_values(stamp: StampStock) -> Values:
    """Return the values of one kind of stamp on hand."""
    return _given({"kind": stamp.kind.value, "value": _money(stamp.value), "count": stamp.count})


def weight_parts(weight: Weight) -> tuple[str, str]:
    """Return a weight as exact number and unit: grams if short, else ounces, else all its grams."""
    for unit, grams in (("g", Decimal(1)), ("oz", OUNCE_G)):
        number = (weight.grams / grams).quantize(FINEST)
        if number * grams == weight.grams:
            return plain(number), unit
    return plain(weight.grams), "g"


def length_parts(*lengths: Length) -> tuple[str, ...]:
    """Return lengths as exact numbers in one unit, and that unit: inches if all are short, else millimeters."""
    numbers = [(length.mm / INCH_MM).quantize(FINEST) for length in lengths]
    if all(number * INCH_MM == length.mm for number, length in zip(numbers, lengths, strict=True)):
        return (*map(plain, numbers), "in")
    return (*(plain(length.mm) for length in lengths), "mm")


def _weight(name: str, unit_name: str, weight: Weight | None) -> Values:
    if weight is None:
        return {}
    number, unit = weight_parts(weight)
    return {name: number, unit_name: unit}


def _money(amount: Money | None) -> str | None:
    return None if amount is None else amount.text()


def _given(values: Values) -> Values:
    """Return the values without None, which a shop file cannot express."""
    return {name: value for name, value in values.items() if value is not None}
