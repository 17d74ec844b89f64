"""Twenty pieces weighed in a real window by a program that presses keys as a hand would; the papers are those of a run.

The keys go through the screen's own server, so what is tested is what a keyboard does, focus and all.
"""

from __future__ import annotations

import csv
import subprocess
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from desk.app.run import run
from desk.app.wiring import screens_of
from desk.domain.orders.piece import Weighing
from desk.session.papers.kinds import Paper
from desk.session.papers.making import PaperRequest, make_paper
from desk.ui.bridge import Desk
from desk.ui.window import Window
from tests.conftest import StillClock

pytestmark = pytest.mark.window

NUMBERS = [str(number) for number in range(1041, 1061)]
COLUMNS = "order piece gross unit mailer length width thickness size_unit division stiff uneven".split()
FILES = {Paper.HAND_OVER: "hand-over.pdf", Paper.KEYING_SHEETS: "keying-sheets.pdf"}


def press(qtbot: QtBot, *words: str) -> None:
    """Press keys with xdotool while the window goes on living."""
    keys = subprocess.Popen(["xdotool", *words])
    qtbot.waitUntil(lambda: keys.poll() is not None, timeout=10_000)
    assert keys.returncode == 0


def typed(weighing: Weighing) -> dict[str, object]:
    """A weighing as a row of the weights file."""
    row: dict[str, object] = dict.fromkeys(COLUMNS, "")
    shown, size = weighing.shown, weighing.size
    row |= {"gross": shown.value, "unit": shown.unit, "division": shown.division, "mailer": weighing.mailer}
    if size is not None:
        row |= {"length": size.length.mm, "width": size.width.mm, "thickness": size.thickness.mm, "size_unit": "mm"}
    yes_no = {True: "yes", False: "no", None: ""}
    return row | {"stiff": yes_no[weighing.stiff], "uneven": yes_no[weighing.uneven]}


def weights_of(desk: Desk) -> Iterator[dict[str, object]]:
    """The weights file of what the window recorded, in the order of weighing."""
    for piece in desk.pile.in_turn():
        case = desk.pile.verdicts[piece].case
        if case.weighing is not None:
            yield typed(case.weighing) | {"order": case.key.order, "piece": case.key.piece}


@pytest.fixture
def clock() -> StillClock:
    """A clock on the mailing date."""
    return StillClock(datetime(2026, 11, 25, 12, 0, tzinfo=UTC))


@pytest.mark.timeout(180)
def test_twenty_typed_weights_give_the_documents_of_a_run(
    qtbot: QtBot, desk: Desk, resources: Path, tmp_path: Path
) -> None:
    screens = screens_of(desk)
    window = Window([title for title, _, _ in screens])
    qtbot.addWidget(window)
    window.seat(desk, screens)
    window.show()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    press(qtbot, "windowfocus", "--sync", str(int(window.winId())), "key", "ctrl+2")
    bench = {title: screen for title, _, screen in screens}["Bench"]
    qtbot.waitUntil(bench.isVisible)

    for place, number in enumerate(NUMBERS):
        press(qtbot, "type", "--delay", "15", number)
        press(qtbot, "key", "--delay", "15", "Return")
        qtbot.waitUntil(lambda number=number: bench.write.figure.figure.number == number)
        press(qtbot, "key", "--delay", "15", "m", "1")  # a mailer named here is named in the weights file as well
        qtbot.waitUntil(lambda: bench.placement.is_chosen)
        press(qtbot, "key", "t")
        press(qtbot, "type", "--delay", "15", f"{0.6 + place * 0.35:.1f} oz")
        press(qtbot, "key", "--delay", "15", "Return")
        qtbot.waitUntil(lambda: bench.write.recorded.text().startswith("recorded "))

    rows = list(weights_of(desk))
    assert [row["order"] for row in rows] == NUMBERS
    with (tmp_path / "weights.csv").open("w", newline="") as out:
        writer = csv.DictWriter(out, COLUMNS)
        writer.writeheader()
        writer.writerows(rows)
    demo, left = resources / "demo", tmp_path / "left"
    words = ["--orders", demo / "orders.csv", "--weights", tmp_path / "weights.csv", "--shop", demo / "shop.toml"]
    assert run([str(word) for word in [*words, "--out", left, "--date", desk.sitting.on.isoformat()]]) == 1
    for paper in Paper:
        made = make_paper(PaperRequest(paper, desk.pile.batch(), desk.pile.terms), resources)
        assert made is not None
        name = FILES.get(paper, f"{paper.value.replace(' ', '-')}.pdf")
        assert made.pdf == (left / name).read_bytes(), paper
