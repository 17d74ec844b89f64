"""One weighing at a time: the textbook update, the effect of a wrong reading, and what never changes."""

from __future__ import annotations

import copy

import numpy as np
import pytest

from desk.learning.explanations import Cause, explain
from desk.learning.learner import Learner, is_plausible
from desk.learning.parameters import Parameters
from desk.learning.parcel import Parcel, ShownWeight
from desk.learning.verdicts import Fit
from desk.learning.view import view

TRUE = {"notebook": 180.0, "card": 12.0, "pin": 9.0, "print": 24.0}
BAG, BOX = 15.0, 60.0


def parcel(mailer: str = "bag", **contents: int) -> Parcel:
    return Parcel(contents, mailer)


def true_grams(item: Parcel) -> float:
    return sum(TRUE[name] * count for name, count in item.contents.items()) + (BAG if item.mailer == "bag" else BOX)


def reading(grams: float) -> ShownWeight:
    return ShownWeight(grams, 1.0, f"{grams:.0f}")


def history(count: int, noise: float = 0.0) -> list[tuple[Parcel, ShownWeight]]:
    chance = np.random.default_rng(7)
    rows = []
    for _ in range(count):
        names = chance.choice(list(TRUE), size=int(chance.integers(1, 4)), replace=False)
        contents = {str(name): int(chance.integers(1, 3)) for name in names}
        item = Parcel(contents, "bag" if chance.random() < 0.7 else "box")
        grams = true_grams(item) + noise * chance.standard_normal()
        rows.append((item, ShownWeight(grams, 1e-6 if not noise else 1.0)))
    return rows


def taught(count: int = 200) -> Learner:
    return taught_by(history(count, noise=1.0))


def taught_by(weighings: list[tuple[Parcel, ShownWeight]]) -> Learner:
    """Return a new learner that learned these weighings in order."""
    learner = Learner.begin(dict.fromkeys(TRUE), {"bag": None, "box": None})
    for item, shown in weighings:
        learner.learn(item, shown)
    return learner


def explained(learner: Learner, item: Parcel, grams: float) -> float:
    """Return the weight of "this is the reading of the previous parcel"."""
    shown = reading(grams)
    return explain(learner.state, view(learner.state, item, shown.step_g), shown, learner.before).causes[Cause.REPEATED]


def test_an_accepted_reading_gives_the_textbook_kalman_update():
    learner = taught(60)
    state, item = learner.state, parcel(card=2, pin=1)
    seen = view(state, item, 1.0)
    gain = seen.pull / seen.variance
    before = state.mean.copy()
    learner.learn(item, reading(60.0), right=True)
    assert state.mean == pytest.approx(before + gain * (60.0 - seen.mean), abs=1e-9)


def test_a_reading_marked_wrong_changes_no_weight():
    learner = taught(60)
    before = learner.state.mean.copy()
    learner.learn(parcel(card=2, pin=1), reading(90.0), right=False)
    assert (learner.state.mean == before).all()


def test_four_hundred_weighings_without_noise_find_every_weight():
    learner = taught_by(history(400))
    for name, grams in TRUE.items():
        learned = learner.product(name)
        assert learned is not None
        assert learned.grams == pytest.approx(grams, abs=0.2)


def test_one_absurd_reading_changes_no_weight_after_sixty_good_ones():
    learner = taught(60)
    before = learner.state.mean.copy()
    learner.learn(parcel(card=1, notebook=1), reading(true_grams(parcel(card=1, notebook=1)) + 500))
    assert np.abs(learner.state.mean - before).max() < 0.5


def test_the_same_history_gives_the_same_state():
    one, other = taught(), taught()
    assert (one.state.mean == other.state.mean).all()
    assert (one.state.covariance == other.state.covariance).all()


def test_the_covariance_stays_symmetric_with_a_positive_diagonal():
    covariance = taught(600).state.covariance
    assert np.abs(covariance - covariance.T).max() < 1e-6
    assert covariance.diagonal().min() > 0


def test_a_missing_item_is_light_and_named():
    learner = taught()
    verdict = learner.judge(parcel(card=1, print=1), reading(true_grams(parcel(card=1))))
    assert (verdict.fit, verdict.causes[0], verdict.items) == (Fit.LIGHT, Cause.MISSING, ("print",))


def test_correct_contents_are_ok():
    learner = taught()
    assert learner.judge(parcel(card=1, print=1), reading(true_grams(parcel(card=1, print=1)))).fit is Fit.OK


def test_no_advice_before_each_part_was_weighed_three_times():
    learner = taught()
    learner.state.add_product("mug")
    for _ in range(3):
        verdict = learner.learn(parcel(mug=1), reading(45.0))
        assert verdict.fit is Fit.UNKNOWN
    assert learner.judge(parcel(mug=1), reading(45.0)).fit is not Fit.UNKNOWN


def test_no_advice_while_a_weight_is_less_certain_than_the_packing():
    learner = taught()
    for _ in range(4):
        assert learner.learn(parcel(mug=1), reading(315.0)).fit is Fit.UNKNOWN


def test_two_neighbors_that_fit_each_other_are_reported_as_swapped():
    learner = taught()
    first, second = parcel(card=1), parcel(print=2, notebook=1)
    learner.follow(first, reading(true_grams(second)))
    verdict = learner.follow(second, reading(true_grams(first)))
    assert verdict.causes[0] is Cause.SWAPPED


