"""Invented shops, orders and pieces for the tests of the sitting. Every value can be named away."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Policy, Shop
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.session.bench.weigh import record_weight
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.before_weighing import BeforeWeighing, look_ahead
from desk.session.pile.packing import Placement
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.sitting import Sitting
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge

ON = date(2026, 7, 15)
SENDER = Address("Sorrel Street Bindery", "", "1 Sorrel Street", "", "Duluth", "MN", "55802", "US")
HOME = Address("Ada Vell", "", "1 Quill Row", "", "Bend", "OR", "97701", "US")
FRANCE = Address("Solène Mercadier", "", "12 rue de la Tranchefile", "", "Lyon", "", "69002", "FR")

ENVELOPE = Mailer(
    "A7", MailerKind.ENVELOPE, Size.of("7.25", "5.25", "0.06", "in"), Weight(Decimal(8)), Money(2400), 200
)
PADDED = Mailer("Padded", MailerKind.PADDED, Size.of("10.5", "8", "0.9", "in"), Weight(Decimal(23)), Money(3750), 100)
BOARD = Mailer("Board", MailerKind.RIGID, Size.of("12", "9", "0.3", "in"), stiff=True, reused=True)

CARD = Product("CD", "Card", Weight(Decimal(17)), "Letterpress printed card", "490900", origin="US")
FOLDER = Product("BF", "Folder", Weight(Decimal(21)), "Bone folder", "960190", origin="US", stiff=True)
BOOK = Product(
    "NB", "Book", Weight(Decimal(310)), "Blank paper book", "482010", origin="US", thickness=Length.of("0.7", "in")
)
LETTER = Product("DOC", "Program", Weight(Decimal(14)), "Program", document=True)
MANUAL = Product("MAN", "Manual", Weight(Decimal(400)), "Printed manual", "490199", origin="US", media=True)

DRAWER = (StampStock(StampKind.FOREVER, 5), StampStock(StampKind.ADDITIONAL_OUNCE, 3))


def policy(**fields: Any) -> Policy:
    plain: dict[str, Any] = {"stamp_request_phrases": ("by stamp",), "insert_cost": Money(4), "label_cost": Money(3)}
    return Policy(**(plain | fields))


def shop(**fields: Any) -> Shop:
    plain: dict[str, Any] = {
        "policy": policy(),
        "mailers": (ENVELOPE, PADDED, BOARD),
        "products": (CARD, FOLDER, BOOK, LETTER, MANUAL),
        "stamps": DRAWER,
    }
    return Shop(SENDER, **(plain | fields))


def line(product: Product = CARD, quantity: int = 1, price: int = 650) -> OrderLine:
    return OrderLine(product.name, quantity, Money(price), product.sku)


def order(number: str = "1001", **fields: Any) -> Order:
    plain: dict[str, Any] = {"address": HOME, "lines": (line(),), "shipping_paid": Money(500), "source": "orders.csv"}
    return Order(number=number, **(plain | fields))


def weighing(value: str = "0.7", mailer: str = "A7", unit: str = "oz", **fields: Any) -> Weighing:
    return Weighing(Shown(Decimal(value), WeightUnit(unit), Decimal("0.1")), mailer, **fields)


def weigh_piece(sitting: Sitting, piece_id: int, read: Weighing) -> None:
    """Record a reading at the bench with all that goes with it."""
    record_weight(sitting, piece_id, read.shown, Placement(read.mailer, read.size, read.stiff, read.uneven))


def case(value: str | None = "0.7", mailer: str = "A7", **fields: Any) -> Case:
    """A case of an order; `value` ounces in `mailer`, or None: not weighed. Fields of the order may be named too."""
    ours = {name: fields.pop(name) for name in tuple(fields) if name in Case.__dataclass_fields__}
    bought = ours.pop("order", None) or order(**fields)
    plain: dict[str, Any] = {"key": PieceKey(bought.number), "weighing": weighing(value, mailer) if value else None}
    return Case(order=bought, **(plain | ours))


def abroad(**fields: Any) -> Address:
    return replace(FRANCE, **fields)


def stock(sitting: Sitting, orders: Sequence[Order], sells: Shop | None = None) -> Sitting:
    """Import a shop, this module's own unless another is given, and orders; return the sitting."""
    import_shop(sitting, sells or shop())
    import_orders(sitting, orders)
    return sitting


def following_pile(sitting: Sitting) -> Pile:
    """Return a pile that follows every act, as the window's does."""
    pile = Pile(sitting)
    sitting.listeners.append(pile.follow)
    return pile


def before_weighing(sitting: Sitting) -> BeforeWeighing:
    """Return what to sort out for everything waiting in a store."""
    terms = read_terms(sitting)
    return look_ahead([judge(stored.case, terms) for stored in read_stored(sitting)], terms)
