"""Run a shop's past weighings through the learning code and write its expectations and verdicts (CSV).

Each row is judged before it is learned. Probes are judged after a given number of rows, in file order, and are not
learned. See `scripts/predict-weights` for the files.
"""

from __future__ import annotations

import copy
import csv
import json
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from desk.learning.explanations import Cause  # noqa: E402 - the checkout has to be found first
from desk.learning.learner import Learned, Learner  # noqa: E402
from desk.learning.parcel import Parcel, ShownWeight  # noqa: E402

COLUMNS = "set id mean_g lo_g hi_g verdict cause item over_1oz nets".split()
OUNCE_G = 28.349523125  # NIST Handbook 44, Appendix C
Row = dict[str, str]


def table(file: Path) -> list[Row]:
    """Return the rows of a CSV file by header."""
    with file.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def typed(rows: list[Row], name: str) -> dict[str, float | None]:
    """Return the weights entered, by name; None where nothing was entered."""
    return {row[name]: float(row["entered_g"]) if row["entered_g"].strip() else None for row in rows}


def weighing(row: Row, step_g: float, unit_g: float) -> tuple[Parcel, ShownWeight]:
    """Return one row as a parcel and a reading."""
    lines = (item.rsplit(":", 1) for item in row["items"].split())
    contents: dict[str, int] = {}
    for name, count in lines:
        contents[name] = contents.get(name, 0) + int(count)
    return Parcel(contents, row["mailer"]), ShownWeight(float(row["gross_g"]), step_g, row["shown"], unit_g)


def judged(learner: Learner, kind: str, name: str, parcel: Parcel, reading: ShownWeight, *, teach: bool) -> list[str]:
    """Return one line of predictions; then learn the reading if allowed."""
    nets = learner.nets(parcel, reading)
    verdict = learner.learn(parcel, reading) if teach else learner.follow(parcel, reading)
    hoped = verdict.expected
    cause = verdict.causes[0] if verdict.causes else ""
    item = verdict.items[0] if cause in (Cause.MISSING, Cause.EXTRA) and verdict.items else ""
    grams = (f"{value:.3f}" for value in (hoped.grams, hoped.low_g, hoped.high_g))
    lines = " ".join(f"{sku}:{net}" for sku, net in (nets or {}).items())
    return [kind, name, *grams, verdict.fit, cause, item, f"{hoped.chance_over(OUNCE_G):.4f}", lines]


def known(kind: str, name: str, learned: Learned | None) -> Iterator[list[str]]:
    """Return the learned weight of a product or mailer at the end."""
    if learned is not None:
        yield [kind, name, *(f"{value:.3f}" for value in (learned.grams, learned.low_g, learned.high_g)), *[""] * 5]


def predictions(folder: Path, shop: str) -> Iterator[list[str]]:
    """Return every line of predictions for one shop."""
    head = json.loads((folder / f"{shop}.json").read_text(encoding="utf-8"))
    step_g, unit_g = float(head["division_g"]), OUNCE_G if head["unit"] == "oz" else 1.0
    products = typed(table(folder / f"{shop}.products.csv"), "sku")
    mailers = typed(table(folder / f"{shop}.mailers.csv"), "mailer")
    probes: dict[int, list[Row]] = {}
    for row in table(folder / f"{shop}.probes.csv"):
        probes.setdefault(int(row["after"]), []).append(row)
    learner, orders = Learner.begin(products, mailers), set[str]()
    for count, row in enumerate(table(folder / f"{shop}.csv"), 1):
        parcel, reading = weighing(row, step_g, unit_g)
        yield judged(learner, "stream", row["seq"], parcel, reading, teach=row["order"] not in orders)
        orders.add(row["order"])
        frozen = copy.deepcopy(learner) if count in probes else learner
        frozen.before = None if frozen is not learner else learner.before
        for probe in probes.get(count, ()):
            yield judged(frozen, "probe", probe["probe"], *weighing(probe, step_g, unit_g), teach=False)
    for name in products:
        yield from known("product", name, learner.product(name))
    for name in mailers:
        yield from known("mailer", name, learner.mailer(name))


def main() -> int:
    """Write the predictions."""
    if len(sys.argv) != 4:
        print("usage: scripts/predict-weights DATA_DIR SHOP OUT.csv", file=sys.stderr)
        return 2
    folder, shop, out = sys.argv[1:]
    with Path(out).open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(COLUMNS)
        writer.writerows(predictions(Path(folder), shop))
    return 0


if __name__ == "__main__":
    sys.exit(main())
