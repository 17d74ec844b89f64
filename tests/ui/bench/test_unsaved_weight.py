"""A store that cannot write at the moment: the bench asks, does not advance, and Enter saves the weight."""

from __future__ import annotations

import pytest

from desk.domain.faults import Refused


@pytest.fixture
def busy(bench, monkeypatch):
    """A bench whose store refuses to write; called, it writes again."""

    def refuse(_note):
        raise Refused("The store is busy.")

    monkeypatch.setattr(bench.desk.sitting.store, "write", refuse)
    return monkeypatch.undo


def test_the_bench_does_not_advance_before_the_weight_is_saved(bench, busy):
    messages, not_kept = [], []
    bench.desk.happened.connect(lambda event: messages.append((event.words, event.mark)))
    bench.desk.scale.not_kept.connect(not_kept.append)
    bench.press("g")
    bench.pan("0")
    bench.open("1043")
    piece = bench.screen.piece
    bench.pan("1.3")
    assert messages == [("The store is busy.", "stop")]
    assert not_kept == [piece]
    assert bench.desk.scale.live.asks
    assert bench.case("1043").weighing is None
    bench.pan("0")
    assert bench.screen.piece == piece
    busy()
    bench.pan("1.3")
    assert str(bench.case("1043").weighing.shown.value) == "1.3"
    bench.pan("0")
    assert bench.screen.piece != piece


def test_enter_saves_the_weight_while_the_piece_is_on_the_scale(bench, busy):
    bench.pan("0")
    bench.open("1043")
    piece = bench.screen.piece
    bench.pan("1.3")
    busy()
    bench.enter()
    assert bench.screen.piece == piece
    assert str(bench.case("1043").weighing.shown.value) == "1.3"
    assert not bench.desk.scale.live.asks
