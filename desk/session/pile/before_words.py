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


def forecast_words(forecast: Forecast) -> str:
    """Return the forecast in words: letters, flats, parcels, pieces abroad, and estimated postage."""
    kinds = ((forecast.letters, "letter"), (forecast.flats, "large envelope"), (forecast.parcels, "parcel"))
    parts = [
        *(counted(n, one) for n, one in kinds if n),
        f"{forecast.abroad} abroad" if forecast.abroad else "", f"{forecast.unknown} we can't predict" if forecast.unknown else "",
    ]  # fmt: skip
    counts = ", ".join(filter(None, parts)) or "Nothing is waiting to be weighed"
    postage = amount_words(forecast.postage)
    reach = amount_words(forecast.give_or_take)
    off = f", give or take {reach}" if forecast.give_or_take else ""
    priced = f" Estimated postage for {pieces_in_words(forecast.priced)}: {postage}{off}." if forecast.priced else ""
    buy = f" Stamps to buy: {forecast.to_buy}." if forecast.to_buy else ""
    return f"{counts}.{priced}{buy}"
