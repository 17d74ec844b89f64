"""A headless run that is killed at any moment and begun again leaves what an undisturbed run leaves.

Each time: a kept store with a first run in it, then files with a changed order and a changed weight, a run over them
that is killed, and a run that is let be. What changed must have been told by one of the two. `KILLS` says how often it must
have been hit before its end: the moments are drawn one from each of as many equal parts of the time that such runs last
just then, and a run that was done first is tried again.
"""

from __future__ import annotations

import csv
import json
import os
import random
import statistics
import subprocess
import sys
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from desk.app.exits import EXIT_CHECK, EXIT_READY
from tests.app.headless import HEAD, SHOP
from tests.faults.forking import forking

KILLS = int(os.environ.get("KILLS", "6"))

# Forks a child for each line it is given, so that not every run imports everything again.
DESK = """
import os, sys, json
from desk.app.run import run
from desk.session.papers import run_results as leave
from desk.session.contents import contents as papers
import desk.paper.label.label, desk.paper.keying.keying_sheet, desk.paper.slip, desk.paper.hand_over, desk.store.store
import desk.rates.lists.chart_file, desk.intake.shop.shop_form_file

for line in sys.stdin:
    child = os.fork()
    if child == 0:
        sys.stdout = open(os.devnull, "w")  # its last line is for people; this pipe carries numbers
        os._exit(run(json.loads(line)))
    os.write(1, f"{child}\\n".encode())
    _, status = os.waitpid(child, 0)
    os.write(1, f"{os.waitstatus_to_exitcode(status)}\\n".encode())
"""


def one_run(running: subprocess.Popen[str], files: Path, folder: Path, kill_after: float | None = None) -> int:
    """Run over the files into the folder's own out and store; the exit code, negative when it was killed."""
    assert running.stdin is not None
    assert running.stdout is not None
    words = [f"--{kind}={files / name}" for kind, name in NAMES.items()]
    words += [f"--out={folder / 'out'}", f"--store={folder / 'kept.sqlite'}", "--date=2026-07-15"]
    running.stdin.write(json.dumps(words) + "\n")
    running.stdin.flush()
    child = int(running.stdout.readline())
    if kill_after is not None:
        time.sleep(kill_after)
        with suppress(ProcessLookupError):  # it was done already
            os.kill(child, 9)
    return int(running.stdout.readline())


NAMES = {"orders": "orders.csv", "weights": "weights.csv", "shop": "shop.toml"}


def write_files(folder: Path, *, changed: bool) -> Path:
    folder.mkdir()
    rows = [
        f"{number},Buyer {number},{number} Quill Row,Bend,OR,97701,US,Card,CD,1,6.50,USD,{'6.00' if changed and number == 3 else '5.00'}"
        for number in range(1, 13)
    ]
    weighed = [f"{number},{'2.7' if changed and number == 5 else '0.7'},oz,A7" for number in range(1, 13)]
    (folder / "orders.csv").write_text("\n".join([HEAD, *rows, ""]))
    (folder / "weights.csv").write_text("\n".join(["order,gross,unit,mailer", *weighed, ""]))
    (folder / "shop.toml").write_text(SHOP.replace("count = 9", "count = 90"))
    return folder


def tables(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text() for path in sorted((folder / "out").glob("*.csv"))}


def changed(folder: Path) -> list[object]:
    reported: list[object] = json.loads((folder / "out" / "summary.json").read_text())["changed"]
    return reported


def to_check(folder: Path) -> list[tuple[str, str]]:
    """What a run asks a person to check, as order and code."""
    with (folder / "out" / "findings.csv").open(encoding="utf-8", newline="") as file:
        return [(row["order"], row["code"]) for row in csv.DictReader(file) if row["severity"] != "note"]


def moments(count: int, chance: random.Random) -> list[float]:
    """As many moments as parts, one somewhere in each, as shares of the whole."""
    return [(part + chance.random()) / count for part in range(count)]


def test_kill_times_are_spread_over_the_whole_run() -> None:
    found = moments(50, random.Random(1))
    assert [int(moment * 50) for moment in found] == list(range(50))
    assert len({moment * 50 % 1 for moment in found}) == 50


@dataclass(slots=True)
class Length:
    """How long a run lasts: the last few that came to their end, since the machine has other things to do too."""

    seconds: list[float]

    def __call__(self) -> float:
        """The median of them."""
        return statistics.median(self.seconds[-5:])


def killed_run(
    running: subprocess.Popen[str], files: tuple[Path, Path], folder: Path, when: tuple[float, Length]
) -> bool:
    """A first run, and one over changed files that is to be killed at that share of its length; False: it was done first."""
    share, length = when
    assert one_run(running, files[0], folder) == EXIT_READY
    began = time.monotonic()
    code = one_run(running, files[1], folder, kill_after=share * length())
    if code == EXIT_CHECK:
        length.seconds.append(time.monotonic() - began)
    assert code in (EXIT_CHECK, -9)
    return code == -9


def test_a_killed_run_can_be_repeated_with_the_same_result(tmp_path: Path) -> None:
    files = write_files(tmp_path / "first", changed=False), write_files(tmp_path / "second", changed=True)
    shares, tried = moments(KILLS, random.Random(20260715)), 0
    with forking(DESK) as running:
        assert one_run(running, files[0], tmp_path / "calm") == EXIT_READY
        began = time.monotonic()
        assert one_run(running, files[1], tmp_path / "calm") == EXIT_CHECK
        length = Length([time.monotonic() - began])
        # The new weight of order 5 is 2 oz more than the first run taught, so it is the one thing to check.
        assert to_check(tmp_path / "calm") == [("5", "heavier-than-contents")]
        whole = changed(tmp_path / "calm")
        assert whole == [{"order": "3"}, {"order": "5", "piece": 1}]
        for share in shares:
            hit = False
            while not hit:
                tried += 1
                assert tried <= 4 * KILLS, "runs end long before the moments drawn for them"
                folder = tmp_path / f"killed-{tried}"
                hit = killed_run(running, files, folder, (share, length))
                before = changed(folder)
                began = time.monotonic()
                assert one_run(running, files[1], folder) == EXIT_CHECK
                length.seconds.append(time.monotonic() - began)
                assert tables(folder) == tables(tmp_path / "calm")
                assert whole in (before, changed(folder))
                assert not list((folder / "out").glob(".*.part"))
        sys.stdout.write(f"{KILLS} runs were killed before their end, of {tried} tried; each begun again was whole\n")
