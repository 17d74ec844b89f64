from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from pytestqt.modeltest import ModelTester

from desk.domain.changes import EVERYTHING
from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import choose_mailer, set_beside
from desk.ui.batch.pieces.model import ALIGN, DISPLAY, MARK, OUNCES, BatchModel, PieceFilter
from desk.ui.batch.pieces.rows import GROSS, NUMBER, POSTAGE, RECIPIENT, RULER, VERDICT
from desk.ui.bridge import Desk
from desk.ui.kit.table import ACCESSIBLE, BESIDE, TIP
from tests.ui.conftest import ON


@pytest.fixture
def model(desk: Desk, weigh_demo: Callable[[], None]) -> BatchModel:
    weigh_demo()
    made = BatchModel()
    made.take(desk.pile.verdicts, EVERYTHING)
    return made


def column(model: BatchModel, number: int) -> list[str]:
    return [row.cells[number] for row in model.shown]


def test_the_model_passes_the_tests_of_qt(model: BatchModel, qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(model)


def test_the_model_has_a_row_for_every_piece(model: BatchModel, desk: Desk) -> None:
    assert len(model) == model.rowCount() == len(desk.pile.verdicts)
    assert column(model, NUMBER) == sorted(column(model, NUMBER))


def test_cells_have_text_alignment_and_color_by_role(model: BatchModel) -> None:
    row = model.index(0, 0).row()
    assert model.data(model.index(row, RECIPIENT), DISPLAY) == "Ada Quist"
    assert model.data(model.index(row, GROSS), ALIGN) & int(Qt.AlignmentFlag.AlignRight)
    assert model.data(model.index(row, RECIPIENT), ALIGN) is None
    assert model.data(model.index(row, VERDICT), MARK) == "note"
    assert model.data(model.index(row, RULER), OUNCES) == Decimal("0.9")
    assert model.data(model.index(row, RECIPIENT), MARK) is None
    assert model.headerData(POSTAGE, Qt.Orientation.Horizontal) == "Postage"
    assert model.headerData(0, Qt.Orientation.Vertical) is None


def test_a_price_past_its_list_shows_the_last_day_beside_it(model: BatchModel, desk: Desk) -> None:
    past = [at for at, v in desk.pile.verdicts.items() if v.offer and v.offer.chart.is_past(ON)]
    at = model.place_of(past[0])
    assert at is not None
    cell = model.index(at, POSTAGE)
    assert cell.data(BESIDE) is None  # no day was named
    model.take(desk.pile.verdicts, frozenset(), ON)
    assert cell.data(BESIDE) == "Oct 3"
    assert cell.data(ACCESSIBLE) == f"{cell.data()}, price list of July 12, 2026, valid through October 3, 2026"
    assert cell.data(TIP) == "price list of July 12, 2026, valid through October 3, 2026"
    assert sum(bool(row.age.short) for row in model.shown) == len(past)
    model.take(desk.pile.verdicts, frozenset(), date(2026, 10, 3))
    assert cell.data(BESIDE) is None


@pytest.mark.parametrize("status", [PieceStatus.TO_WEIGH, PieceStatus.NEEDS_A_LOOK, PieceStatus.READY])
def test_pieces_are_filtered_by_status(model: BatchModel, desk: Desk, status: PieceStatus) -> None:
    model.show_only(PieceFilter(status))
    expected = [at for at, verdict in desk.pile.verdicts.items() if verdict.status is status]
    assert sorted(row.piece_id for row in model.shown) == sorted(expected)
    assert model.counts()[status] == len(expected) > 0


def test_pieces_are_filtered_by_finding(model: BatchModel) -> None:
    model.show_only(PieceFilter(code="over-one-ounce"))
    assert len(model.shown) == model.codes()["over-one-ounce"] > 0
    assert all("over-one-ounce" in row.codes for row in model.shown)


@pytest.mark.parametrize("text", ["1043", "ruth", "Ames", "BOOKPLATES"])
def test_pieces_are_found_by_number_name_place_and_item(model: BatchModel, text: str) -> None:
    model.show_only(PieceFilter(text=text))
    assert "1043" in column(model, NUMBER)
    assert "1041" not in column(model, NUMBER)


def test_filters_are_combined(model: BatchModel) -> None:
    model.show_only(PieceFilter(PieceStatus.READY, "over-one-ounce", "ames"))
    assert column(model, NUMBER) == ["1043"]
    model.show_only(PieceFilter(PieceStatus.TO_WEIGH, "over-one-ounce", "ames"))
    assert model.shown == []


def test_columns_are_sorted_in_both_directions(model: BatchModel) -> None:
    model.sort(POSTAGE)
    cents = [row.keys[POSTAGE] for row in model.shown]
    assert cents == sorted(cents)  # type: ignore[type-var]
    model.sort(POSTAGE, Qt.SortOrder.DescendingOrder)
    assert [row.keys[POSTAGE] for row in model.shown] == cents[::-1]


def test_changed_rows_are_repainted_without_a_reset(model: BatchModel, desk: Desk) -> None:
    resets: list[None] = []
    repainted: list[int] = []
    model.modelReset.connect(lambda: resets.append(None))
    model.dataChanged.connect(lambda first, _last: repainted.append(first.row()))
    desk.do(choose_mailer, [4], desk.pile.terms.shop.mailers[1].name)
    model.take(desk.pile.verdicts, frozenset({4}))
    assert (resets, repainted) == ([], [model.place_of(4)])


def test_many_changed_rows_are_announced_once(model: BatchModel, desk: Desk) -> None:
    """The table measures its texts at each announcement: 10,000 of them took minutes."""
    repainted: list[tuple[int, int]] = []
    model.dataChanged.connect(lambda first, last: repainted.append((first.row(), last.row())))
    desk.do(choose_mailer, [4, 6, 9], desk.pile.terms.shop.mailers[1].name)
    model.take(desk.pile.verdicts, frozenset({4, 6, 9}))
    places = [place for place in map(model.place_of, (4, 6, 9)) if place is not None]
    assert repainted == [(min(places), max(places))]


def test_a_piece_that_no_longer_matches_the_filter_leaves_the_list(model: BatchModel, desk: Desk) -> None:
    model.show_only(PieceFilter(PieceStatus.TO_WEIGH))
    gone = model.shown[0].piece_id
    desk.do(set_beside, [gone], PieceStatus.SET_ASIDE)
    model.take(desk.pile.verdicts, frozenset({gone}))
    assert model.place_of(gone) is None
    assert len(model) == len(desk.pile.verdicts)


def test_a_removed_piece_leaves_the_model(model: BatchModel, desk: Desk) -> None:
    left = {at: verdict for at, verdict in desk.pile.verdicts.items() if at != 2}
    model.take(left, frozenset({2}))
    assert len(model) == len(left)
    assert model.place_of(2) is None


def test_a_piece_read_later_gets_its_row(desk: Desk) -> None:
    model, here = BatchModel(), {at: verdict for at, verdict in desk.pile.verdicts.items() if at != 2}
    model.take(here, EVERYTHING)
    model.take(desk.pile.verdicts, frozenset({4}))
    assert len(model) == len(desk.pile.verdicts)
    assert model.place_of(2) is not None
