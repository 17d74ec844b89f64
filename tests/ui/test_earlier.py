"""Pieces that left on earlier days are read when a screen asks, with progress, and can be stopped."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from desk.domain.clock import today
from desk.domain.faults import Refused
from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.papers.hand_over import hand_everything_over, stamp_all
from desk.session.words import figures
from desk.ui import earlier
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from desk.ui.costs.view import AFTER, CostsView
from desk.ui.handover.view import HandOverView
from desk.ui.papers.model import PaperScope, references_of
from tests.conftest import StillClock
from tests.session.made import CARD, HOME, line, shop, weighing
from tests.ui.conftest import copied


@pytest.fixture
def next_day(
    open_desk: Callable[[Path], Desk], weighed_store: Path, tmp_path: Path, clock: StillClock
) -> tuple[Desk, int]:
    """The demo, with everything ready handed over yesterday, also 1041 and 1043; and how many pieces that was."""
    desk = open_desk(copied(weighed_store, tmp_path / "store.sqlite"))
    clock.forward((datetime(2026, 11, 25, 16, tzinfo=UTC) - clock.now()).total_seconds())
    count = hand_everything_over(desk.sitting, desk.pile).count
    clock.forward(timedelta(days=1).total_seconds())
    desk.turn_to(today(clock))
    return desk, count


def test_the_batch_counts_mailed_pieces_and_shows_them_on_request(next_day: tuple[Desk, int], qtbot: QtBot) -> None:
    desk, count = next_day
    view = BatchView(desk)
    qtbot.addWidget(view)
    view.show()
    assert desk.pile.unread == count
    assert f"Handed over {count}" in [word.text() for word in view.list.bar._words.values()]
    assert all(row.status is not PieceStatus.HANDED_OVER for row in view.list.model.shown)
    view.list.toggle_left()
    qtbot.waitUntil(lambda: len(view.list.model.shown) == count)
    assert desk.pile.unread == 0
    assert f"Handed over {count}" in [word.text() for word in view.list.bar._words.values()]


def test_a_search_reads_only_what_matches(next_day: tuple[Desk, int], qtbot: QtBot) -> None:
    desk, count = next_day
    view = BatchView(desk)
    qtbot.addWidget(view)
    view.show()
    view.list.bar.search.setText("1041")
    qtbot.waitUntil(lambda: [row.cells[0] for row in view.list.model.shown] == ["1041"])
    assert desk.pile.unread == count - 1


def test_packages_after_mailing_are_read_when_their_page_opens(next_day: tuple[Desk, int], qtbot: QtBot) -> None:
    desk, count = next_day
    view = CostsView(desk)
    qtbot.addWidget(view)
    view.show()
    assert desk.pile.unread == count
    view.open_page(AFTER)
    assert view.after.rate.text().startswith("Earlier days are still being read.")
    qtbot.waitUntil(lambda: len(view.after.mailed) == count)
    assert "Claim days can change" in view.after.rate.text()


def test_an_earlier_day_of_the_hand_over_is_read_when_chosen(next_day: tuple[Desk, int], qtbot: QtBot) -> None:
    desk, count = next_day
    view = HandOverView(desk)
    qtbot.addWidget(view)
    view.show()
    view.days.toggle()
    qtbot.waitUntil(lambda: sum(len(ids) == 1 for ids in view._pieces) >= count)
    assert desk.pile.unread == 0


def test_papers_can_be_made_again_for_a_typed_number(next_day: tuple[Desk, int]) -> None:
    pile = next_day[0].pile
    here = {verdict.case.key.order for verdict in pile.verdicts.values()}
    assert not {"1041", "1043"} & here
    assert references_of(pile, PaperScope.CHOSEN, "1041") == ({"1041-1"}, ())
    found, unknown = references_of(pile, PaperScope.CHOSEN, "1042-1043, 9999")
    assert (found, unknown) == ({"1042-1", "1043-1"}, ("9999",))


def test_papers_can_be_made_again_for_a_range_with_leading_zeros(
    empty_desk: Desk, open_desk: Callable[[Path], Desk], tmp_path: Path, clock: StillClock
) -> None:
    clock.forward((datetime(2026, 11, 25, 16, tzinfo=UTC) - clock.now()).total_seconds())
    import_shop(empty_desk.sitting, shop())
    import_orders(empty_desk.sitting, [Order(number, HOME, (line(CARD),)) for number in ("0101", "0102")])
    weigh(empty_desk.sitting, [(PieceKey(number), weighing("0.9")) for number in ("0101", "0102")])
    stamp_all(empty_desk.sitting, empty_desk.pile)
    assert hand_everything_over(empty_desk.sitting, empty_desk.pile).count == 2
    clock.forward(timedelta(days=1).total_seconds())
    later = open_desk(tmp_path / "store.sqlite")
    later.turn_to(today(clock))
    assert later.pile.unread == 2
    assert references_of(later.pile, PaperScope.CHOSEN, "0101-0105") == ({"0101-1", "0102-1"}, ())


def test_reading_shows_its_progress_and_can_be_stopped(
    next_day: tuple[Desk, int], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, count = next_day
    monkeypatch.setattr(earlier, "AT_ONCE", 5)
    monkeypatch.setattr(earlier, "TOLD_FROM", 10)
    desk.earlier.read_all()
    qtbot.waitUntil(lambda: bool(desk.states))
    (state,) = desk.states
    ((word, stop),) = state.ways
    stop()
    done = count - desk.pile.unread
    assert (state.words, word) == (f"Reading earlier days: {done} of {count} packages.", "Stop")
    assert done % 5 == 0
    qtbot.wait(50)
    assert (desk.states, desk.pile.unread) == ((), count - done)


def test_a_search_does_not_cancel_the_reading_before_it(
    next_day: tuple[Desk, int], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, count = next_day
    monkeypatch.setattr(earlier, "AT_ONCE", 1)
    desk.earlier.read_all()
    last = desk.earlier._wanted[0]
    desk.earlier.read([last])
    assert len(desk.earlier._wanted) == count
    desk.earlier._read_some()
    assert last in desk.pile.verdicts
    qtbot.waitUntil(lambda: desk.pile.unread == 0)


def test_reading_stops_with_one_message_while_the_server_is_unreachable(
    next_day: tuple[Desk, int], qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk, count = next_day
    reported: list[str] = []
    desk.happened.connect(lambda event: reported.append(event.words))

    def refuse(*_facts: object) -> frozenset[int]:
        raise Refused("The server is away.")

    desk.earlier.read_all()
    with monkeypatch.context() as away:
        away.setattr(desk.pile, "bring", refuse)
        qtbot.wait(50)
    assert reported == ["The server is away."]
    with monkeypatch.context() as away:
        away.setattr("desk.session.pile.earlier.ids_that_left", refuse)
        desk.earlier.read_all()
    assert reported == ["The server is away."] * 2
    assert desk.pile.unread == count
    desk.earlier.read_all()  # it is back
    qtbot.waitUntil(lambda: desk.pile.unread == 0)


def test_progress_is_written_in_the_locale(next_day: tuple[Desk, int], monkeypatch: pytest.MonkeyPatch) -> None:
    desk, _ = next_day
    monkeypatch.setattr(figures, "system_locale", lambda: "de_DE")
    desk.earlier.progressed.emit(1200, 3400)
    assert [state.words for state in desk.states] == ["Reading earlier days: 1.200 of 3.400 packages."]
