"""Invented records to store: the Sorrel Street Bindery and its buyers."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from desk.domain.finding import Code, Finding, Severity
from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product, Restriction
from desk.domain.shop.shop import ExchangeRate, LetterPostage, Policy, Shop, Untracked
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.store.store import Store
from desk.store.tables import orders, pieces

MONDAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


class TickingClock:
    """Return a time one second later at each call."""

    def __init__(self) -> None:
        self._asked = 0

    def now(self) -> datetime:
        self._asked += 1
        return MONDAY + timedelta(seconds=self._asked)

    def monotonic(self) -> float:
        return float(self._asked)


def order(number: str = "1001", source: str = "fair", **fields: object) -> Order:
    plain: dict[str, object] = {
        "address": Address("Ada Vell", "", "1 Quill Row", "", "Tarn", "OR", "97001", "US", "ada@shop.example", "555"),
        "lines": (
            OrderLine("Notebook", 2, Money(1250), "NB-1", "sage"),
            OrderLine("Ribbon “long”", 1, Money(300)),
        ),
        "shipping_paid": Money(450),
        "placed": date(2026, 3, 1),
        "findings": (
            Finding(Code.POSTAL_CODE_MENDED, Severity.NOTE, {"typed": "7001", "count": 1, "sure": True}, "a source"),
        ),
    }
    return Order(number=number, source=source, **(plain | fields))  # type: ignore[arg-type]


def orders_of(count: int) -> list[Order]:
    return [order(str(1000 + number)) for number in range(count)]


def weighing(value: str = "4.2", **fields: object) -> Weighing:
    return Weighing(Shown(Decimal(value), WeightUnit.OUNCE, Decimal("0.1")), **fields)  # type: ignore[arg-type]


SIZE = Size.of("9.5", "4.125", "0.25", "in")

SHOP = Shop(
    sender=Address("Sorrel Street Bindery", address1="4 Sorrel Street", city="Tarn", region="OR", country="US"),
    policy=Policy(
        letter_postage=LetterPostage.METERED,
        parcel_services=("ground-commercial", "media"),
        untracked=Untracked.UP_TO,
        untracked_up_to=Money(4500),
        scale_division=Decimal("0.05"),
        scale_unit=WeightUnit.OUNCE,
        label_weight=Weight.of("1.20", "g"),
    ),
    choices={"quick": ("priority-retail",), "letter": ("letter-stamped", "flat")},
    tax_ids={"ioss": "IM0400000000"},
    rates=(ExchangeRate("XDR", "USD", Decimal("1.37276"), date(2026, 4, 21)),),
    mailers=(
        Mailer("Padded", MailerKind.PADDED, SIZE, Weight.of("0.5", "oz"), Money(1299), 25),
        Mailer("Padded", MailerKind.PADDED, None, None, None, 1, reused=True),
    ),
    products=(
        Product("NB-1", "Notebook", Weight.of("150", "g"), "paper notebook", "482010", origin="US"),
        Product("", "Clasp", thickness=Length(Decimal("3.5")), restricted=(Restriction.MAGNET,)),
    ),
    stamps=(StampStock(StampKind.FOREVER, 100), StampStock(StampKind.FACE, 20, Money(5))),
)


def with_pieces(store: Store, count: int = 1) -> list[int]:
    """Import that many orders with one piece each and return the ids of the pieces."""
    with store.act("take in") as tx:
        orders.save(tx, orders_of(count))
        found = pieces.ensure_pieces(tx, [PieceKey(str(1000 + number)) for number in range(count)])
    return list(found.values())
