"""The two simulated shops of tests/learning/shops, run once through the learning code and scored against the truth."""

from __future__ import annotations

import csv
import io
import json
import lzma
from dataclasses import dataclass
from pathlib import Path

SHOPS = Path(__file__).parent / "shops"
Row = dict[str, str]


def table(name: str) -> list[Row]:
    """Return the rows of one compressed CSV file."""
    return list(csv.DictReader(io.StringIO(lzma.decompress((SHOPS / f"{name}.csv.xz").read_bytes()).decode())))


def public_files(shop: str, folder: Path, rows: int = 5000) -> None:
    """Write what a program may see of a shop, its first rows only, as plain files for `scripts/predict-weights`."""
    (folder / f"{shop}.json").write_text((SHOPS / f"{shop}.json").read_text())
    for kind in ("products", "mailers", "probes"):
        (folder / f"{shop}.{kind}.csv").write_bytes(lzma.decompress((SHOPS / f"{shop}.{kind}.csv.xz").read_bytes()))
    lines = lzma.decompress((SHOPS / f"{shop}.csv.xz").read_bytes()).decode().splitlines(keepends=True)
    (folder / f"{shop}.csv").write_text("".join(lines[: rows + 1]))


@dataclass(frozen=True)
class Judged:
    """One predicted row and its truth."""

    row: Row
    truth: Row
    reading: float
    after: int

    @property
    def flagged(self) -> bool:
        return self.row["verdict"] in ("light", "heavy")

    @property
    def spoke(self) -> bool:
        return self.row["verdict"] != "unknown"

    @property
    def covered(self) -> bool:
        return float(self.row["lo_g"]) <= self.reading <= float(self.row["hi_g"])

    @property
    def error(self) -> float:
        return abs(float(self.row["mean_g"]) - self.reading)


def judged(shop: str, lines: list[list[str]], kind: str, columns: list[str]) -> list[Judged]:
    """Return the predictions of a kind ("stream" or "probe"), each with its truth."""
    by_id = {line[1]: dict(zip(columns, line, strict=True)) for line in lines if line[0] == kind}
    source, truth, key = ("", "truth", "seq") if kind == "stream" else (".probes", "probes-truth", "probe")
    pairs = zip(table(f"{shop}{source}"), table(f"{shop}.{truth}"), strict=True)
    return [
        Judged(by_id[seen[key]], true, float(seen["gross_g"]), int(seen.get("after") or seen["seq"]))
        for seen, true in pairs
        if seen[key] in by_id
    ]


def share(rows: list[bool]) -> float:
    """Return the share of true rows, from 0 to 1."""
    return sum(rows) / len(rows)


def settings(shop: str) -> dict[str, str]:
    """Return unit and step of a shop's scale."""
    loaded: dict[str, str] = json.loads((SHOPS / f"{shop}.json").read_text())
    return loaded
