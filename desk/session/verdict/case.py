"""A case: everything known about one piece, put together from order, weighing, mailer and products."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from desk.domain.finding import Code, Finding, Severity, finding
from desk.domain.length import Size
from desk.domain.orders.order import Order
from desk.domain.orders.order_status import Sorting, sorting_of
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.places.country import is_abroad
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product, Restriction
from desk.domain.shop.shop import Shop
from desk.domain.status import PieceStatus, is_paid_for
from desk.learning.verdicts import WeightVerdict
from desk.rates.stamps.stamps import StampCount
from desk.session.verdict.default_mailer import too_small_for, usual_mailer
from desk.session.verdict.stamp_request import DECLINED, asks_for_stamp


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One piece with its data. `pieces_in_order` counts all pieces of its order.

    `order` is the content of this piece once the order is split (`is_divided`), else the whole order. `for_addressee`
    are the whole orders to the same addressee on the same day, including this one.

    `mailer`, `service` and `extras` are what you chose for it afterward; empty: nothing chosen.
    """

    key: PieceKey
    order: Order
    weighing: Weighing | None = None
    pieces_in_order: int = 1
    answered: frozenset[str] = frozenset()
    mailer: str = ""
    service: str = ""
    extras: tuple[str, ...] = ()  # codes of what is bought with it besides postage
    beside: PieceStatus | None = None
    aside_reason: str = ""  # why it was set aside; empty: no reason given
    postage_on: bool = False
    stamps_on: tuple[StampCount, ...] = ()  # the stamps on it, once its postage is on
    handed_over: bool = False
    fit: WeightVerdict | None = field(
        default=None, compare=False
    )  # how plausible its weight was when weighed, by what was learned before
    weighed_before: str = field(default="", compare=False)  # number of the piece weighed just before it
    weighed_at: datetime | None = field(default=None, compare=False)
    nets: Mapping[str, int] = field(default_factory=dict, hash=False)  # learned net weights in whole grams, by product
    is_divided: bool = False
    for_addressee: tuple[Order, ...] = ()
    packed_with: tuple[str, ...] = ()  # numbers of other orders sent in this piece; `order` is all merged into one

    @property
    def is_paid(self) -> bool:
        """True when its postage is on or it has left: then its weighing no longer changes."""
        return is_paid_for(postage_on=self.postage_on, handed_over=self.handed_over)

    @property
    def number(self) -> str:
        """Return the number people read: the order's, with the piece's where the order has several."""
        return self.key.number_among(self.pieces_in_order)

    @property
    def contents_known(self) -> bool:
        """True when `order` is what is in this piece: the order's only piece, or one of a divided order."""
        return self.pieces_in_order == 1 or self.is_divided

    @property
    def mailer_name(self) -> str:
        """The name of its mailer: chosen for it, else given at the scale."""
        return self.mailer or (self.weighing.mailer if self.weighing else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """The contents and outside of a piece, with every default applied."""

    products: tuple[tuple[Product | None, int], ...]
    mailer: Mailer | None
    size: Size | None
    stiff: bool
    uneven: bool
    stamp_asked: bool
    findings: tuple[Finding, ...] = field(default=())

    @property
    def documents_only(self) -> bool:
        """True when every line is unsold writing (IMM 123.632)."""
        return all(product is not None and product.document for product, _ in self.products)

    @property
    def media(self) -> bool:
        """True when every product may go at the media price, and nothing contradicts it."""
        return all(
            product is not None and product.media and not product.is_media_doubtful for product, _ in self.products
        )

    @property
    def restricted(self) -> frozenset[Restriction]:
        """Return every restriction that any product in it has."""
        return frozenset(one for product, _ in self.products if product is not None for one in product.restricted)

    @property
    def mailer_kind(self) -> MailerKind | None:
        """The kind of its mailer, when the mailer is known."""
        return self.mailer.kind if self.mailer else None


def contents_of(case: Case, shop: Shop) -> Contents:
    """Return the contents with defaults: size and stiffness from the mailer, else stiff by any stiff product; even."""
    weighing = case.weighing
    products = tuple((shop.product_for(line), line.quantity) for line in case.order.lines)
    size = weighing.size if weighing else None
    mailer = shop.mailer(case.mailer_name) if case.mailer_name else None
    if weighing is not None and not case.mailer_name and size is None and case.pieces_in_order == 1:
        mailer = usual_mailer(case.order, shop)
    size = size or (mailer.size if mailer else None)
    return Contents(
        products=products,
        mailer=mailer,
        size=size,
        stiff=_stiff(weighing, mailer, products),
        uneven=bool(weighing and weighing.uneven),
        stamp_asked=DECLINED not in case.answered
        and asks_for_stamp(case.order.buyer_note, shop.policy.stamp_request_phrases),
        findings=(
            *unsorted_of(case.order, shop),
            *_unknown_things(case, shop, mailer),
            *_misfits(size, mailer, products),
        ),
    )


def goods_only(case: Case, shop: Shop) -> Case:
    """Return the case without lines that are not goods, and without questions its products now answer."""
    order = case.order
    if not order.findings and not shop.has_no_goods:
        return case
    known = {line.item: shop.product_for(line) for line in order.lines}
    products = [shop.product_for(line) for line in order.lines]
    places = [place for place, product in enumerate(products) if product is None or not product.no_goods]
    findings = tuple(
        issue
        for issue in order.findings
        if issue.code is not Code.LINE_DOUBTFUL or not known.get(str(issue.facts["item"]))
    )
    goods = order if len(places) == len(order.lines) else order.only(places)
    return replace(case, order=replace(goods, findings=findings))


def _stiff(weighing: Weighing | None, mailer: Mailer | None, products: tuple[tuple[Product | None, int], ...]) -> bool:
    if weighing is not None and weighing.stiff is not None:
        return weighing.stiff
    return bool(mailer and mailer.stiff) or any(product is not None and product.stiff for product, _ in products)


def unsorted_of(order: Order, shop: Shop) -> Iterator[Finding]:
    """Yield what the shop has not decided about an order: its status, and its shipping choice."""
    policy, choice = shop.policy, order.shipping_choice
    if sorting_of(order.status, policy.ship_status, policy.skip_status) is not Sorting.SHIP:
        yield finding(Code.STATUS_UNSORTED, "your rules in Setup > Rules", status=order.status)
    if choice and shop.services_for(choice) is None:
        yield finding(Code.CHOICE_UNSORTED, "your shipping choices in Setup", choice=choice)


def _unknown_things(case: Case, shop: Shop, mailer: Mailer | None) -> list[Finding]:
    issues = []
    if case.mailer_name and mailer is None:
        issues.append(finding(Code.MAILER_UNKNOWN, mailer=case.mailer_name))
    by_hand = mailer is not None and mailer.kind.is_stiff and case.weighing is not None and case.weighing.stiff is False
    if mailer is not None and (by_hand or mailer.overrules_kind):
        issues.append(
            finding(
                Code.KIND_OVERRULED,
                "DMM 101.2.3, 101.1.2",
                mailer=mailer.name,
                kind=mailer.kind.value,
                by_hand=by_hand,
            )
        )
    unknown = [line.item or line.sku for line in case.order.lines if shop.product_for(line) is None]
    unknown = [*filter(None, unknown)]  # a line without a name is an issue of its own
    if unknown:
        severity = None if is_abroad(case.order.address.country) else Severity.NOTE  # only customs needs it
        issues.append(finding(Code.PRODUCT_UNKNOWN, "", severity, items=tuple(dict.fromkeys(unknown))))
    return issues


def _misfits(
    size: Size | None, mailer: Mailer | None, products: tuple[tuple[Product | None, int], ...]
) -> Iterator[Finding]:
    kind = mailer.kind if mailer is not None else None
    misfits = too_small_for(size, kind, (product for product, _ in products if product is not None))
    if misfits is not None:
        yield misfits
