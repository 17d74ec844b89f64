"""What comes next on the bench and what was weighed last: which pieces, in which order, with which marks."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.domain.status import PieceStatus
from desk.session.pile.alike import Alike
from desk.session.pile.bulk_changes import set_beside
from desk.ui.bench.lists import RowList
from desk.ui.bench.model import LAST, NEXT, LastRow, NextPieces, NextRow, last_rows, shape_of
from desk.ui.bridge import Desk
from desk.ui.kit.palette import LIGHT
from desk.ui.kit.scheme import choose_scheme
from tests.ui.kit.pictures import grabbed, has


def numbers(rows: list[NextRow]) -> list[str]:
    return [row.number for row in rows]


def piece(desk: Desk, number: str) -> int:
    found = desk.pile.find(number)
    assert found is not None
    return found


def next_pieces(desk: Desk) -> NextPieces:
    return NextPieces(desk.pile, Alike(desk.pile))


def test_pieces_come_in_the_order_they_were_imported(desk: Desk) -> None:
    rows = next_pieces(desk).rows(None)
    assert [row.piece_id for row in rows] == list(desk.pile.verdicts)[:NEXT]
    assert not any(row.is_check for row in rows)


@pytest.mark.parametrize("count", [1, 3, NEXT])
def test_no_more_rows_than_requested_are_listed(desk: Desk, count: int) -> None:
    assert len(next_pieces(desk).rows(None, count)) == count


def test_the_next_pieces_start_after_the_open_one_and_wrap_around(desk: Desk) -> None:
    every = list(desk.pile.verdicts)
    behind = [row.piece_id for row in next_pieces(desk).rows(every[4], 3)]
    assert behind == every[5:8]
    last = [row.piece_id for row in next_pieces(desk).rows(every[-1], 3)]
    assert last == every[:3]


def test_the_open_piece_is_not_listed_as_next(desk: Desk) -> None:
    every = list(desk.pile.verdicts)
    rows = next_pieces(desk).rows(every[2], len(every))
    assert every[2] not in [row.piece_id for row in rows]


def test_a_removed_open_piece_does_no_harm(desk: Desk) -> None:
    rows = next_pieces(desk).rows(987654, 2)
    assert [row.piece_id for row in rows] == list(desk.pile.verdicts)[:2]


@pytest.mark.parametrize("stand", [PieceStatus.LOST, PieceStatus.SET_ASIDE])
def test_a_piece_set_aside_is_not_listed_as_next(desk: Desk, stand: PieceStatus) -> None:
    first = next(iter(desk.pile.verdicts))
    set_beside(desk.sitting, [first], stand)
    assert first not in [row.piece_id for row in next_pieces(desk).rows(None)]
    desk.undo()
    assert next_pieces(desk).rows(None)[0].piece_id == first


def test_pieces_of_one_order_are_distinguished(desk: Desk) -> None:
    both = [number for number, verdict in desk.pile.verdicts.items() if verdict.case.key.order == "1066"]
    called = [desk.pile.verdicts[number].case.number for number in both]
    alone = desk.pile.verdicts[piece(desk, "1041")].case.number
    assert alone == "1041"
    assert called == (["1066"] if len(both) == 1 else [f"1066-{place}" for place in range(1, len(both) + 1)])


def test_the_next_row_has_recipient_and_destination(desk: Desk) -> None:
    assert {verdict.is_abroad for verdict in desk.pile.verdicts.values()} == {True, False}
    for number, verdict in desk.pile.verdicts.items():
        row = next(row for row in next_pieces(desk).rows(None, 99) if row.piece_id == number)
        address = verdict.case.order.address
        assert row.to.startswith((address.recipient or address.company).split(" ")[0])
        assert row.to.endswith("Canada" if address.country == "CA" else "" if verdict.is_abroad else address.region)


def test_without_a_weighed_piece_the_last_list_is_empty(desk: Desk) -> None:
    assert last_rows(desk.pile) == []


def test_the_newest_weighed_piece_is_first(weighed_desk: Desk) -> None:
    pile = weighed_desk.pile
    rows = last_rows(pile)
    turns = [pile.turn_of(row.piece_id) for row in rows]
    assert len(rows) == LAST
    assert turns == sorted(turns, key=lambda turn: turn or 0, reverse=True)
    assert turns[0] == max(turn for number in pile.verdicts if (turn := pile.turn_of(number)) is not None)


def test_every_weighed_piece_has_its_mark_and_status(weighed_desk: Desk) -> None:
    pile = weighed_desk.pile
    marks = {PieceStatus.READY: "fine", PieceStatus.NEEDS_A_LOOK: "look"}
    rows = last_rows(pile, 999)
    assert len(rows) == sum(verdict.case.weighing is not None for verdict in pile.verdicts.values()) > 0
    for row in rows:
        verdict = pile.verdicts[row.piece_id]
        assert row.mark == ("stop" if verdict.is_stopped else marks[verdict.status])
        if verdict.status is PieceStatus.NEEDS_A_LOOK:
            assert row.status == ("blocked" if verdict.is_stopped else "check")
        else:
            assert row.status == str(verdict.status)


def test_the_decided_shape_is_used_before_that_of_the_mailer(weighed_desk: Desk) -> None:
    pile = weighed_desk.pile
    shapes = {
        number: (verdict.quote.shape.shape, shape_of(verdict, "", pile.terms.shop))
        for number, verdict in pile.verdicts.items()
        if verdict.quote is not None
    }
    assert len({wanted for wanted, _ in shapes.values()}) >= 3
    assert [number for number, (wanted, got) in shapes.items() if wanted != got] == []


@pytest.mark.parametrize(
    ("mailer", "shape"), [("A7 envelope", "letter"), ("", "parcel"), ("one that is gone", "parcel")]
)
def test_before_weighing_the_shape_follows_the_mailer(desk: Desk, mailer: str, shape: str) -> None:
    verdict = desk.pile.verdicts[piece(desk, "1043")]
    assert shape_of(verdict, mailer, desk.pile.terms.shop) == shape


# --- as widgets

SOON = NextRow(7, "letter", "1043", "Wren, Aldermoor ME")
CHECK = NextRow(8, "parcel", "1044", "Ivo, Oslo NO", is_check=True)
DONE = LastRow(9, "1045", "2 oz", "fine", "ready")


@pytest.fixture
def rows(qtbot: QtBot) -> RowList:
    choose_scheme("light")
    made = RowList("Next to weigh")
    qtbot.addWidget(made)
    made.resize(260, 200)
    made.show()
    return made


@pytest.mark.parametrize(
    ("row", "name"),
    [
        (SOON, "1043 Wren, Aldermoor ME"),
        (CHECK, "1044 Ivo, Oslo NO check"),
        (DONE, "1045 2 oz ready"),
        (LastRow(9, "1045", "", "look", "look"), "1045 look"),
    ],
)
def test_a_row_is_read_aloud_completely(rows: RowList, row: NextRow | LastRow, name: str) -> None:
    rows.show_rows([row])
    (button,) = rows.buttons
    assert (button.accessibleName(), button.toolTip()) == (name, name)


@pytest.mark.parametrize("by", ["mouse", "key"])
def test_a_row_opens_its_own_piece(qtbot: QtBot, rows: RowList, by: str) -> None:
    opened: list[int] = []
    rows.opened.connect(opened.append)
    rows.show_rows([SOON, CHECK])
    for button in reversed(rows.buttons):
        if by == "mouse":
            qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        else:
            qtbot.keyClick(button, Qt.Key.Key_Space)
    assert opened == [8, 7]


def test_updating_with_the_same_rows_keeps_their_buttons(rows: RowList) -> None:
    rows.show_rows([SOON, CHECK])
    before = rows.buttons
    rows.show_rows([SOON, CHECK])
    assert rows.buttons is before
    rows.show_rows([CHECK])
    assert [button.row for button in rows.buttons] == [CHECK]
    assert before[0].isHidden()


@pytest.mark.parametrize(
    ("mark", "color"), [("fine", LIGHT.fine), ("look", LIGHT.look), ("stop", LIGHT.stop), ("note", LIGHT.soft_ink)]
)
def test_a_weighed_row_has_the_mark_of_its_status(rows: RowList, mark: str, color: str) -> None:
    rows.show_rows([LastRow(9, "1045", "2 oz", mark, "word")])
    rows.buttons[0].resize(260, 36)
    assert has(grabbed(rows.buttons[0]), color)


def test_a_copy_to_check_is_distinguished_from_a_piece_to_weigh(rows: RowList) -> None:
    rows.show_rows([SOON, CHECK])
    for button in rows.buttons:
        button.resize(260, 42)
    assert [has(grabbed(button), LIGHT.look) for button in rows.buttons] == [False, True]
