from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from desk.domain.status import PieceStatus
from desk.session.words.facts import country_in_words
from desk.ui.batch.pieces import rows
from desk.ui.batch.pieces.rows import natural, row_of
from desk.ui.bridge import Desk


def row(desk: Desk, number: str) -> rows.BatchRow:
    piece_id = desk.pile.find(number)
    assert piece_id is not None
    return row_of(piece_id, desk.pile.verdicts[piece_id])


def test_an_unweighed_piece_has_no_result(desk: Desk) -> None:
    found = row(desk, "1041")
    assert found.cells == (
        "1041", "Ada Quist", "Duluth MN", "Letterpress card heron", "", "", "", "", "", "", "to weigh",
    )  # fmt: skip
    assert (found.mark, found.ounces, found.status) == (None, None, PieceStatus.TO_WEIGH)


def test_corrections_by_the_import_are_named_before_weighing(desk: Desk) -> None:
    found = row(desk, "1044")
    assert (found.cells[rows.VERDICT], found.mark) == ("postal code corrected", "note")


def test_a_weighed_piece_fills_every_column(desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    desk.read_all()
    found = row(desk, "1043")
    assert found.cells[rows.MAILER :] == (
        "No. 10 envelope", "1.3 oz", "", "2 oz", "letter, over one ounce", "$1.11", "ready",
    )  # fmt: skip
    assert (found.mark, found.ounces) == ("note", Decimal("1.3"))
    assert "over-one-ounce" in found.codes


def test_an_issue_to_check_is_named_in_words(desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    desk.read_all()
    found = row(desk, "1047")
    assert (found.cells[rows.VERDICT], found.mark, found.status) == (
        "stamps requested",
        "look",
        PieceStatus.NEEDS_A_LOOK,
    )


def test_a_place_abroad_names_the_country(desk: Desk) -> None:
    abroad = {at: verdict for at, verdict in desk.pile.verdicts.items() if verdict.is_abroad}
    assert abroad
    for at, verdict in abroad.items():
        country = country_in_words(verdict.case.order.address.country).removeprefix("the ")
        assert row_of(at, verdict).cells[rows.PLACE].endswith(f", {country}")


def test_sorting_keys_agree_with_what_is_shown(desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    desk.read_all()
    found = [row_of(at, verdict) for at, verdict in desk.pile.verdicts.items()]
    assert {one.cells[rows.GROSS] == "" for one in found} == {True, False}
    for one in found:
        assert len(one.keys) == len(one.cells) == len(rows.HEADS)
        assert (one.keys[rows.GROSS] == -1) == (one.cells[rows.GROSS] == "")
        assert (one.keys[rows.POSTAGE] == -1) == (one.cells[rows.POSTAGE] == "")


@pytest.mark.parametrize(("less", "more"), [("9", "10"), ("B-9", "B-12"), ("99", "1000"), ("1047-2", "1047-10")])
def test_numbers_sort_as_people_count(less: str, more: str) -> None:
    assert natural(less) < natural(more)
