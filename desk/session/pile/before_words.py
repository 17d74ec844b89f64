"""The words for what to sort out before weighing, and which things still need a decision."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.finding import Code
from desk.session.pile.before_weighing import DOOR, STAMP, ThingToSortOut
from desk.session.pile.forecast import Forecast
from desk.session.words.figures import amount_words, counted, pieces_in_words
from desk.session.words.sentences import sentence, way_out


def to_settle(things: Sequence[ThingToSortOut]) -> tuple[ThingToSortOut, ...]:
    """Return the things to decide: everything except what was corrected on import."""
    return tuple(thing for thing in things if is_door(thing) or is_stamp(thing) or _is_open(thing))


def _is_open(thing: ThingToSortOut) -> bool:
    return thing.found.code == Code.PRODUCT_UNKNOWN or thing.found.severity.is_issue


def is_door(thing: ThingToSortOut) -> bool:
    """Return True for orders to the same address that may be sent together."""
    return thing.found.code == DOOR


def is_stamp(thing: ThingToSortOut) -> bool:
    """Return True for a note that asks for stamps."""
    return thing.found.code == STAMP


def is_status(thing: ThingToSortOut) -> bool:
    """Return True for a status the shop has not sorted."""
    return thing.found.code == Code.STATUS_UNSORTED


def thing_words(thing: ThingToSortOut) -> tuple[str, str]:
    """Return the issue and what to do about it."""
    out = way_out(thing.found)
    if thing.resembles:
        names = ", ".join(
            f"{product.name} ({product.sku})" if product.sku else product.name for product in thing.resembles
        )
        out = f"Do you mean {names}? {out}"
    return sentence(thing.found), out


def forecast_words(told: Forecast) -> str:
    """Return the forecast in words: letters, flats, parcels, pieces abroad, and estimated postage."""
    kinds = ((told.letters, "letter"), (told.flats, "large envelope"), (told.parcels, "parcel"))
    parts = [
        *(counted(n, one) for n, one in kinds if n),
        f"{told.abroad} abroad" if told.abroad else "", f"{told.unknown} we can't predict" if told.unknown else "",
    ]  # fmt: skip
    said = ", ".join(filter(None, parts)) or "Nothing is waiting to be weighed"
    postage = amount_words(told.postage)
    reach = amount_words(told.give_or_take)
    off = f", give or take {reach}" if told.give_or_take else ""
    priced = f" Estimated postage for {pieces_in_words(told.priced)}: {postage}{off}." if told.priced else ""
    buy = f" Stamps to buy: {told.to_buy}." if told.to_buy else ""
    return f"{said}.{priced}{buy}"
