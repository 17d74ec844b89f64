"""Small files for a headless run, and the run itself. Everything is invented."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from desk.app.run import run

HEAD = "order,recipient,address1,city,region,postal_code,country,item,sku,quantity,unit_price,currency,shipping_paid"
ORDERS = f"""{HEAD}
1,Ada Vell,1 Quill Row,Bend,OR,97701,US,Card,CD,1,6.50,USD,5.00
2,Cy Bell,2 Quill Row,Ames,IA,50010,US,Card,CD,2,6.50,USD,5.00
"""
WEIGHTS = "order,gross,unit,mailer\n1,0.7,oz,A7\n2,1.7,oz,A7\n"
SHOP = """[sender]
name = "Sorrel Street Bindery"
address1 = "1 Sorrel Street"
city = "Duluth"
region = "MN"
postal_code = "55802"
country = "US"

[policy]
currency = "USD"
parcel_services = ["ground-retail"]
scale_division = "0.01"

[[mailers]]
name = "A7"
kind = "envelope"
length = "7.25"
width = "5.25"
thickness = "0.06"
size_unit = "in"

[[products]]
sku = "CD"
name = "Card"

[[stamps]]
kind = "forever"
count = 9

[[stamps]]
kind = "additional_ounce"
count = 9
"""


@dataclass
class Desk:
    """A folder with the three files, and runs over them."""

    folder: Path
    orders: str = ORDERS
    weights: str = WEIGHTS
    shop: str = SHOP
    more: Sequence[str] = ()
    files: dict[str, str] = field(default_factory=dict)

    @property
    def out(self) -> Path:
        return self.folder / "out"

    def run(self, *words: str, out: Path | None = None) -> int:
        texts = {"orders.csv": self.orders, "weights.csv": self.weights, "shop.toml": self.shop, **self.files}
        for name, text in texts.items():
            (self.folder / name).write_bytes(text.encode())
        named = ["--orders", self.folder / "orders.csv", "--weights", self.folder / "weights.csv"]
        named += ["--shop", self.folder / "shop.toml", "--out", out or self.out]
        return run([*map(str, named), "--date", "2026-07-15", *words])

    def table(self, name: str, out: Path | None = None) -> list[dict[str, str]]:
        with ((out or self.out) / name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))
