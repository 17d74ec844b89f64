"""The one-page record for contesting an adjustment: reading, step, times, size, price row, and what it proves."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from desk.domain.faults import Refused
from desk.session.money.paid import enter_paid, match_text
from desk.session.papers.weight_record import record_lines, save_weight_record
from tests.session import made

ROOT = Path(__file__).parents[3]


pytestmark = pytest.mark.stocked(
    [made.order("1001"), made.order("1002")], weights={"1001": made.weighing("0.7")}, left=[1]
)


def test_the_record_has_reading_step_size_scale_check_and_adjustment(sitting, pile) -> None:
    enter_paid(sitting, match_text(sitting, "order,amount,type,reason\n1001,1.25,adjustment,weight\n"))
    lines = dict(record_lines(sitting, pile, 1, "5 quarters: off by 0.2"))
    assert lines["Scale reading, gross"] == "0.7 oz"
    assert lines["Scale step"] == "0.1 oz"
    assert lines["Last check of the scale"] == "5 quarters: off by 0.2"
    assert lines["Carrier adjustment"] == "$1.25 weight"
    assert lines["Bills as"] == "1 oz"
    assert lines["Price list"].endswith("row up to 1 oz")
    assert lines["Size"].endswith("the usual size of its mailer")
    assert {"Weighed", "Mailed", "Postage by this list"} <= lines.keys()


def test_the_record_is_one_page_that_states_what_it_proves(sitting, pile, tmp_path: Path) -> None:
    file = tmp_path / "record.pdf"
    save_weight_record(sitting, pile, 1, "", ROOT / "resources", file)
    (page,) = PdfReader(file).pages
    text = page.extract_text()
    for words in ("Weight and size of package 1001\n", "0.7 oz", "none saved", "It does not show what the carrier"):
        assert words in text


def test_a_piece_that_was_not_weighed_has_no_record(sitting, pile, tmp_path: Path) -> None:
    with pytest.raises(Refused, match="1002 was not weighed here"):
        save_weight_record(sitting, pile, 2, "", ROOT / "resources", tmp_path / "record.pdf")
    assert not (tmp_path / "record.pdf").exists()
