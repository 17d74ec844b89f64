"""Price lists as rows of text for Setup: the lists, their prices, what a new one changes, and its effect."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.rates.lists.chart import Charts, ServiceChart
from desk.rates.lists.chart_compare import CellChange, cells_of
from desk.session.setup.price_effect import KindOfPiece, PriceEffect, ZoneEffect, ZoneMove
from desk.session.setup.price_lists import ChartPreview
from desk.session.words.figures import amount_words, counted, day_in_words, measure, short_day
from desk.session.words.services import service_words
from desk.session.words.typed_numbers import TwoReadings, number_typed

LIST_HEADS = ("Service", "From", "Until", "Status", "Age", "How sure", "Source")
ZONE_CHART = "zone chart"  # the part of the page that is no list
CHANGE_HEADS = ("Service", "Zone or group", "Up to", "Old", "New", "New ÷ old", "Note")
ZONE_HEADS = ("Zone now", "New zone", "Pieces", "Before", "After", "Difference")
EFFECT_HEADS = ("Mailer", "Billed weight", "Service", "Zone or group", "Pieces", "Before", "After", "Difference")

PriceList = ServiceChart  # re-exported for the screens


@dataclass(frozen=True, slots=True)
class ListRow:
    """One service in one list: its key, and its words under LIST_HEADS."""

    service: str
    chart: str
    effective: date
    words: tuple[str, ...]


def list_rows(charts: Charts, on: date) -> tuple[ListRow, ...]:
    """Return every list of every service, newest first; age in days on the mailing date."""
    rows = []
    for service in sorted(charts.services(), key=service_words):
        states = _states(tuple(charts.all_in_force(service, on)), on)
        rows += [_list_row(chart, states, on) for chart in charts.lists[service]]
    return tuple(rows)


def cell_heads(chart: ServiceChart) -> tuple[str, str, str]:
    """Return the column heads of its prices: key, unit of weight, and currency."""
    key = {"zone": "Zone", "group": "Group"}.get(chart.keyed_by, "")
    return key, f"Up to, {chart.bills_in.value}", f"Price, {chart.currency}"


def cell_rows(chart: ServiceChart) -> tuple[tuple[str, ...], ...]:
    """Return every price of a list under its `cell_heads`, in the order of its cells."""
    return tuple((key, measure(weight), measure(price.text())) for (key, weight), price in cells_of(chart).items())


def cell_at(chart: ServiceChart, row: int) -> tuple[str, str]:
    """Return the key and the weight of the price in a row of `cell_rows`, as the list has them; empty for no row."""
    places = tuple(cells_of(chart))
    return places[row] if 0 <= row < len(places) else ("", "")


def change_rows(preview: ChartPreview) -> tuple[tuple[str, ...], ...]:
    """Return every price that changes or decreases, under CHANGE_HEADS."""
    return tuple(_change_row(change) for change in preview.changes)


def preview_words(preview: ChartPreview) -> str:
    """Return what a new list changes, in one line."""
    services = {chart.service for chart in preview.lists}
    parts = [counted(len(services), "service"), f"{counted(len(preview.changes), 'price')} changed"]
    counts = ((preview.missing, "missing"), (preview.fresh, "new"), (preview.falls, "lower than the one before"))
    return ", ".join([*parts, *(f"{len(rows)} {words}" for rows, words in counts if rows)]) + "."


def effect_words(effect: PriceEffect) -> str:
    """Return the effect of new prices on the pieces weighed so far, in one or two sentences."""
    if not effect.kinds:
        return "Nothing weighed yet, so there is nothing to compare."
    more = Money(effect.after.minor - effect.before.minor, effect.after.currency)
    before, after = _sum(effect.before), _sum(effect.after)
    kinds = counted(len(effect.kinds), "kind")
    share = f"The {kinds} you mail most: {effect.pieces} of {counted(effect.of_pieces, 'piece')}."
    return f"{share} They cost {after} a month instead of {before}, {_difference(more)}."


def effect_rows(effect: PriceEffect) -> tuple[tuple[str, ...], ...]:
    """Return the commonest kinds of piece under EFFECT_HEADS."""
    return tuple(_effect_row(kind) for kind in effect.kinds)


def zone_rows(effect: ZoneEffect) -> tuple[tuple[str, ...], ...]:
    """Return the pieces that change zone under ZONE_HEADS."""
    return tuple(_move_row(move) for move in effect.moves)


def zone_effect_words(effect: ZoneEffect) -> str:
    """Return how many pieces change zone with another chart, and the cost."""
    if not effect.pieces:
        return "No package priced by zone has been weighed yet, so there is nothing to compare."
    share = f"Of the last {counted(effect.pieces, 'piece')} priced by zone, {effect.changed} change zone"
    if not effect.changed:
        return f"{share}."
    more = Money(effect.after.minor - effect.before.minor, effect.after.currency)
    return f"{share}: {effect.farther} farther, {effect.nearer} nearer. Together they cost {_difference(more)}."


def zones_in_use(matrix: str, prefix: str, edition: str, rows: int) -> str:
    """Return which zones are used: your own chart with its number of rows, else the national matrix."""
    if rows:
        return f"Zones: your own chart for {prefix} ({_day(edition)}, {counted(rows, 'prefix', 'prefixes')})."
    return f"Zones: national zone chart of {_day(matrix)}. A chart for your own ZIP code always wins."


def _day(edition: str) -> str:
    try:
        return day_in_words(date.fromisoformat(edition))
    except ValueError:
        return edition  # a file name


def day_of(text: str) -> date | None:
    """Return a date typed as YYYY-MM-DD; None for an empty text. Refused when unreadable."""
    try:
        return date.fromisoformat(text.strip()) if text.strip() else None
    except ValueError:
        raise Refused("Enter a date such as 2026-07-12.") from None


def amount_of(text: str, currency: str) -> Money:
    """Return a typed price above zero; Refused when unreadable."""
    try:
        money = Money.of(number_typed(text), currency)
    except TwoReadings:
        raise
    except (ValueError, ArithmeticError):
        money = Money(0, currency)
    if money.minor <= 0:
        raise Refused(f"Enter a price in {currency} such as {measure('0.82')}.")
    return money


def _list_row(chart: ServiceChart, states: Mapping[str, str], on: date) -> ListRow:
    until = short_day(chart.until) if chart.until else ""
    days = (on - chart.effective).days
    age = counted(days, "day") if days >= 0 else f"in {counted(-days, 'day')}"
    state = states.get(chart.chart, "upcoming" if chart.effective > on else "old")
    words = (service_words(chart.service), short_day(chart.effective), until, state, age, chart.known_by, chart.source)
    return ListRow(chart.service, chart.chart, chart.effective, words)


def _states(in_force: Sequence[ServiceChart], on: date) -> dict[str, str]:
    """Return the status of the lists in use: the newest, and older ones where it ends."""
    states: dict[str, str] = {}
    for at, chart in enumerate(in_force):
        if not at:
            states[chart.chart] = "current (may be outdated)" if chart.is_old(on) else "current"
        elif any(all(chart.reaches_over(newer, key) for newer in in_force[:at]) for key in chart.rows):
            states[chart.chart] = "used for weights the newest list lacks"
    return states


def _change_row(change: CellChange) -> tuple[str, ...]:
    old, new = (amount_words(price) if price is not None else "–" for price in (change.before, change.after))
    ratio = measure(f"{change.ratio:f}") if change.ratio is not None else ""
    return (service_words(change.service), change.key, measure(change.weight), old, new, ratio, _remark(change))


def _remark(change: CellChange) -> str:
    if change.after is None:
        return "missing in the new list"
    falls = f"lower at a higher {change.falls}" if change.falls else ""
    return ", ".join(filter(None, ("new" if change.before is None else "", falls)))


def _move_row(move: ZoneMove) -> tuple[str, ...]:
    before, after = move.before, move.after
    return (move.old, move.new, str(move.pieces), amount_words(before), amount_words(after), _signed(after - before))


def _signed(more: Money) -> str:
    return f"+{amount_words(more)}" if more.minor > 0 else amount_words(more)


def _effect_row(kind: KindOfPiece) -> tuple[str, ...]:
    before, after = (amount_words(price) if price is not None else "–" for price in (kind.before, kind.after))
    more = ""
    if kind.before is not None and kind.after is not None:
        more = _signed(kind.after - kind.before)
    return (kind.mailer, kind.billed, service_words(kind.service), kind.zone, str(kind.count), before, after, more)


def _sum(money: Money) -> str:
    return amount_words(money)


def _difference(more: Money) -> str:
    if not more:
        return "the same as before"
    amount = _sum(Money(abs(more.minor), more.currency))
    return f"{amount} {'more' if more.minor > 0 else 'less'}"
