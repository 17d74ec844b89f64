"""Papers of the window equal those of a headless run over the same files, byte for byte."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from desk.app.run import run
from desk.session.papers.kinds import Paper
from desk.session.papers.making import PaperRequest, make_paper
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.store.store import open_store
from tests.conftest import StillClock

ON = date(2026, 7, 15)


@pytest.fixture(scope="module")
def left(resources: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the headless run of the demo leaves, with its store."""
    folder, demo = tmp_path_factory.mktemp("left"), resources / "demo"
    words = ["--orders", demo / "orders.csv", "--weights", demo / "weights.csv", "--shop", demo / "shop.toml"]
    words += ["--out", folder, "--date", ON.isoformat(), "--store", folder / "kept.sqlite"]
    assert run([str(word) for word in words]) == 1
    return folder


@pytest.mark.parametrize("paper", list(Paper))
def test_papers_from_the_window_equal_those_of_a_run(
    left: Path, resources: Path, clock: StillClock, paper: Paper
) -> None:
    store = open_store(left / "kept.sqlite", clock)
    pile = Pile(Sitting(store, clock, read_rulebook(resources), ON))
    made = make_paper(PaperRequest(paper, pile.batch(), pile.terms), resources)
    store.close()
    assert made is not None
    assert made.pdf == (left / paper.file_name).read_bytes()
