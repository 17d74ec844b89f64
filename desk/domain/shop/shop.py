"""Shop: what the maker sets up once: sender, policy, mailers, products, stamps on hand, tax numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from desk.domain.money import Money
from desk.domain.orders.order import OrderLine
from desk.domain.orders.order_status import SHIPPED, SKIPPED
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.stamp import StampStock
from desk.domain.weight import NOTHING, Weight, WeightUnit


class LetterPostage(StrEnum):
    """How letters are paid."""

    STAMPED = "stamped"
    METERED = "metered"


class ParcelPayment(StrEnum):
    """Where parcel postage is bought."""

    ONLINE = "online"
    COUNTER = "counter"


class Untracked(StrEnum):
    """When a letter or flat may go untracked; the order value for `UP_TO` is stored separately."""

    ALWAYS = "always"
    ASKED = "asked"
    UP_TO = "up to"


@dataclass(frozen=True, slots=True)
class Policy:
    """How this shop ships. Service ids are those of the price lists."""

    currency: str = "USD"
    letter_postage: LetterPostage = LetterPostage.STAMPED
    parcel_services: tuple[str, ...] = ("ground-retail",)
    intl_services: tuple[str, ...] = ("intl-package",)
    parcel_payment: ParcelPayment = ParcelPayment.ONLINE
    untracked: Untracked = Untracked.ALWAYS
    untracked_up_to: Money | None = None
    skip_status: tuple[str, ...] = SKIPPED
    ship_status: tuple[str, ...] = SHIPPED
    stamp_request_phrases: tuple[str, ...] = ()
    cautious: bool = False
    max_stamps: int | None = None
    scale_division: Decimal | None = None
    scale_unit: WeightUnit | None = None
    learn_weights: bool = True  # learn products' weights from past weighings
    scale_rounds_up: bool = False  # a weight classifier shows the next step up; other scales show the nearest
    close_call_from: Money | None = None  # the difference from which a close call needs a check; None: the default
    cover_from: Money | None = None  # the sum from which uninsured goods need a check; None: the default
    label_weight: Weight = NOTHING
    insert_cost: Money = field(default_factory=lambda: Money(0))
    insert_weight: Weight = NOTHING
    label_cost: Money = field(default_factory=lambda: Money(0))


def usual_policy() -> Policy:
    """Return the rules of a shop set up in the window: parcels paid online at online prices, four stamps on a piece.

    Four is as many as people put on willingly: common practice, no source. A shop file without these lines has no
    limit.
    """
    return Policy(parcel_services=("ground-commercial",), max_stamps=4)


@dataclass(frozen=True, slots=True)
class ExchangeRate:
    """One unit of `from_currency` is `rate` units of `to_currency`, as known on `on`.

    `rough`: it came with the program, and only settles what is clearly under or over a limit.
    """

    from_currency: str
    to_currency: str
    rate: Decimal
    on: date
    source: str = ""
    rough: bool = False


def choice_key(choice: str) -> str:
    """Return what a buyer chose without case and spare blanks, to compare it."""
    return " ".join(choice.casefold().split())


@dataclass(frozen=True, slots=True)
class SenderName:
    """The first and last name of who sends, as a customs declaration asks for them."""

    first: str = ""
    last: str = ""


@dataclass(frozen=True)  # no slots: its look-ups are cached
class Shop:
    """Everything in the shop file. `choices` maps what the buyer chose to the service ids it allows."""

    sender: Address
    policy: Policy = field(default_factory=Policy)
    choices: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    tax_ids: Mapping[str, str] = field(default_factory=dict)  # ioss, voec, uk_vat, au_arn, nz_gst
    rates: tuple[ExchangeRate, ...] = ()
    mailers: tuple[Mailer, ...] = ()
    products: tuple[Product, ...] = ()
    stamps: tuple[StampStock, ...] = ()
    sender_name: SenderName = SenderName()

    def services_for(self, choice: str) -> tuple[str, ...] | None:
        """Return the services that a buyer's choice allows, however it is spelled; None when the shop does not list it."""
        if choice in self.choices:
            return self.choices[choice]
        return self._services.get(choice_key(choice))

    def mailer(self, name: str) -> Mailer | None:
        """Return the mailer with that name, or None."""
        return self._mailers.get(name)

    def product_for(self, line: OrderLine) -> Product | None:
        """Return the product of an order line, by SKU, then by name; None when the shop does not have it."""
        return (self._by_sku.get(line.sku) if line.sku else None) or self._by_name.get(line.item)

    @cached_property
    def _services(self) -> dict[str, tuple[str, ...]]:
        return {choice_key(name): services for name, services in reversed(list(self.choices.items()))}

    @cached_property
    def _mailers(self) -> dict[str, Mailer]:
        return {mailer.name: mailer for mailer in reversed(self.mailers)}  # the first of a name counts

    @cached_property
    def _by_sku(self) -> dict[str, Product]:
        return {product.sku: product for product in reversed(self.products)}

    @cached_property
    def _by_name(self) -> dict[str, Product]:
        return {product.name: product for product in reversed(self.products)}

    @cached_property
    def has_no_goods(self) -> bool:
        """True when some of its products are not goods."""
        return any(product.no_goods for product in self.products)
