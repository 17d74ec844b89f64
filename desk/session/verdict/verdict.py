"""The verdict: everything decided about one piece, in one record that screens, papers and tables read."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from desk.costs.ledger import PieceMoney
from desk.customs.declaration import Declaration
from desk.domain.codes import DECLARED
from desk.domain.finding import Finding, Severity
from desk.domain.money import Money, zero
from desk.domain.places.country import is_abroad
from desk.domain.shop.shop import ExchangeRate, Shop
from desk.domain.status import PieceStatus, is_answerable, is_open
from desk.rates.extras import PricedExtra
from desk.rates.quote import Offer, PriceRules, Quote
from desk.rates.stamps.stamps import StampSet
from desk.session.rulebook import Rulebook
from desk.session.verdict.case import Case, Contents
from desk.session.verdict.payment import Payment


@dataclass(frozen=True, slots=True)
class Terms:
    """What every verdict of a batch is based on: the shop, the rulebook and the mailing date."""

    shop: Shop
    rulebook: Rulebook
    on: date
    tolerance_scale: Decimal = Decimal(1)  # reduced after a fresh check of the scale
    confirmed: frozenset[str] = frozenset()  # what was confirmed once per product
    price_rules: PriceRules = field(init=False, compare=False, repr=False)  # made once, since it caches answers

    @property
    def rates(self) -> tuple[ExchangeRate, ...]:
        """Return the exchange rates for comparing limits: the shop's own, then the program's rough ones."""
        return (*self.shop.rates, *self.rulebook.rates)

    def __post_init__(self) -> None:
        rulebook = self.rulebook
        shop, scale = self.shop, self.tolerance_scale
        rules = PriceRules(rulebook.charts, rulebook.zones, shop.policy, self.on, scale, self.rates)
        object.__setattr__(self, "price_rules", rules)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The decision about a piece. Everything except `findings` and `status` is empty until it is weighed."""

    case: Case
    contents: Contents
    charged: Money
    quote: Quote | None = None
    offer: Offer | None = None  # none to a barred or suspended destination, whatever the price list says
    payment: Payment | None = None
    declaration: Declaration | None = None
    extras: tuple[PricedExtra, ...] = ()  # what is bought with it besides postage
    stamps: StampSet | None = None
    money: PieceMoney | None = None
    findings: tuple[Finding, ...] = ()
    of_shop: tuple[Finding, ...] = ()  # facts about the shop, reported once per batch
    status: PieceStatus = PieceStatus.TO_WEIGH

    @property
    def is_stopped(self) -> bool:
        """True when it has a stop."""
        return any(issue.severity is Severity.STOP for issue in self.findings)

    @property
    def to_fix(self) -> tuple[Finding, ...]:
        """Return the stops and the issues that can't be answered: with any of these it must not go."""
        return tuple(
            issue for issue in self.findings if is_open(issue, self.case.answered) and not is_answerable(issue)
        )

    @property
    def customs_open(self) -> tuple[Finding, ...]:
        """Return the open issues of a declaration, or of an export filing; while there is one, it must not go."""
        declared = self.declaration
        if declared is None or (not declared.has_form and not declared.findings):
            return ()
        return tuple(issue for issue in self.findings if issue.code in DECLARED and is_open(issue, self.case.answered))

    @property
    def stays_here(self) -> bool:
        """True when it can't go now: it has a stop, or is set aside, came back or lost."""
        return self.is_stopped or self.case.beside is not None

    @property
    def extras_sold(self) -> tuple[str, ...]:
        """The codes of its chosen extras that its service sells."""
        return tuple(extra.code for extra in self.extras if extra.price is not None)

    @property
    def extras_price(self) -> Money:
        """The total price of its extras."""
        prices = (extra.price for extra in self.extras if extra.price is not None)
        return sum(prices, zero(self.charged.currency))

    @property
    def postage(self) -> Money | None:
        """The price of its postage with all extras; None until a service can carry it."""
        return self.money.postage if self.money is not None and self.offer is not None else None

    @property
    def is_abroad(self) -> bool:
        """True when it leaves the country; military and island addresses do not."""
        return is_abroad(self.case.order.address.country)
