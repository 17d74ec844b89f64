"""What else comes from outside, with random damage: prices, zones, destinations, amounts paid, labels, pasted text, scales.

The same number gives the same damage. `tests/intake/mutated.py` has the order lists, weights, products and mappings.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from datetime import date
from functools import cache
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.intake.paid import read_paid, read_paid_text
from desk.paper.bought.reading import CannotRead, read_labels
from desk.scales.drivers.decoders import LineDecoder
from desk.scales.drivers.presets import PRESETS
from desk.session.importing.preview import NO_SHOP, Pasted, open_table, preview_sheet
from desk.session.rulebook import Rulebook, read_rulebook, read_zone_chart
from desk.session.setup.destination_rules import read_destinations
from desk.session.setup.price_list_preview import ListHead, preview_chart
from tests.conftest import ROOT
from tests.intake.mutated import ROWS, Reader, Seeds
from tests.intake.tables import delimited, ods, xlsx
from tests.paper.bought.made import LAYOUTS, Parcel, write_labels_like

HEAD = ListHead(date(2027, 1, 18), service="ground-retail")
CHART = ROOT / "resources" / "charts" / "us-2026-07-12"
RECORDINGS = ROOT / "tests" / "recordings" / "serial-lines.csv"
BY_ZONE = [["Not over", "Zone 1", "Zone 2", "Zone 3-5"], ["4", "7.10", "7.20", "7.50"], ["16", "8", "8.2", "9"]]
BY_ROW = [
    ["service", "weight_max", "key", "price"],
    ["ground-retail", "4", "1", "7.10"],
    ["letter-stamped", "1", "", "0.90"],
]
ZONES = [["ZIP Code", "Zone"], ["005", "8"], ["006---009", "7"], ["010---013", "5"], ["97701", "9"]]
PLACES = [
    ["country", "rule", "value", "valid_from", "valid_until", "source"],
    ["RU", "suspended", "all", "2026-01-05", "", "alert 12"],
    ["BR", "import-limit", "EUR 150|consignment", "2026-01-05", "2027-01-01", "customs"],
    ["", "list-of", "suspended", "2026-01-05", "", "all"],
]
PAID = [
    ["Order", "Tracking number", "Amount paid", "Type", "Recipient", "ZIP"],
    ["#1041", "9101 0268 3733 1000 0395 21", "$7.20", "", "Ada Finch", "97701"],
    ["1042", "", "1.50", "Adjustment", "", ""],
]
PARCEL = Parcel("Ada Finch", "1 Quire", "Bend OR", "97701", reference="1041-1", weight="9 oz", number=7)


@cache
def _rulebook() -> Rulebook:
    return read_rulebook(ROOT / "resources")


def _or_refused(faults: Sequence[FileFault]) -> None:
    if faults:
        raise Unreadable(list(faults))


def prices(path: Path) -> None:
    """Preview a sheet of prices."""
    _or_refused(preview_chart(path, HEAD, _rulebook().charts).faults)


def _chart_folder(path: Path, corrupted: str) -> None:
    folder = path.with_name("zz-2027-01-18")
    folder.mkdir(exist_ok=True)
    for file in CHART.iterdir():
        if file.suffix in (".csv", ".toml"):
            (folder / file.name).write_bytes(path.read_bytes() if file.name == corrupted else file.read_bytes())
    _or_refused(preview_chart(folder / "chart.toml", HEAD, _rulebook().charts).faults)


def chart_head(path: Path) -> None:
    """Preview a complete price list whose head file is damaged."""
    _chart_folder(path, "chart.toml")


def chart_groups(path: Path) -> None:
    """Preview a complete price list whose groups file is damaged."""
    _chart_folder(path, "groups.csv")


def zones(path: Path) -> None:
    """Read a zone chart."""
    read_zone_chart(path)


def destinations(path: Path) -> None:
    """Read a list of destinations."""
    read_destinations(path, _rulebook().countries)


def paid(path: Path) -> None:
    """Read amounts paid, with their tracking numbers."""
    read_paid(path, "USD")


def _pasted(path: Path) -> str:
    return path.read_bytes().decode("utf-8", errors="replace")


def pasted_paid(path: Path) -> None:
    """Read amounts paid from the clipboard."""
    read_paid_text(_pasted(path), "USD")


def pasted_orders(path: Path) -> None:
    """Preview orders from the clipboard."""
    preview_sheet(open_table(Pasted(_pasted(path))), NO_SHOP)


def labels(path: Path) -> None:
    """Read the labels of a PDF."""
    try:
        read_labels(path)
    except CannotRead as fault:
        raise Unreadable([FileFault(path.name, 0, "", "", str(fault))]) from fault


def _scale(preset: str) -> Reader:
    def scale(path: Path) -> None:
        decoder, data = LineDecoder(PRESETS[preset]), path.read_bytes()
        for place in range(0, len(data), 7):
            decoder.feed(place * 0.01, data[place : place + 7])

    return scale


def _recorded() -> Iterator[tuple[Reader, bytes]]:
    """Yield the recorded bytes of each kind of scale, repeated as a scale does."""
    sent: dict[str, bytes] = {}
    with RECORDINGS.open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            sent[row["preset"]] = sent.get(row["preset"], b"") + 3 * bytes.fromhex(row["input_hex"])
    for preset, data in sent.items():
        if preset in PRESETS:
            yield _scale(preset), data


PDFS: Seeds = [(labels, write_labels_like([PARCEL], layout)) for layout in LAYOUTS]
WORKBOOKS: Seeds = [  # each is read in a process of its own, which takes a while
    *((prices, make(table)) for table in (BY_ZONE, BY_ROW) for make in (xlsx, ods)),
    *((zones, make(ZONES)) for make in (xlsx, ods)),
    (destinations, xlsx(PLACES)),
    *((paid, make(PAID)) for make in (xlsx, ods)),
]
TEXTS: Seeds = [
    *((prices, delimited(table).encode()) for table in (BY_ZONE, BY_ROW)),
    (prices, (CHART / "first-class.csv").read_bytes()),
    (chart_head, (CHART / "chart.toml").read_bytes()),
    (chart_groups, (CHART / "groups.csv").read_bytes()),
    (zones, delimited(ZONES, "\t").encode("utf-16")),
    (destinations, delimited(PLACES, ";").encode()),
    (paid, delimited(PAID).encode("cp1252")),
    (pasted_paid, delimited(PAID, "\t").encode()),
    (pasted_orders, delimited(ROWS, "\t").encode()),
    *_recorded(),
]
OTHERS: Seeds = [*TEXTS] * 20 + [*WORKBOOKS]
