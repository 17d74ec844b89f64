"""Said of many pieces at once: sizes as typed, mailer and service; one step, one undo, and none once postage is on."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from desk.domain.faults import Refused
from desk.domain.length import Length, Size
from desk.domain.piece import PieceKey
from desk.session.cases import read_stored
from desk.session.set_many import choose_mailer, choose_service, set_size, size_typed
from desk.session.sitting import Sitting
from desk.session.take_in import take_in_orders, take_in_shop
from desk.session.undo import undo
from desk.session.weigh import weigh
from desk.store import hand_overs
from tests.session.made import order, shop, weighing

FLAT = Size.of("9", "6", "0.5", "in")


@pytest.fixture
def full(sitting: Sitting) -> Sitting:
    take_in_shop(sitting, shop())
    take_in_orders(sitting, [order("1"), order("2"), order("3")])
    weigh(sitting, [(PieceKey("1"), weighing()), (PieceKey("2"), weighing())])
    return sitting


def sizes(sitting: Sitting) -> list[Size | None]:
    return [one.case.weighing.size if one.case.weighing else None for one in read_stored(sitting)]


def ids(sitting: Sitting) -> list[int]:
    return [one.id for one in read_stored(sitting)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("9 x 6 x 0.5", FLAT),
        (" 9x6×0,5 in", FLAT),
        ("9*6*.5", None),
        ("228.6 x 152.4 x 12.7 mm", FLAT),
        ("22.86 x 15.24 x 1.27 cm", FLAT),
        ("9 x 6", None),
        ("9 x 6 x 0", None),
        ("", None),
        ("a x b x c", None),
    ],
)
def test_a_typed_size(text: str, expected: Size | None) -> None:
    if expected is None:
        with pytest.raises(Refused):
            size_typed(text)
    else:
        assert size_typed(text) == expected


def test_many_take_a_size_and_keep_their_reading(full: Sitting) -> None:
    before = [one.case.weighing.shown for one in read_stored(full) if one.case.weighing]
    assert set_size(full, ids(full)[:2], FLAT) == 2
    assert sizes(full) == [FLAT, FLAT, None]
    assert [one.case.weighing.shown for one in read_stored(full) if one.case.weighing] == before
    assert FLAT.length == Length.of("9", "in")
    undo(full)
    assert FLAT not in sizes(full)


def test_the_same_size_again_is_no_step(full: Sitting) -> None:
    set_size(full, ids(full)[:1], FLAT)
    revision = full.store.revision
    assert set_size(full, ids(full)[:1], FLAT) == 0
    assert full.store.revision == revision


def test_nothing_is_kept_when_one_has_no_weight(full: Sitting) -> None:
    with pytest.raises(Refused, match="Weigh these pieces first"):
        set_size(full, ids(full), FLAT)
    assert FLAT not in sizes(full)


def test_nothing_is_kept_when_one_has_its_postage(full: Sitting) -> None:
    with full.store.act("Stamps on") as tx:
        hand_overs.put_postage_on(tx, ids(full)[:1])
    with pytest.raises(Refused, match="postage"):
        set_size(full, ids(full)[:2], FLAT)
    assert FLAT not in sizes(full)


@pytest.mark.parametrize(("choose", "what"), [(choose_mailer, "Padded"), (choose_service, "ground-retail")])
def test_what_postage_was_put_on_for_is_not_changed(
    full: Sitting, choose: Callable[[Sitting, list[int], str], None], what: str
) -> None:
    before = [one.case for one in read_stored(full)]
    with full.store.act("Stamps on") as tx:
        hand_overs.put_postage_on(tx, ids(full)[:1])
    with pytest.raises(Refused, match=r"has its postage on it, so its (mailer|service) stays"):
        choose(full, ids(full), what)
    assert [(one.case.mailer, one.case.service) for one in read_stored(full)] == [("", "")] * len(before)
    choose(full, ids(full)[1:], what)
    assert [what in (one.case.mailer, one.case.service) for one in read_stored(full)] == [False, True, True]
