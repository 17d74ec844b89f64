from __future__ import annotations

from collections.abc import Callable

import pytest

from desk.domain.orders.order import Order
from desk.session.importing.import_orders import import_orders
from desk.session.papers.hand_over import hand_everything_over
from desk.session.papers.kinds import Paper
from desk.session.papers.making import LeftOut, MadePaper
from desk.ui.bridge import Desk
from desk.ui.papers.model import MOST_SHOWN, PaperScope, as_typed, count_words, left_out_words, pieces_of, references_of
from tests.session.made import CARD, HOME, line


def test_documents_are_for_all_or_only_for_ready_pieces(desk: Desk, weigh_demo: Callable[[], None]) -> None:
    every = frozenset(verdict.case.key.reference for verdict in desk.pile.verdicts.values())
    assert references_of(desk.pile, PaperScope.ALL) == (every, ())
    assert references_of(desk.pile, PaperScope.READY) == (frozenset(), ())
    weigh_demo()
    ready, _ = references_of(desk.pile, PaperScope.READY)
    assert ready is not None
    assert "1041-1" in ready
    assert len(ready) == sum(str(verdict.status) == "ready" for verdict in desk.pile.verdicts.values())


@pytest.mark.parametrize(
    ("typed", "found", "unknown"),
    [
        ("", set(), ()),
        ("1041", {"1041-1"}, ()),
        ("1041, 1043-1", {"1041-1", "1043-1"}, ()),
        ("1041-1043", {"1041-1", "1042-1", "1043-1"}, ()),
        ("1066", {"1066-1", "1066-2"}, ()),
        ("1041 9999 x", {"1041-1"}, ("9999", "x")),
    ],
)
def test_selected_pieces_are_typed_by_number(
    desk: Desk, weigh_demo: Callable[[], None], typed: str, found: set[str], unknown: tuple[str, ...]
) -> None:
    weigh_demo()
    assert references_of(desk.pile, PaperScope.CHOSEN, typed) == (frozenset(found), unknown)


def test_a_number_with_a_space_is_found_between_commas(desk: Desk) -> None:
    import_orders(desk.sitting, [Order("B 12", HOME, (line(CARD),)), Order("B 13", HOME, (line(CARD),))])
    typed = "B 12-1, B 13, 1041 1042"
    assert references_of(desk.pile, PaperScope.CHOSEN, typed) == ({"B 12-1", "B 13-1", "1041-1", "1042-1"}, ())


def test_a_printing_of_numbers_with_commas_and_quotes_is_shown_again(desk: Desk) -> None:
    numbers = ("A,12", 'B "13"', '"C', "D 14")
    import_orders(desk.sitting, [Order(number, HOME, (line(CARD),)) for number in numbers])
    printed = [f"{number}-1" for number in numbers]
    assert references_of(desk.pile, PaperScope.CHOSEN, as_typed([*printed, "1041-1"])) == ({*printed, "1041-1"}, ())


def test_a_number_with_a_comma_is_typed_in_quotes(desk: Desk) -> None:
    import_orders(desk.sitting, [Order("A,12", HOME, (line(CARD),))])
    assert references_of(desk.pile, PaperScope.CHOSEN, '1041, "A,12"') == ({"1041-1", "A,12-1"}, ())
    assert references_of(desk.pile, PaperScope.CHOSEN, '1041, "A') == ({"1041-1"}, ("A",))


def test_pieces_are_found_by_their_references(desk: Desk) -> None:
    (piece,) = pieces_of(desk.pile, ["1041-1", "nobody"])
    assert desk.pile.verdicts[piece].case.key.reference == "1041-1"


@pytest.mark.parametrize(
    ("pages", "pieces", "left", "words"),
    [(1, 1, 0, "1 page, 1 piece"), (3, 2, 2, "3 pages, 2 pieces, 2 left out"), (1, 0, 0, "1 page, 0 pieces")],
)
def test_documents_are_counted_in_words(pages: int, pieces: int, left: int, words: str) -> None:
    made = MadePaper(
        Paper.SLIPS, b"", (tuple(map(str, range(pieces))), *((),) * (pages - 1)), (LeftOut("2", "no"),) * left
    )
    assert count_words(made) == words


def test_reasons_are_reported_once_with_their_pieces() -> None:
    many = [LeftOut(str(number), "No.") for number in range(MOST_SHOWN + 3)]
    lines = left_out_words(
        [LeftOut("a", "Not weighed yet."), LeftOut("b", "Stop."), LeftOut("c-1", "Stop."), *many], {"c-1": "c"}
    )
    assert lines[:2] == [("Not weighed yet.", "a"), ("Stop.", "b, c")]
    assert (lines[2][0], lines[2][1].endswith(" and 3 more")) == ("No.", True)


def test_documents_for_all_pieces_exclude_mailed_ones(weighed_desk: Desk) -> None:
    before, _ = references_of(weighed_desk.pile, PaperScope.ALL)
    ready, _ = references_of(weighed_desk.pile, PaperScope.READY)
    weighed_desk.do(hand_everything_over, weighed_desk.pile)
    assert references_of(weighed_desk.pile, PaperScope.ALL)[0] == before - ready
    assert references_of(weighed_desk.pile, PaperScope.CHOSEN, min(ready))[0] == {min(ready)}  # by its number it can be
