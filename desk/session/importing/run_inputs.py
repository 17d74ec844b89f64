"""The inputs of a headless run, all read before anything is done, with one list of faults over all files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TypeVar

from desk.domain.faults import FileFault, Unreadable
from desk.domain.finding import Finding
from desk.domain.orders.order import Order
from desk.domain.orders.packages import Packing
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.intake.order_headers.mapping_file import ColumnMapping, read_mapping
from desk.intake.orders.order_list import OrdersFile, read_orders
from desk.intake.shop.shop_file import read_shop
from desk.intake.weights import read_weights
from desk.session.importing.list_findings import list_findings
from desk.session.importing.preview import rules_of
from desk.session.rulebook import Rulebook, read_zone_chart

T = TypeVar("T")
EMPTY_SHOP = Shop(Address())


@dataclass(frozen=True, slots=True)
class RunInputs:
    """The inputs read. `skipped` counts orders left out by status; `left_out` lists them as (number, status).

    `damaged` are the faults of the store's own price lists that are left out. `remarks` are findings about the order
    lists as a whole: columns not read, or read two ways. `shipped` are orders a list marks as already shipped.
    """

    rulebook: Rulebook
    shop: Shop
    orders: tuple[Order, ...]
    weights: tuple[tuple[PieceKey, Weighing], ...]
    skipped: dict[str, int] = field(default_factory=dict)
    left_out: tuple[tuple[str, str], ...] = ()
    damaged: tuple[FileFault, ...] = ()
    remarks: tuple[Finding, ...] = ()
    shipped: tuple[tuple[str, str], ...] = ()
    packings: Mapping[PieceKey, Packing] = field(default_factory=dict)  # the contents of each package


class _Faults:
    """Collects faults and keeps reading, so that all files can be corrected at once."""

    def __init__(self) -> None:
        self.all: list[FileFault] = []

    def reading(self, read: Callable[[], T]) -> T | None:
        """Return what was read, or None after adding its faults."""
        try:
            return read()
        except Unreadable as unreadable:
            self.all += unreadable.faults
            return None


def read_run_inputs(
    rulebook: Rulebook,
    *,
    orders: Sequence[Path],
    weights: Path,
    shop: Path,
    mapping: Path | None = None,
    zones: Path | None = None,
) -> RunInputs:
    """Return the contents of all files; Unreadable with the faults of every file when any can't be read.

    `rulebook` is the store's; an imported zone chart replaces its zone chart.
    """
    faults = _Faults()
    the_shop = faults.reading(lambda: read_shop(shop)) or EMPTY_SHOP
    columns = faults.reading(lambda: read_mapping(mapping)) if mapping else None
    files = [faults.reading(partial(_orders, path, rulebook, the_shop, columns)) for path in orders]
    rows = faults.reading(lambda: read_weights(weights, shop=the_shop)) or ()
    if zones is not None:
        rulebook = faults.reading(lambda: _with_zones(rulebook, zones, the_shop)) or rulebook
    read = [file for file in files if file is not None]
    faults.all += _in_two_files(read, orders)
    faults.all += _other_money(the_shop, rulebook, shop)
    if faults.all:
        raise Unreadable(faults.all)
    skipped: Counter[str] = Counter()
    for file in read:
        skipped.update(file.skipped)
    orders_read = tuple(order for file in read for order in file.orders)
    left_out = tuple(each for file in read for each in file.left_out)
    remarks = tuple(each for path, file in zip(orders, read, strict=True) for each in list_findings(path.name, file))
    shipped = tuple(each for file in read for each in file.shipped)
    packings = {row.key: row.packing for row in rows if row.packing}
    weighings = tuple((row.key, row.weighing) for row in rows)
    return RunInputs(
        rulebook,
        the_shop,
        orders_read,
        weighings,
        dict(skipped),
        left_out,
        remarks=remarks,
        shipped=shipped,
        packings=packings,
    )


def _orders(path: Path, rulebook: Rulebook, shop: Shop, columns: ColumnMapping | None) -> OrdersFile:
    return read_orders(path, rules_of(shop, rulebook.countries, columns or ColumnMapping()))


def _with_zones(rulebook: Rulebook, path: Path, shop: Shop) -> Rulebook:
    chart, prefix = read_zone_chart(path), shop.sender.postal_code[:3]
    return replace(rulebook, zones=rulebook.zones.with_chart(chart.rows, prefix, chart.edition))


def _other_money(shop: Shop, rulebook: Rulebook, path: Path) -> list[FileFault]:
    """Add a fault when the shop's currency differs from the price lists', since margins need one currency."""
    listed = {chart.currency for lists in rulebook.charts.lists.values() for chart in lists}
    if shop.policy.currency in listed:
        return []
    expected = f"{' or '.join(sorted(listed))}, the money of the price lists"
    return [FileFault(str(path), 0, "policy.currency", shop.policy.currency, expected)]


def _in_two_files(files: Sequence[OrdersFile], paths: Sequence[Path]) -> list[FileFault]:
    """Add a fault when an order number is in two files, since the two would become one order."""
    seen: dict[str, str] = {}
    faults = []
    for file, path in zip(files, paths, strict=False):
        for order in file.orders:
            other = seen.setdefault(order.number, str(path))
            if other != str(path):
                expected = f"a number that is not in {other} too (a mapping can put a prefix before each)"
                faults.append(FileFault(str(path), 0, "order", order.number, expected))
    return faults
