"""Real files with random damage: cut, flipped, duplicated, mixed. The same number gives the same file."""

from __future__ import annotations

import random
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from desk.domain.faults import Unreadable
from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.intake.columns.reading import NOTHING_CHOSEN
from desk.intake.columns.sheet import read_sheet
from desk.intake.order_headers.mapping_file import read_mapping
from desk.intake.shop.product_lists import CatalogRules, ListKind, catalog_in, known_headers
from desk.intake.shop.shop_file import read_shop
from desk.intake.weights import read_weights
from tests.conftest import ROOT
from tests.intake.shop.test_shop_file import FULL
from tests.intake.tables import COUNTRIES, delimited, ods, read_list, xlsx
from tests.intake.test_difficult_files import DIFFICULT

SHOP = Shop(Address())
ROWS = [
    ["order", "placed", "recipient", "address1", "city", "country", "item", "quantity", "unit_price"],
    ["1001", "2026-11-25", "Ada Finch", "1 Quire", "Bend", "US", "Notebook", "1", "12.50"],
    ["", "", "", "", "", "", "Pen", "2", "3.00"],
    ["1002", "25/11/2026", "Bo Reed", "2 Folio", "Köln", "DE", "Ink", "1", "3.50"],
]
SHELF = [["sku", "name", "weight", "unit", "hs", "origin"], ["CD", "Card", "18", "g", "490900", "US"]] * 2
BOXES = [
    ["name", "Art", "Länge (mm)", "Breite in mm", "Höhe [mm]", "tare (g)"],
    ["Box", "box", "240", "105", "9", "40"],
]
WEIGHED = [
    ["order", "weight (g)", "piece", "length", "width", "thickness", "size_unit", "stiff"],
    ["1001", "119", "1", "9.5 in", "4", "0.1", "in", "yes"],
    ["1002", "0.2 kg", "", "", "", "", "", ""],
]
MAPPING = 'name = "Fair"\nprefix = "F-"\n[columns]\nrecipient = "Who"\n[formats]\nplaced = "day first"\n'
DEMO = ROOT / "resources" / "demo"
SLOW = 2.0  # seconds of processor time


def orders(path: Path) -> object:
    return read_list(path)


def weights(path: Path) -> object:
    return read_weights(path, shop=SHOP)


def products(path: Path) -> object:
    sheet = read_sheet(path, NOTHING_CHOSEN, known_headers(ListKind.PRODUCTS))
    return catalog_in(sheet, ListKind.PRODUCTS, CatalogRules(SHOP, COUNTRIES))


def mailers(path: Path) -> object:
    sheet = read_sheet(path, NOTHING_CHOSEN, known_headers(ListKind.MAILERS))
    return catalog_in(sheet, ListKind.MAILERS, CatalogRules(SHOP, COUNTRIES))


def with_country(raw: bytes) -> bytes:
    """Return the file with its towns where countries are unknown, so that it has all an order list needs."""
    for code in ("utf-8", "utf-16-le", "utf-16-be"):
        raw = raw.replace("city".encode(code), "country".encode(code), 1)
    return raw


Reader = Callable[[Path], object]
Seeds = Sequence[tuple[Reader, bytes]]
SEEDS: Seeds = [
    *((orders, with_country(nasty.raw[:20_000])) for nasty in DIFFICULT.values()),
    *((orders, make(ROWS)) for make in (xlsx, ods)),
    *(
        (orders, delimited(ROWS, sign).encode(code))
        for code in ("utf-8", "utf-8-sig", "cp1252", "utf-16", "utf-16-be")
        for sign in ",;\t|"
    ),
    *((products, raw) for raw in (xlsx(SHELF), delimited(SHELF, "\t").encode())),
    *((mailers, make(BOXES)) for make in (ods, lambda rows: delimited(rows, ";").encode("cp1252"))),
    (weights, delimited(WEIGHED).encode()),
    (read_shop, FULL.encode()),
    (orders, (DEMO / "orders.csv").read_bytes()),
    (weights, (DEMO / "weights.csv").read_bytes()),
    (read_shop, (DEMO / "shop.toml").read_bytes()),
    (read_mapping, MAPPING.encode()),
]
PIECES = (
    b'"',
    b"\n",
    b"\r",
    b",",
    b";",
    b"\0",
    b"\xff\xfe",
    b"9" * 30,
    b"1e999",
    b"=1+1",
    b"</row>",
    b"]",
    b"\xf0\x9f",
    b"-",
)


@dataclass(frozen=True)
class Outcome:
    """Return the outcome, `right`, `sentence` or the fault, and the seconds of processor time."""

    result: str
    seconds: float

    @property
    def is_well(self) -> bool:
        return self.result in ("right", "sentence") and self.seconds <= SLOW


def mutated(number: int, seeds: Seeds = SEEDS) -> tuple[Reader, bytes]:
    """Return the reader and the bytes of that number."""
    chance = random.Random(number)
    reader, raw = seeds[number % len(seeds)]
    corrupted = bytearray(raw)
    for _ in range(chance.choice((1, 1, 2, 4, 16))):
        _mutate(corrupted, chance, seeds)
    return reader, bytes(corrupted)


def _mutate(raw: bytearray, chance: random.Random, seeds: Seeds) -> None:
    here = chance.randrange(len(raw) + 1)
    there = min(len(raw), here + chance.choice((1, 2, 8, 64, 512)))
    kind = chance.randrange(7)
    if kind == 0 and here < len(raw):
        raw[here] ^= 1 << chance.randrange(8)
    elif kind == 1:
        del raw[here:there]
    elif kind == 2:
        raw[here:here] = chance.choice(PIECES)
    elif kind == 3:
        raw[here:here] = raw[here:there] * chance.choice((1, 2, 20))
    elif kind == 4:
        del raw[here:]
    elif kind == 5:
        raw[here:there] = bytes(chance.randrange(256) for _ in range(there - here))
    else:
        other = chance.choice(seeds)[1]
        cut = chance.randrange(len(other) + 1)
        raw[here:there] = other[cut : cut + 200]


def outcome(number: int, folder: Path, seeds: Seeds = SEEDS) -> Outcome:
    """Read the file of that number."""
    reader, raw = mutated(number, seeds)
    path = folder / "mutated"
    path.write_bytes(raw)
    before = time.process_time()
    try:
        reader(path)
        result = "right"
    except Unreadable as unreadable:
        result = "sentence" if unreadable.sentence and unreadable.faults else "a refusal without a word"
    except Exception as error:  # noqa: BLE001 - that is what is looked for
        result = f"{type(error).__name__}: {error}"
    return Outcome(result, time.process_time() - before)


def folder() -> tempfile.TemporaryDirectory[str]:
    """Return a folder for the files."""
    return tempfile.TemporaryDirectory(prefix="mutated-")
