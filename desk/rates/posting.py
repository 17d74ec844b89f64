"""Posting: one piece as the post sees it, with what buyer and shop allow for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from desk.domain.length import Size
from desk.domain.money import Money, zero
from desk.domain.places.country import HOME, is_abroad
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.product import Restriction
from desk.domain.weight import NOTHING, Shown, Weight, WeightUnit
from desk.rates.shape import Traits


@dataclass(frozen=True, slots=True, kw_only=True)
class Posting:
    """One piece as the post sees it.

    `country` is "US" for every domestic place; territories and military addresses have their code in `region`. While it
    is empty no service is offered. `value` is the value of the goods inside, `order_value` of the whole order.
    `library` says that it goes to or from a library, school or the like. `allowed` holds the service ids the buyer's choice permits, None when the shop lists no such choice. `only_service`
    comes from the mailer.
    """

    gross: Shown
    label_weight: Weight = NOTHING
    size: Size | None = None
    mailer_kind: MailerKind | None = None
    paper: bool = True
    stiff: bool = False
    uneven: bool = False
    only_service: str = ""
    country: str = HOME
    region: str = ""
    destination_zip: str = ""
    origin_zip: str = ""
    documents_only: bool = False
    media: bool = False
    library: bool = False
    restricted: frozenset[Restriction] = frozenset()
    value: Money = field(default_factory=zero)
    order_value: Money = field(default_factory=zero)
    allowed: tuple[str, ...] | None = None
    stamp_asked: bool = False

    @property
    def weight(self) -> Weight:
        """Return the weight to pay for: the reading plus any label added afterward."""
        return self.gross.weight + self.label_weight

    @property
    def abroad(self) -> bool:
        """Return True when it leaves the domestic mail."""
        return is_abroad(self.country)

    @property
    def rolled(self) -> bool:
        """Return True for a tube or roll."""
        return self.mailer_kind is MailerKind.TUBE

    @property
    def traits(self) -> Traits:
        """Return what the shape rules need, as far as mailer and user tell us."""
        return Traits(
            stiff=self.stiff,
            uneven=self.uneven,
            paper=self.paper,
            boxed=self.mailer_kind is MailerKind.BOX,
            tube=self.rolled,
            card=self.mailer_kind is MailerKind.CARD,
        )


def shown(value: str, unit: WeightUnit | str, division: str) -> Shown:
    """Return a reading from typed text: `shown("1.2", "oz", "0.1")`.

    Raises:
        ArithmeticError: a text is not a number.
    """
    return Shown(Decimal(value), WeightUnit(unit), Decimal(division))
