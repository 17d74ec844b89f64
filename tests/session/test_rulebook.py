"""The shipped rulebook is whole, and a damaged chart is named by file and line."""

import shutil
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.session.rulebook import Rulebook, read_rulebook
from tests.session import made


def test_the_rulebook_has_every_part(rulebook: Rulebook) -> None:
    assert rulebook.countries.labels["FR"].title() == "France"
    assert "490900" in rulebook.codes.descriptions
    assert {"letter-stamped", "flat", "ground-retail", "intl-package"} <= set(rulebook.charts.services())
    assert rulebook.zones.find("55802", "97701").zone == "6"
    assert rulebook.destinations.barred("FR", "69002", "Lyon") is None


def test_the_price_of_the_day_comes_from_the_list_of_the_day(rulebook: Rulebook) -> None:
    chart = rulebook.charts.in_force("letter-stamped", made.ON)
    assert chart is not None
    assert (chart.chart, chart.currency) == ("us-2026-07-12", "USD")


def test_a_damaged_chart_is_named_with_its_line(resources: Path, tmp_path: Path) -> None:
    for name in ("charts", "zones", "destinations"):
        shutil.copytree(resources / name, tmp_path / name)
    damaged = tmp_path / "charts" / "us-2026-07-12" / "ground.csv"
    lines = damaged.read_text(encoding="utf-8").splitlines()
    lines[1] = lines[1].rsplit(",", 1)[0] + ",dear"
    damaged.write_text("\n".join(lines) + "\n", encoding="utf-8")
    with pytest.raises(Unreadable) as reported:
        read_rulebook(tmp_path)
    assert {fault.line for fault in reported.value.faults if "ground.csv" in fault.file} == {2}
