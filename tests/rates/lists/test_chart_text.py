"""A written chart folder is read back as the same lists."""

from dataclasses import replace

import pytest

from desk.rates.lists.chart import Charts
from desk.rates.lists.chart_file import read_chart
from desk.rates.lists.chart_text import chart_texts
from tests.rates.chart_folder import shipped, write_chart


def written(folder, lists):
    """Return the lists after writing and reading them."""
    folder.mkdir()
    for name, text in chart_texts(lists).items():
        (folder / name).write_text(text, encoding="utf-8")
    faults = []
    read = read_chart(folder, faults)
    assert faults == []
    return {chart.service: chart for chart in read.services}


@pytest.mark.parametrize("name", ["us-2025-10-05", "us-2026-07-12"])
def test_every_shipped_chart_is_read_back_unchanged(tmp_path, name):
    lists = shipped().of_chart(name)
    read = written(tmp_path / name, lists)
    assert len(read) == len(lists) > 10
    for chart in lists:
        assert read[chart.service] == replace(chart, dimensional=read[chart.service].dimensional), chart.service


def test_a_list_in_grams_and_another_currency_is_read_back_unchanged(tmp_path):
    lists = Charts.read(write_chart(tmp_path)).of_chart("xx-2026")
    assert written(tmp_path / "new", lists) == {chart.service: replace(chart, chart="new") for chart in lists}


def test_a_source_may_contain_quotation_marks(tmp_path):
    (chart, *_) = Charts.read(write_chart(tmp_path)).of_chart("xx-2026")
    odd = replace(chart, source='the "blue" list\\ of März\n')
    assert written(tmp_path / "new", [odd])[chart.service].source == odd.source


def test_lists_of_two_days_cannot_be_written_to_one_folder():
    (first,) = [chart for chart in shipped().of_chart("us-2026-07-12") if chart.service == "flat"]
    (second,) = [chart for chart in shipped().of_chart("us-2025-10-05") if chart.service == "flat"]
    with pytest.raises(ValueError, match="one first day"):
        chart_texts([first, second])
