"""The cards of the bench and its sounds, each separately."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from desk.session.bench.bench_view import PriceStep, RulerView
from desk.session.pile.packing import Placement
from desk.session.scale.at_the_scale import Live
from desk.ui.bench.figure import Figure
from desk.ui.bench.scale_card import ScaleCard, picture_of
from desk.ui.bench.sounds import BEEPS, Sounds
from desk.ui.bench.virtual_strip import VirtualStrip
from desk.ui.bench.write_card import FEELS, WriteCard
from desk.ui.kit.sound import LEVELS, choose_loudness, choose_sound, is_sound_on, loudness

# --- the card of the scale


@pytest.fixture
def card(qtbot: QtBot) -> ScaleCard:
    made = ScaleCard()
    qtbot.addWidget(made)
    made.show()
    return made


SETTLED = Live("1.3 oz", "settled", "fine", "0.1 oz", "")
ASKING = Live("1.0 oz", "different weight", "look", "0.1 oz", "Is 1.0 oz the weight of this one?", asks=True)
FAULTY = Live("", "faulty", "stop", "", "The scale was zeroed with something on it.", is_faulty=True)


@pytest.mark.parametrize(
    ("live", "weight", "says", "asks"),
    [
        (SETTLED, True, False, False),
        (ASKING, True, True, True),
        (FAULTY, False, False, False),
        (Live(), False, True, False),
    ],
)
def test_the_scale_card_shows_the_reading_or_what_to_do(
    card: ScaleCard, live: Live, weight: bool, says: bool, asks: bool
) -> None:
    card.show_live(live)
    assert (card.weight.isHidden(), card.says.isHidden(), card.take.isHidden()) == (not weight, not says, not asks)
    assert (card.weight.text(), card.state.text(), card.says.text()) == (live.words, live.state, live.says)
    assert card.mark.kind == live.mark


@pytest.mark.parametrize(("mark", "role"), [("fine", "fine"), ("look", "look"), ("stop", "stop"), ("note", "soft_ink")])
def test_the_state_has_a_word_a_shape_and_a_color(card: ScaleCard, mark: str, role: str) -> None:
    card.show_live(Live("1.3 oz", "word", mark, "", ""))
    assert (card.state.text(), card.mark.kind, card.state.role) == ("word", mark, role)


@pytest.mark.parametrize(("step", "words"), [("0.1 oz", "step 0.1 oz"), ("", "")])
def test_the_step_is_reported_where_it_is_known(card: ScaleCard, step: str, words: str) -> None:
    card.show_live(Live("1.3 oz", "settled", "fine", step, ""))
    assert card.step.text() == words


def test_clicking_accepts_the_weight_in_question(qtbot: QtBot, card: ScaleCard) -> None:
    card.show_live(ASKING)
    with qtbot.waitSignal(card.take_asked):
        card.take.click()
    assert card.take.accessibleName() == "Use this weight"


def test_the_ruler_of_a_piece_becomes_a_picture() -> None:
    ruler = RulerView(1.3, 1.25, 1.35, (PriceStep(1.0, "$0.82"), PriceStep(2.0, "$1.11")), "look")
    picture = picture_of(ruler)
    assert (picture.weight, picture.low, picture.high, picture.doubt) == (1.3, 1.25, 1.35, "look")
    assert [(pennant.at, pennant.text) for pennant in picture.pennants] == [(1.0, "$0.82"), (2.0, "$1.11")]


def test_without_a_piece_the_ruler_has_no_weight(card: ScaleCard) -> None:
    card.show_ruler(RulerView(1.3, 1.25, 1.35, (), None))
    card.show_ruler(None)
    assert card.ruler.picture.weight is None
    assert card.ruler.accessibleDescription() == ""


# --- what to write on it


@pytest.fixture
def write(qtbot: QtBot) -> WriteCard:
    made = WriteCard()
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.mark.parametrize("name", FEELS)
def test_each_thickness_key_has_its_own_name(qtbot: QtBot, write: WriteCard, name: str) -> None:
    with qtbot.waitSignal(write.thickness_said) as received:
        write.feels[name].click()
    assert received.args == [name]
    assert write.feels[name].key == FEELS[name]


@pytest.mark.parametrize("which", ["mailer", "stiff", "uneven"])
def test_the_other_keys_request_their_action(qtbot: QtBot, write: WriteCard, which: str) -> None:
    signal = {"mailer": write.mailer_asked, "stiff": write.stiff_said, "uneven": write.uneven_said}[which]
    with qtbot.waitSignal(signal):
        getattr(write, which).click()


@pytest.mark.parametrize(
    ("placement", "words"),
    [
        (Placement("A7", why="chosen"), "A7 (chosen)"),
        (Placement("A7"), "A7"),
        (Placement(), "choose a mailer"),
        (Placement(why="the smallest that is thick enough"), "choose a mailer"),
    ],
)
def test_the_mailer_is_named_with_its_reason(write: WriteCard, placement: Placement, words: str) -> None:
    write.show_placement(placement, stiff=False)
    assert (write.mailer.text(), write.mailer.accessibleName()) == (words, words)


def test_traits_in_force_are_checked_and_nothing_is_offered_without_a_piece(write: WriteCard) -> None:
    write.show_placement(Placement("A7", uneven=True), stiff=True)
    assert (write.stiff.isChecked(), write.uneven.isChecked()) == (True, True)
    assert not any(word.isChecked() for word in write.feels.values())
    write.show_placement(None, stiff=False)
    assert all(word.isHidden() for word in (write.mailer, write.stiff, write.uneven, *write.feels.values()))


def test_recipient_and_time_of_recording_are_shown(write: WriteCard) -> None:
    write.show_piece(Figure("1043", "2 oz"), "Wren Abara, Aldermoor ME", "recorded 12:00")
    shown = {label.text() for label in write.findChildren(QLabel)}
    assert {"Wren Abara, Aldermoor ME", "recorded 12:00"} <= shown


# --- sounds


@pytest.fixture
def beats(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    heard: list[int] = []
    monkeypatch.setattr("desk.ui.bench.sounds.sound", lambda: heard.append(1))
    return heard


@pytest.mark.parametrize("level", ["on", "loud"])
@pytest.mark.parametrize("mark", BEEPS)
def test_marks_have_different_sounds(qtbot: QtBot, beats: list[int], mark: str, level: str) -> None:
    choose_loudness(level)
    sounds = Sounds()
    sounds._timer.setInterval(0)
    sounds.play(mark)
    qtbot.waitUntil(lambda: not sounds._timer.isActive())
    assert len(beats) == BEEPS[mark] * (2 if level == "loud" else 1)


def test_a_new_sound_ends_the_one_before(qtbot: QtBot, beats: list[int]) -> None:
    sounds = Sounds()
    sounds._timer.setInterval(0)
    sounds.play("stop")
    sounds.play("fine")
    qtbot.waitUntil(lambda: not sounds._timer.isActive())
    assert len(beats) == 2  # one of the three, then the one


@pytest.mark.parametrize("level", LEVELS)
def test_loudness_is_saved(level: str) -> None:
    choose_loudness(level)
    assert (loudness(), is_sound_on()) == (level, level != "off")


def test_sound_can_be_turned_off_and_on_again() -> None:
    sounds = Sounds()
    assert [sounds.switch(), sounds.switch()] == [False, True]
    choose_loudness("a level nobody knows")
    assert loudness() == "on"
    choose_sound(False)
    assert not sounds.are_on


# --- the strip of the virtual scale


def test_the_virtual_strip_plays_until_it_is_stopped(qtbot: QtBot) -> None:
    strip, asked = VirtualStrip(), []
    qtbot.addWidget(strip)
    strip.put_asked.connect(lambda: asked.append("put"))
    strip.lift_asked.connect(lambda: asked.append("lift"))
    strip.recorded()  # not playing: nothing is lifted automatically
    assert not strip._pause.isActive()
    strip.play.click()
    assert (strip.plays, strip.play.text(), asked) == (True, "stop autoplay", ["put"])
    strip.recorded()
    strip._pause.timeout.emit()
    assert asked == ["put", "lift"]
    strip.recorded()
    strip.nothing_left()
    assert (strip.plays, strip.play.text(), strip._pause.isActive()) == (False, "autoplay", False)
    strip.nothing_left()
    assert not strip.plays
