"""Changes to many pieces at once: size, mailer, service, status; one step, one undo, and none with postage on."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from desk.domain.faults import Refused
from desk.domain.length import Length, Size
from desk.domain.status import PieceStatus
from desk.session.pile.bulk_changes import choose_mailer, choose_service, set_beside, set_size, size_typed
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from desk.store.tables import hand_overs
from tests.session.made import order, weighing

FLAT = Size.of("9", "6", "0.5", "in")


pytestmark = pytest.mark.stocked([order("1"), order("2"), order("3")], weights={"1": weighing(), "2": weighing()})


def sizes(sitting: Sitting) -> list[Size | None]:
    return [one.case.weighing.size if one.case.weighing else None for one in read_stored(sitting)]


def ids(sitting: Sitting) -> list[int]:
    return [one.id for one in read_stored(sitting)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("9 x 6 x 0.5", FLAT),
        (" 9x6×0.5 in", FLAT),
        (" 9x6×0,5 in", None),
        ("9*6*.5", FLAT),
        ("228.6 x 152.4 x 12.7 mm", FLAT),
        ("22.86 x 15.24 x 1.27 cm", FLAT),
        ("9 x 6", None),
        ("9 x 6 x 0", None),
        ("", None),
        ("a x b x c", None),
    ],
)
def test_a_typed_size_is_read(text: str, expected: Size | None) -> None:
    if expected is None:
        with pytest.raises(Refused):
            size_typed(text)
    else:
        assert size_typed(text) == expected


def test_many_pieces_get_a_size_and_keep_their_weights(full: Sitting) -> None:
    before = [one.case.weighing.shown for one in read_stored(full) if one.case.weighing]
    assert set_size(full, ids(full)[:2], FLAT) == 2
    assert sizes(full) == [FLAT, FLAT, None]
    assert [one.case.weighing.shown for one in read_stored(full) if one.case.weighing] == before
    assert FLAT.length == Length.of("9", "in")
    undo(full)
    assert FLAT not in sizes(full)


def test_the_same_size_again_makes_no_step(full: Sitting) -> None:
    set_size(full, ids(full)[:1], FLAT)
    revision = full.store.revision
    assert set_size(full, ids(full)[:1], FLAT) == 0
    assert full.store.revision == revision


def test_no_size_is_changed_if_one_piece_has_no_weight(full: Sitting) -> None:
    with pytest.raises(Refused, match="Weigh these pieces first"):
        set_size(full, ids(full), FLAT)
    assert FLAT not in sizes(full)


def test_no_size_is_changed_if_one_piece_has_its_postage_on(full: Sitting) -> None:
    with full.store.act("Stamps on") as tx:
        hand_overs.put_postage_on(tx, ids(full)[:1])
    with pytest.raises(Refused, match="postage"):
        set_size(full, ids(full)[:2], FLAT)
    assert FLAT not in sizes(full)


@pytest.mark.parametrize(("choose", "what"), [(choose_mailer, "Padded"), (choose_service, "ground-retail")])
def test_a_piece_with_its_postage_on_is_not_changed(
    full: Sitting, choose: Callable[[Sitting, list[int], str], None], what: str
) -> None:
    before = [one.case for one in read_stored(full)]
    with full.store.act("Stamps on") as tx:
        hand_overs.put_postage_on(tx, ids(full)[:1])
    with pytest.raises(Refused, match=r"already has its postage on, so its (mailer|service) can't change"):
        choose(full, ids(full), what)
    assert [(one.case.mailer, one.case.service) for one in read_stored(full)] == [("", "")] * len(before)
    choose(full, ids(full)[1:], what)
    assert [what in (one.case.mailer, one.case.service) for one in read_stored(full)] == [False, True, True]


SAID = [
    (choose_mailer, "Padded", "mailer", "Mailer set to Padded for 2 pieces"),
    (choose_service, "ground-retail", "service", "Service set to ground (retail) for 2 pieces"),
]


def reported(sitting: Sitting, name: str) -> list[object]:
    return [getattr(one.case, name) for one in read_stored(sitting)]


@pytest.mark.parametrize(("choose", "what", "name", "step"), SAID)
def test_a_choice_applies_to_the_selected_pieces_and_is_one_step(
    full: Sitting, choose: Callable[[Sitting, list[int], str], None], what: str, name: str, step: str
) -> None:
    heard: list[object] = []
    full.listeners.append(heard.append)
    choose(full, ids(full)[:2], what)
    assert reported(full, name) == [what, what, ""]
    assert next_steps(full)[0] == step
    assert [changes.pieces for changes in heard] == [set(ids(full)[:2])]  # type: ignore[attr-defined]
    undo(full)
    assert reported(full, name) == ["", "", ""]


@pytest.mark.parametrize(("choose", "what", "name", "step"), SAID)
def test_a_choice_is_undone_with_an_empty_name(
    full: Sitting, choose: Callable[[Sitting, list[int], str], None], what: str, name: str, step: str
) -> None:
    choose(full, ids(full), what)
    choose(full, ids(full)[:1], "")
    assert reported(full, name) == ["", what, what]
    assert next_steps(full)[0].endswith("1 piece")


@pytest.mark.parametrize(
    ("stand", "step"),
    [
        (PieceStatus.SET_ASIDE, "Set aside: 2 pieces"),
        (PieceStatus.CAME_BACK, "Came back: 2 pieces"),
        (PieceStatus.LOST, "Lost: 2 pieces"),
    ],
)
def test_pieces_are_set_aside_and_put_back(full: Sitting, stand: PieceStatus, step: str) -> None:
    set_beside(full, ids(full)[1:], stand)
    assert reported(full, "beside") == [None, stand, stand]
    assert next_steps(full)[0] == step
    set_beside(full, ids(full)[:2], None)
    assert reported(full, "beside") == [None, None, stand]
    assert next_steps(full)[0] == "Put back: 2 pieces"
    undo(full)
    assert reported(full, "beside") == [None, stand, stand]


def test_a_piece_with_its_postage_on_can_be_marked_as_returned(full: Sitting) -> None:
    with full.store.act("Stamps on") as tx:
        hand_overs.put_postage_on(tx, ids(full)[:1])
    set_beside(full, ids(full)[:1], PieceStatus.CAME_BACK)
    assert reported(full, "beside")[0] is PieceStatus.CAME_BACK


@pytest.mark.parametrize(
    "status", [PieceStatus.READY, PieceStatus.LABELED, PieceStatus.HANDED_OVER, PieceStatus.TO_WEIGH]
)
def test_only_a_status_meant_for_it_can_be_set_by_hand(full: Sitting, status: PieceStatus) -> None:
    with pytest.raises(ValueError, match="not a status set by hand"):
        set_beside(full, ids(full), status)
    assert reported(full, "beside") == [None] * 3


@pytest.mark.parametrize("say", [choose_mailer, choose_service, set_beside])
def test_repeating_a_choice_or_choosing_no_pieces_makes_no_step(
    full: Sitting, say: Callable[[Sitting, list[int], object], None]
) -> None:
    word: object = PieceStatus.LOST if say is set_beside else "Padded"
    say(full, ids(full), word)
    revision = full.store.revision
    say(full, ids(full), word)
    say(full, [], word)
    assert full.store.revision == revision


@pytest.mark.parametrize("say", [choose_mailer, choose_service])
def test_a_missing_piece_stops_the_whole_step(full: Sitting, say: Callable[[Sitting, list[int], str], None]) -> None:
    with pytest.raises(KeyError):
        say(full, [*ids(full), 999], "Padded")
    assert reported(full, "mailer") == reported(full, "service") == [""] * 3
