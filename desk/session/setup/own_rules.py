"""What a shop uses in place of the shipped rules: its own price lists, zone chart and destination lists.

All are settings of the store, so importing one is one step, and undo brings the rules of before back. Window and headless
run use the same: `with_own` decides.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from importlib.resources.abc import Traversable
from pathlib import Path

from desk.domain.changes import Changes
from desk.domain.faults import FileFault, Refused
from desk.session.pile.stored_cases import read_terms
from desk.session.rulebook import Rulebook, read_zone_chart
from desk.session.setup.destination_rules import OwnDestinations, own_destinations, with_own_destinations
from desk.session.setup.price_lists import OWN_LISTS, OwnLists, PriceListFolders, lists_in_use
from desk.session.sitting import Sitting
from desk.store.store import Store
from desk.store.tables import settings

OWN_ZONES = "own zone chart"
FOLDER = "price lists"  # the folder of own lists, beside the store


@dataclass(frozen=True, slots=True)
class OwnZones:
    """The post's zone chart for parcels from one three-digit prefix; no rows: none is loaded."""

    prefix: str = ""
    edition: str = ""
    rows: Mapping[str, int] = field(default_factory=dict, hash=False)


def shelf_in(folder: Path, resources: Traversable) -> PriceListFolders:
    """Return the price-list folders of a store in that folder."""
    return PriceListFolders(resources / "charts", folder / FOLDER)


def own_zones(sitting: Sitting) -> OwnZones:
    """Return the zone chart in use."""
    with sitting.store.reading() as conn:
        return settings.read(conn, OWN_ZONES, OwnZones())


def read_zones(path: Path) -> OwnZones:
    """Return the zone chart in a file, without a prefix yet; Unreadable with every fault of the file."""
    chart = read_zone_chart(path)
    return OwnZones("", chart.edition, dict(chart.rows))


def load_zones(sitting: Sitting, zones: OwnZones, name: str) -> str:
    """Use a zone chart for the sender's prefix, as one step; return the prefix. `name` is the file name.

    Refused while the sender has no postal code.
    """
    prefix = read_terms(sitting).shop.sender.postal_code[:3]
    if len(prefix) < 3:
        raise Refused("A zone chart is for one ZIP code. Enter yours in Setup > Sender first.")
    _keep(sitting, replace(zones, prefix=prefix), f"Zone chart imported: {name}")
    return prefix


def drop_zones(sitting: Sitting) -> None:
    """Use the national zone matrix again, as one step."""
    _keep(sitting, OwnZones(), "Zone chart removed")


def with_own(shipped: Rulebook, store: Store, shelf: PriceListFolders) -> tuple[Rulebook, tuple[FileFault, ...]]:
    """Return the shipped rules with a store's own lists and zones, and the faults of lists left out."""
    charts, faults = lists_in_use(store, shelf, shipped.charts)
    with store.reading() as conn:
        own = settings.read(conn, OWN_ZONES, OwnZones())
        destinations = with_own_destinations(shipped.destinations, conn)
    zones = shipped.zones.with_chart(own.rows, own.prefix, own.edition)
    return replace(shipped, charts=charts, zones=zones, destinations=destinations), faults


def use_own(sitting: Sitting, shelf: PriceListFolders) -> tuple[FileFault, ...]:
    """Use the shop's own price lists and zones, now and whenever they change.

    Call it at start, with the shipped rules in the sitting and before prices are read. Returns the faults of own lists
    that are left out.
    """
    follows = _Follows(sitting, shelf)
    sitting.listeners.insert(0, follows.follow)
    return follows.use()


class _Follows:
    """Reads lists and zones again when a step, an undo or a redo changes them."""

    def __init__(self, sitting: Sitting, shelf: PriceListFolders) -> None:
        self._sitting, self._shelf = sitting, shelf
        self._shipped = sitting.rulebook
        self._used: tuple[OwnLists, OwnZones, OwnDestinations] | None = None

    def follow(self, changes: Changes) -> None:
        """Read again when a step, an undo or a redo changed lists or zones.

        When they can't be read now, everything is announced again as soon as the data can be read.
        """
        try:
            if changes.settings and self._now() != self._used:
                self.use()
        except Refused:
            self._used, self._sitting.store.is_unsure = None, True

    def use(self) -> tuple[FileFault, ...]:
        """Use the saved lists and zones; return the faults of lists left out."""
        now = self._now()
        self._sitting.rulebook, faults = with_own(self._shipped, self._sitting.store, self._shelf)
        self._used = now
        return faults

    def _now(self) -> tuple[OwnLists, OwnZones, OwnDestinations]:
        with self._sitting.store.reading() as conn:
            lists, zones = settings.read(conn, OWN_LISTS, OwnLists()), settings.read(conn, OWN_ZONES, OwnZones())
            return lists, zones, own_destinations(conn)


def _keep(sitting: Sitting, zones: OwnZones, step: str) -> None:
    with sitting.store.act(step) as tx:
        settings.write(tx, OWN_ZONES, zones)
    sitting.announce(sitting.store.last_changes)