def test_a_repeated_weight_is_reported_only_where_two_parcels_should_differ():
    learner = taught()
    first, other = parcel(card=1), parcel(card=1, pin=1)
    learner.follow(first, reading(true_grams(first)))
    verdict = learner.judge(other, reading(true_grams(first)))
    assert (verdict.fit, Cause.REPEATED in verdict.causes) == (Fit.LIGHT, True)
    assert explained(learner, other, true_grams(first)) > 0
    assert explained(learner, first, true_grams(first)) == 0


def test_identical_cards_are_ok_from_the_first_verdict_on():
    learner = Learner.begin({"card": None}, {"bag": None})
    verdicts = [learner.learn(parcel(card=1), ShownWeight(19.84, 0.28, "0.7", 28.35)).fit for _ in range(12)]
    assert verdicts[-1] is Fit.OK
    assert set(verdicts) == {Fit.UNKNOWN, Fit.OK}


def test_a_reprint_is_followed_and_reported():
    learner = taught(300)
    for _ in range(20):
        learner.learn(parcel(notebook=1), reading(BAG + 200))
    assert any(change.name == "notebook" and change.grams > 5 for change in learner.changes)
    learned = learner.product("notebook")
    assert learned is not None
    assert learned.grams == pytest.approx(200, abs=2)


@pytest.mark.parametrize("grams", [0.0, -5.0, 50_000.0, float("nan")])
def test_nothing_is_learned_from_impossible_readings(grams):
    learner = taught(60)
    before = copy.deepcopy(learner.state)
    learner.learn(parcel(card=1), ShownWeight(grams, 1.0))
    assert (learner.state.mean == before.mean).all()
    assert learner.state.weighings == before.weighings


@pytest.mark.parametrize(("grams", "plausible"), [(32_000.0, True), (32_000.1, False), (0.1, True), (0.0, False)])
def test_a_parcel_weighs_more_than_nothing_and_at_most_seventy_pounds(grams, plausible):
    assert is_plausible(parcel(card=1), ShownWeight(grams, 1.0)) is plausible


@pytest.mark.parametrize(("count", "plausible"), [(1, True), (0, False), (-1, False)])
def test_nothing_is_learned_from_a_parcel_without_products(count, plausible):
    assert is_plausible(parcel(card=count, pin=1), reading(20)) is plausible


def test_an_empty_parcel_and_unknown_names_do_no_harm():
    learner = taught(60)
    assert not is_plausible(Parcel({}, "bag"), reading(20))
    assert learner.judge(Parcel({}, "bag"), reading(20)).fit in (Fit.OK, Fit.HEAVY, Fit.LIGHT)
    assert learner.judge(Parcel({"never seen": 2}, "new box"), reading(90)).fit is Fit.UNKNOWN


@pytest.mark.parametrize(
    ("fit", "right", "rises"), [(Fit.LIGHT, True, True), (Fit.LIGHT, False, False), (Fit.HEAVY, True, True)]
)
def test_wrong_alarms_become_rarer_and_right_ones_do_not(fit, right, rises):
    learner = taught(60)
    before = learner.state.light_odds, learner.state.heavy_odds
    learner.answer(fit, right=right)
    after = learner.state.light_odds, learner.state.heavy_odds
    assert (after > before) is rises
    for _ in range(200):
        learner.answer(fit, right=right)
    assert 0.02 <= learner.state.light_odds <= 1.0


def test_net_weights_never_exceed_the_reading():
    learner, chance = taught(), np.random.default_rng(3)
    for _ in range(500):
        item = parcel(card=int(chance.integers(1, 4)), pin=1, notebook=1)
        grams = float(chance.integers(1, 400))
        nets = learner.nets(item, reading(grams))
        assert nets is None or (sum(nets.values()) <= grams and min(nets.values()) >= 1)


def test_beyond_the_limit_the_least_used_product_sleeps_until_it_is_used_again():
    learner = Learner.begin({}, {"bag": None}, Parameters(most_active=3))
    for name in ("a", "b", "c"):
        learner.learn(Parcel({name: 1}, "bag"), reading(40))
    known = learner.product("a")
    learner.learn(Parcel({"d": 1}, "bag"), reading(40))
    assert set(learner.state.asleep) == {"a"}
    assert learner.product("a") == known
    learner.learn(Parcel({"a": 1}, "bag"), reading(40))
    assert set(learner.state.asleep) == {"b"}
    woken = learner.product("a")
    assert woken is not None
    assert woken.weighings == 2
    assert len(learner.state.mean) == 4


@pytest.mark.parametrize(("known", "guess"), [(4, Parameters().product_prior_g), (5, 20.0)])
def test_a_new_product_is_guessed_as_the_mean_of_at_least_five_known_ones(known, guess):
    state = Learner().state
    for number in range(known):
        place = state.add_product(f"known {number}")
        state.mean[place], state.uses[place] = 20.0, 2
    once = state.add_product("weighed once")
    state.mean[once], state.uses[once] = 500.0, 1
    new = state.add_product("new")
    state.guess_unseen([new])
    assert state.mean[new] == guess
