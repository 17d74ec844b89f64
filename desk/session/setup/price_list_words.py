"""Price lists as rows of text, for Setup: the lists there are, the cells of one, and what a new one changes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.rates.lists.chart import Charts, ServiceChart
from desk.rates.lists.chart_compare import CellChange, cells_of
from desk.session.setup.price_lists import ChartPreview
from desk.session.words.services import service_words

LIST_HEADS = ("Service", "From", "Until", "State", "Age", "Known by", "Source")
CHANGE_HEADS = ("Service", "Key", "Up to", "Old", "New", "New to old", "Remark")

PriceList = ServiceChart  # the name that screens know it by


@dataclass(frozen=True, slots=True)
class ListRow:
    """One service in one list: where to find it again, and its words under LIST_HEADS."""

    service: str
    chart: str
    effective: date
    words: tuple[str, ...]


def list_rows(charts: Charts, on: date) -> tuple[ListRow, ...]:
    """Every list of every service, the newest of each first; age in days to the posting date."""
    rows = []
    for service in sorted(charts.services(), key=service_words):
        in_force = charts.in_force(service, on)
        first = in_force.effective if in_force else None
        rows += [_list_row(chart, first, on) for chart in charts.lists[service]]
    return tuple(rows)


def cell_heads(chart: ServiceChart) -> tuple[str, str, str]:
    """The heads of its cells: what a price hangs on, the unit of its weights, the money."""
    key = {"zone": "Zone", "group": "Group"}.get(chart.keyed_by, "")
    return key, f"Up to, {chart.bills_in.value}", f"Price, {chart.currency}"


def cell_rows(chart: ServiceChart) -> tuple[tuple[str, ...], ...]:
    """Every price of a list under its `cell_heads`."""
    return tuple((key, weight, price.text()) for (key, weight), price in cells_of(chart).items())


def change_rows(preview: ChartPreview) -> tuple[tuple[str, ...], ...]:
    """Every cell that changes or falls, under CHANGE_HEADS."""
    return tuple(_change_row(change) for change in preview.changes)


def preview_words(preview: ChartPreview) -> str:
    """What a new list changes, in one line."""
    services, cells = len({chart.service for chart in preview.lists}), len(preview.changes)
    changed = "1 cell that changes" if cells == 1 else f"{cells} cells that change"
    told = f"{services} {'service' if services == 1 else 'services'}, {changed}"
    counts = ((preview.missing, "missing"), (preview.fresh, "new"), (preview.falls, "where the price falls"))
    return ", ".join([told, *(f"{len(found)} {words}" for found, words in counts if found)]) + "."


def day_of(text: str) -> date | None:
    """A day as YYYY-MM-DD; None for nothing. Refused when it is none."""
    try:
        return date.fromisoformat(text.strip()) if text.strip() else None
    except ValueError:
        raise Refused("Expected a day such as 2026-07-12.") from None


def amount_of(text: str, currency: str) -> Money:
    """A price above zero; Refused when it is none."""
    try:
        money = Money.of(text.strip(), currency)
    except (ValueError, ArithmeticError):
        money = Money(0, currency)
    if money.minor <= 0:
        raise Refused(f"Expected a price in {currency} such as 0.82.")
    return money


def _list_row(chart: ServiceChart, in_force: date | None, on: date) -> ListRow:
    until = chart.until.isoformat() if chart.until else ""
    days = (on - chart.effective).days
    age = f"{days} days" if days >= 0 else f"in {-days} days"
    state = _state(chart, in_force, on)
    words = (service_words(chart.service), chart.effective.isoformat(), until, state, age, chart.known_by, chart.source)
    return ListRow(chart.service, chart.chart, chart.effective, words)


def _state(chart: ServiceChart, in_force: date | None, on: date) -> str:
    if chart.effective > on:
        return "to come"
    if chart.effective != in_force:
        return "before"
    return "in force, past its date" if chart.is_past(on) else "in force"


def _change_row(change: CellChange) -> tuple[str, ...]:
    old, new = (price.text() if price is not None else "–" for price in (change.before, change.after))
    ratio = f"{change.ratio:f}" if change.ratio is not None else ""
    return (service_words(change.service), change.key, change.weight, old, new, ratio, _remark(change))


def _remark(change: CellChange) -> str:
    if change.after is None:
        return "missing in the new list"
    falls = f"falls as {change.falls} rises" if change.falls else ""
    return ", ".join(filter(None, ("not in the list in force" if change.before is None else "", falls)))
