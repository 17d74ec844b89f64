"""Chart files damaged at random: always faults with a file and a sentence, or a chart; never anything else."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.faults import FileFault
from desk.rates.lists.chart_file import read_chart
from tests.rates.chart_folder import CELLS, GROUPS, HEAD, write_chart

ODD = ["", ",", '"', "\n", "-1", "1,20", "[", "]", "=", "0", "9" * 40, "1e9", "\x00", "é", "true", "2026-13-40", "5-3"]


def _damaged(draw, text):
    """The text with a stretch of it replaced, up to three times."""
    for _ in range(draw(st.integers(0, 3))):
        start = draw(st.integers(0, len(text)))
        end = draw(st.integers(start, min(start + 12, len(text))))
        text = text[:start] + draw(st.sampled_from(ODD)) + text[end:]
    return text


@st.composite
def charts(draw):
    """The three files of the invented chart, damaged."""
    return tuple(_damaged(draw, text) for text in (HEAD, CELLS, GROUPS))


@settings(max_examples=300)
@given(files=charts())
def test_a_damaged_price_list_gives_faults_or_a_price_list(files):
    faults: list[FileFault] = []
    with tempfile.TemporaryDirectory() as folder:
        read = read_chart(write_chart(Path(folder), *files) / "xx-2026", faults)
    for fault in faults:
        assert fault.file.startswith("xx-2026/")
        assert fault.expected
        assert str(fault).startswith(fault.file)
    if not faults:
        assert all(chart.rows and chart.shapes for chart in read.services)
        assert all(row.price.minor >= 0 and row.max_weight.grams > 0 for chart in read.services
                   for rows in chart.rows.values() for row in rows)  # fmt: skip
