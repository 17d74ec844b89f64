"""Turn the form of a shop file into the shop the program works with: adds units, currencies and defaults."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import TYPE_CHECKING

from desk.domain.length import Length, Size
from desk.domain.money import Money, decimals_of
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import ExchangeRate, Policy, SenderName, Shop, Untracked
from desk.domain.shop.stamp import StampStock
from desk.domain.weight import NOTHING, Weight

if TYPE_CHECKING:  # the form needs a heavy library, already loaded by the caller
    from desk.intake.shop.shop_form_file import MailerTable, PolicyTable, ProductTable, SenderTable, ShopTable

STAMP_CURRENCY = "USD"  # the currency printed on the post's stamps, whatever currency the shop uses

Place = tuple[str | int, ...]
Note = Callable[[Place, str, str], None]  # place, found, expected


def build_shop(table: ShopTable, note: Note) -> Shop:
    """Return the shop; an amount with too many decimals for its currency is reported and read as missing."""
    currency = table.policy.currency
    return Shop(
        sender=_sender(table.sender),
        policy=_policy(table.policy, note),
        choices=dict(table.choices),
        tax_ids={kind: text for kind, text in table.tax_ids.model_dump().items() if text},
        rates=tuple(
            ExchangeRate(pair[:3], pair[4:], known.rate, known.date, known.source)
            for pair, known in table.rates.items()
        ),
        mailers=tuple(_mailer(place, mailer, currency, note) for place, mailer in enumerate(table.mailers)),
        products=tuple(_product(product) for product in table.products),
        stamps=tuple(
            StampStock(stamp.kind, stamp.count, _money(stamp.value, STAMP_CURRENCY, ("stamps", place, "value"), note))
            for place, stamp in enumerate(table.stamps)
        ),
        sender_name=SenderName(table.sender.first_name, table.sender.last_name),
    )


def _sender(sender: SenderTable) -> Address:
    fields = sender.model_dump(exclude={"first_name", "last_name"})
    return Address(recipient=fields.pop("name"), **fields)


def _policy(policy: PolicyTable, note: Note) -> Policy:
    currency, usual = policy.currency, Policy()
    up_to = policy.untracked if isinstance(policy.untracked, Decimal) else None
    none = Money(0, currency)
    return Policy(
        currency=currency,
        letter_postage=policy.letter_postage,
        parcel_services=usual.parcel_services if policy.parcel_services is None else policy.parcel_services,
        intl_services=usual.intl_services if policy.intl_services is None else policy.intl_services,
        parcel_payment=policy.parcel_payment,
        untracked=Untracked.UP_TO if isinstance(policy.untracked, Decimal) else Untracked(policy.untracked),
        untracked_up_to=_money(up_to, currency, ("policy", "untracked"), note),
        skip_status=usual.skip_status if policy.skip_status is None else policy.skip_status,
        ship_status=usual.ship_status if policy.ship_status is None else policy.ship_status,
        stamp_request_phrases=policy.stamp_request_phrases,
        cautious=policy.cautious,
        max_stamps=policy.max_stamps,
        scale_division=policy.scale_division,
        scale_unit=policy.scale_unit,
        scale_rounds_up=policy.scale_rounds_up,
        learn_weights=policy.learn_weights,
        close_call_from=_money(policy.close_call_from, currency, ("policy", "close_call_from"), note),
        cover_from=_money(policy.cover_from, currency, ("policy", "cover_from"), note),
        label_weight=policy.label_weight or NOTHING,
        insert_cost=_money(policy.insert_cost, currency, ("policy", "insert_cost"), note) or none,
        insert_weight=policy.insert_weight or NOTHING,
        label_cost=_money(policy.label_cost, currency, ("policy", "label_cost"), note) or none,
    )


def _mailer(place: int, mailer: MailerTable, currency: str, note: Note) -> Mailer:
    return Mailer(
        name=mailer.name,
        kind=mailer.kind,
        size=_size(mailer),
        tare=_weight(mailer.tare, mailer.tare_unit),
        pack_price=_money(mailer.pack_price, currency, ("mailers", place, "pack_price"), note),
        pack_count=mailer.pack_count,
        stiff=mailer.kind.is_stiff if mailer.stiff is None else mailer.stiff,
        reused=mailer.reused,
        paper=mailer.kind.is_paper if mailer.paper is None else mailer.paper,
        only_service=mailer.only_service,
    )


def _size(mailer: MailerTable) -> Size | None:
    sides = [side for side in (mailer.length, mailer.width, mailer.thickness) if side is not None]
    if mailer.size_unit is None or len(sides) < 3:
        return None  # the rules between fields report half a size
    length, width, thickness = (Length.of(side, mailer.size_unit) for side in sides)
    return Size(length, width, thickness)


def _product(product: ProductTable) -> Product:
    return Product(
        sku=product.sku,
        name=product.name,
        unit_weight=_weight(product.unit_weight, product.weight_unit),
        customs_words=product.customs_words,
        hs=product.hs,
        origin=product.origin,
        stiff=product.stiff,
        length=product.side(product.length),
        width=product.side(product.width),
        thickness=product.side(product.thickness),
        document=product.document,
        media=product.media,
        restricted=product.restricted,
        usual_mailer=product.usual_mailer,
        no_goods=product.no_goods,
    )


def _weight(value: Decimal | None, unit: str | None) -> Weight | None:
    return None if value is None or unit is None else Weight.of(value, unit)


def _money(amount: Decimal | None, currency: str, place: Place, note: Note) -> Money | None:
    if amount is None:
        return None
    try:
        return Money.of(amount, currency)
    except ValueError:
        note(place, f"{amount:f}", f"an amount of {currency} with at most {decimals_of(currency)} decimals")
        return None
