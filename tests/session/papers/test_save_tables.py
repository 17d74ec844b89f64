"""The tables saved from the window are those of a headless run."""

from __future__ import annotations

import pytest

from desk.domain.faults import Refused
from desk.session.papers.save_tables import save_tables
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from tests.session.made import ON, case, shop


@pytest.fixture
def terms(rulebook):
    return Terms(shop(), rulebook, ON)


@pytest.fixture
def batch(terms):
    return judge_batch([case("0.7")], terms)


def test_every_table_is_written_with_its_header(batch, terms, tmp_path):
    names = save_tables(batch, terms, tmp_path)
    assert {"pieces.csv", "findings.csv", "postage-list.csv", "left-out.csv"} <= set(names)
    assert sorted(file.name for file in tmp_path.iterdir()) == sorted(names)
    assert (tmp_path / "pieces.csv").read_text().startswith("order,piece,recipient,")
    assert len((tmp_path / "pieces.csv").read_text().splitlines()) == 2


def test_a_missing_folder_is_refused_with_a_sentence(batch, terms, tmp_path):
    with pytest.raises(Refused, match="Can't save"):
        save_tables(batch, terms, tmp_path / "gone")
