"""Learning again in the background: after a correction further back, at the start of a large store, and kept at the end."""

from __future__ import annotations

import pytest

from desk.app.background.relearn import Relearn
from desk.domain.resources import resources
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.learned import memory as memories
from desk.session.learned.memory_file import NAME, recall
from desk.session.pile.earlier import past_weighings
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.store.store import open_store
from desk.ui.bridge import Desk
from tests.session import made


@pytest.fixture
def desk(clock, tmp_path, qapp):
    sitting = Sitting(open_store(tmp_path / "own.sqlite", clock), clock, read_rulebook(resources()), made.ON)
    import_shop(sitting, made.shop())
    import_orders(sitting, [made.order(str(1001 + number)) for number in range(14)])
    desk = Desk(sitting, Pile(sitting), resources())
    for piece_id in list(desk.pile.verdicts)[:12]:
        made.weigh_piece(sitting, piece_id, made.weighing("0.7"))
    yield desk
    sitting.store.close()


def first(desk):
    return next(iter(desk.pile.verdicts))


def test_correcting_an_older_weight_learns_everything_again(desk, tmp_path, qtbot):
    Relearn(desk, tmp_path)
    made.weigh_piece(desk.sitting, first(desk), made.weighing("0.9"))
    assert desk.pile.memory.stale
    qtbot.waitUntil(lambda: not desk.pile.memory.stale)
    expected = memories.Memory.rebuild(desk.pile.terms.shop, past_weighings(desk.pile.sitting, desk.pile.terms.shop))
    assert desk.pile.memory.learner.product("CD") == expected.learner.product("CD")


def test_a_large_store_opens_first_and_learns_in_the_background(desk, tmp_path, qtbot, monkeypatch):
    monkeypatch.setattr(memories, "LEARN_AT_ONCE", 11)
    desk.pile = Pile(desk.sitting)
    assert desk.pile.memory.verdicts == {}
    Relearn(desk, tmp_path)
    qtbot.waitUntil(lambda: len(desk.pile.memory.verdicts) == 12)


def test_learned_weights_are_saved_when_the_window_closes(desk, tmp_path):
    Relearn(desk, tmp_path)
    desk.closing.emit()
    assert (tmp_path / NAME).exists()
    assert recall(desk.sitting, desk.pile.terms.shop, tmp_path) is not None
