"""The data of a firm sheet, and what is listed first at hand-over. Fee: price list of July 12, 2026, 0.75 a piece."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.lists.firm_sheet import firm_sheet_rows, save_firm_sheet
from tests.session import made


def letters(sitting, count):
    import_shop(sitting, made.shop())
    import_orders(sitting, [made.order(f"100{n}") for n in range(1, count + 1)])
    pile = made.following_pile(sitting)
    for number in range(1, count + 1):
        made.weigh_piece(sitting, number, made.weighing("0.7"))
    return pile


def test_a_firm_sheet_lists_each_letter_and_the_sum_of_the_fees(sitting, tmp_path: Path) -> None:
    pile = letters(sitting, 3)
    words = save_firm_sheet(pile.batch(), pile.terms, tmp_path / "sheet.csv")
    with (tmp_path / "sheet.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [row["reference"] for row in rows] == ["1001-1", "1002-1", "1003-1"]
    assert {row["fee"] for row in rows} == {"0.75"}
    assert words.endswith("Certificates cost $2.25.")  # 3 x 0.75


@pytest.mark.parametrize(("count", "ready"), [(1, "1 is ready"), (2, "2 are ready")])
def test_two_letters_are_too_few_for_a_firm_sheet(sitting, tmp_path: Path, count: int, ready: str) -> None:
    pile = letters(sitting, count)
    with pytest.raises(Refused, match=f"at least 3 untracked packages; {ready}"):
        save_firm_sheet(pile.batch(), pile.terms, tmp_path / "sheet.csv")
    assert not (tmp_path / "sheet.csv").exists()


def test_tracked_packages_are_not_on_the_sheet(sitting) -> None:
    pile = letters(sitting, 4)
    made.weigh_piece(sitting, 1, made.weighing("20"))
    assert pile.verdicts[1].offer.facts.tracked
    assert [row[0] for row in firm_sheet_rows(pile.batch(), pile.terms)] == ["1002-1", "1003-1", "1004-1"]
    made.weigh_piece(sitting, 2, made.weighing("20"))
    assert firm_sheet_rows(pile.batch(), pile.terms) == []  # two are too few for a sheet


@pytest.mark.parametrize(("hours_before", "is_behind"), [(1, True), (70, True), (-1, False)])
def test_a_piece_left_behind_at_an_earlier_hand_over_is_listed_first_and_marked(
    sitting, hours_before: int, is_behind: bool
) -> None:
    pile = letters(sitting, 2)
    left_last = datetime(2026, 7, 24, 16, tzinfo=UTC)
    late, early = left_last + timedelta(hours=2), left_last - timedelta(hours=hours_before)
    first, second = (
        replace(one, case=replace(one.case, weighed_at=at))
        for one, at in zip(pile.batch().verdicts, (late, early), strict=True)
    )
    content = hand_over_content(replace(pile.batch(), verdicts=(first, second), left_last=left_last), pile.terms)
    rows = [row for group in content.groups for row in group.rows]
    assert [row.number for row in rows] == (["1002", "1001"] if is_behind else ["1001", "1002"])
    assert ["left behind" in row.mark for row in rows] == [is_behind, False]
    assert content.acceptance == "Acceptance or pickup number"


def test_without_an_earlier_hand_over_nothing_is_left_behind(sitting) -> None:
    pile = letters(sitting, 1)
    batch = pile.batch()
    old = replace(batch.verdicts[0].case, weighed_at=datetime(2026, 1, 5, tzinfo=UTC))
    content = hand_over_content(replace(batch, verdicts=(replace(batch.verdicts[0], case=old),)), pile.terms)
    assert "left behind" not in content.groups[0].rows[0].mark
