"""Setup > Price lists: compare a new list before importing it, edit prices and dates, keep the old one.

Own lists are saved in the shop's own folder, each in a subfolder that is never changed; the store records which are in
use, so that undo is one step and restores the previous list. After any fault the lists in use stay.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from importlib.resources.abc import Traversable
from pathlib import Path
from tempfile import mkdtemp

from desk.domain.faults import FileFault, Refused, Unreadable
from desk.domain.money import Money
from desk.domain.whole_file import write_whole
from desk.rates.lists.cells_file import OVERSIZED
from desk.rates.lists.chart import Charts, ServiceChart
from desk.rates.lists.chart_compare import CellChange, compare
from desk.rates.lists.chart_file import read_chart
from desk.rates.lists.chart_text import chart_texts
from desk.session.sitting import Sitting
from desk.session.words.services import service_words
from desk.store.store import Store
from desk.store.tables import settings

OWN_LISTS = "own price lists"


@dataclass(frozen=True, slots=True)
class PriceListFolders:
    """The price-list folders: the shipped one and the shop's own."""

    shipped: Traversable
    own: Path


@dataclass(frozen=True, slots=True)
class OwnLists:
    """The names of the shop's own lists in use, newest last."""

    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ChartPreview:
    """A new list compared with the one in use, cell by cell. With a fault it can't be imported."""

    file: str
    lists: tuple[ServiceChart, ...]
    changes: tuple[CellChange, ...]
    faults: tuple[FileFault, ...] = ()

    @property
    def missing(self) -> tuple[CellChange, ...]:
        """Cells of the current list that are missing in the new one."""
        return tuple(change for change in self.changes if change.after is None)

    @property
    def fresh(self) -> tuple[CellChange, ...]:
        """Cells that are missing in the current list."""
        return tuple(change for change in self.changes if change.before is None)

    @property
    def falls(self) -> tuple[CellChange, ...]:
        """Cells where the new price decreases as weight or zone rises."""
        return tuple(change for change in self.changes if change.falls)


def compared(file: str, lists: Sequence[ServiceChart], charts: Charts) -> ChartPreview:
    """Return a preview of lists without faults."""
    changes = [change for chart in lists for change in compare(charts.in_force(chart.service, chart.effective), chart)]
    return ChartPreview(file, tuple(lists), tuple(changes))


def import_price_list(sitting: Sitting, shelf: PriceListFolders, preview: ChartPreview) -> str:
    """Import a new list as one step and return its folder's name. Unreadable with every fault when it has any."""
    if preview.faults:
        raise Unreadable(preview.faults)
    return keep_lists(sitting, shelf, preview.lists, f"Price list imported: {preview.file}")


def edit_cell(
    lists: Iterable[ServiceChart], service: str, key: str, weight: str, price: Money
) -> tuple[ServiceChart, ...]:
    """Return the lists of one file with one price changed; Refused for an unknown cell or another currency."""
    return tuple(_with_cell(chart, key, weight, price) if chart.service == service else chart for chart in lists)


def set_dates(lists: Iterable[ServiceChart], effective: date, until: date | None) -> tuple[ServiceChart, ...]:
    """Return the lists of one file with new first and last days; Refused when the last comes before the first."""
    if until is not None and until < effective:
        raise Refused("The last day can't come before the first.")
    return tuple(replace(chart, effective=effective, until=until) for chart in lists)


def keep_lists(sitting: Sitting, shelf: PriceListFolders, lists: Sequence[ServiceChart], step: str) -> str:
    """Save lists as the shop's own and use them from now on, as one step; return the folder's name.

    An own list they were made from is no longer used; its folder stays. Unreadable, with nothing changed, when the
    written files can't be read back.
    """
    name = _write(shelf.own, lists)
    made_from = {chart.chart for chart in lists}
    with sitting.store.act(step) as tx:
        used = settings.read(tx.conn, OWN_LISTS, OwnLists())
        left = tuple(each for each in used.names if each not in made_from)
        settings.write(tx, OWN_LISTS, OwnLists((*left, name)))
    refresh_charts(sitting, shelf)
    sitting.announce(sitting.store.last_changes)
    return name


def refresh_charts(sitting: Sitting, shelf: PriceListFolders) -> tuple[FileFault, ...]:
    """Use the shipped lists and the shop's own ones; return the faults of lists left out.

    Call it at start, and after any step that changed settings, before prices are read.
    """
    charts, faults = lists_in_use(sitting.store, shelf, Charts.read(shelf.shipped))
    sitting.rulebook = replace(sitting.rulebook, charts=charts)
    return faults


def lists_in_use(store: Store, shelf: PriceListFolders, shipped: Charts) -> tuple[Charts, tuple[FileFault, ...]]:
    """Return the shipped lists with a store's own ones in use, and the faults of lists left out."""
    with store.reading() as conn:
        used = settings.read(conn, OWN_LISTS, OwnLists())
    faults: list[FileFault] = []
    charts = shipped
    for name in used.names:
        charts = charts.with_lists(_own(shelf.own / name, charts, faults))
    return charts, tuple(faults)


def _own(folder: Path, charts: Charts, faults: list[FileFault]) -> tuple[ServiceChart, ...]:
    list_faults: list[FileFault] = []
    read = read_chart(folder, list_faults, charts.known) if folder.is_dir() else None
    if read is None:
        list_faults.append(FileFault(folder.name, 0, "", "", f"a folder of that name in {folder.parent}"))
    faults += list_faults
    return read.services if read is not None and not list_faults else ()


def _write(own: Path, lists: Sequence[ServiceChart]) -> str:
    """Write a new folder of lists, and move it into place when it reads back without a fault."""
    texts = chart_texts(lists)
    own.mkdir(parents=True, exist_ok=True)
    fresh = Path(mkdtemp(prefix=".new-", dir=own))
    for file, text in texts.items():
        write_whole(fresh / file, text.encode())
    faults: list[FileFault] = []
    read_chart(fresh, faults)
    if faults:
        for file in texts:
            (fresh / file).unlink()
        fresh.rmdir()
        raise Unreadable(faults)
    name = next(name for name in _names(lists[0].effective) if not (own / name).exists())
    fresh.rename(own / name)
    return name


def _names(effective: date) -> Iterator[str]:
    number = 1
    while True:
        yield f"own-{effective.isoformat()}-{number}"
        number += 1


def _with_cell(chart: ServiceChart, key: str, weight: str, price: Money) -> ServiceChart:
    if price.currency != chart.currency:
        raise Refused(f"The list is in {chart.currency}; the price is in {price.currency}.")
    if weight == OVERSIZED and key in chart.oversized:
        return replace(chart, oversized={**chart.oversized, key: price})
    rows = chart.rows.get(key, ())
    if weight not in [row.max_label for row in rows]:
        raise Refused(f"{service_words(chart.service)} has no price for {weight} and {key or 'no zone'}.")
    edited = tuple(replace(row, price=price) if row.max_label == weight else row for row in rows)
    return replace(chart, rows={**chart.rows, key: edited})
