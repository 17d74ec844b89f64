"""The demo batch, headless: what `tare-and-tag` does where there is no screen."""

from __future__ import annotations

from importlib.resources import as_file
from pathlib import Path

from desk.app.exits import EXIT_CHECK
from desk.app.run import run
from desk.domain.resources import resources

DEMO_DATE = "2026-11-25"
FOLDER = Path("demo-output")


def run_demo(folder: Path = FOLDER) -> int:
    """Process the demo batch of the Sorrel Street Bindery, say where its papers are, and return the exit code."""
    with as_file(resources() / "demo") as demo:
        files = ["--orders", demo / "orders.csv", "--weights", demo / "weights.csv", "--shop", demo / "shop.toml"]
        code = run([str(word) for word in [*files, "--date", DEMO_DATE, "--out", folder]])
    if code > EXIT_CHECK:
        return code
    print("The demo batch of the Sorrel Street Bindery (invented) is done.")
    print(f"  labels   {(folder / 'labels.pdf').resolve()}")
    print(f"  slips    {(folder / 'slips.pdf').resolve()}")
    print(f"  tables   {(folder / 'pieces.csv').resolve()} and the others next to it")
    return 0
