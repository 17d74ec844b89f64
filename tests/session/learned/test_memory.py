"""The memory follows weighings, corrections, answers and undo, and always equals one rebuilt from the start."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.learning.parcel import Parcel, ShownWeight
from desk.session.learned import memory as memory_module
from desk.session.learned.memory import KEPT_STEPS, Memory, PastWeighing, in_order, past_weighing
from tests.session import made

SHOP = Shop(Address())
CARD, NOTEBOOK, BAG = 12.0, 180.0, 15.0


def weighed(number: int, grams: float | None = None, right: bool | None = None, **contents: int) -> PastWeighing:
    """Weighing `number` of piece `number`; the true weight unless another is given."""
    items = contents or {"card": 1 + number % 3, "notebook": number % 2 + 1}
    true = items.get("card", 0) * CARD + items.get("notebook", 0) * NOTEBOOK + BAG
    return PastWeighing(number, number, f"{number}-1", Parcel(items, "bag"), ShownWeight(grams or true, 1.0), right)


def history(count: int) -> list[PastWeighing]:
    return [weighed(number) for number in range(1, count + 1)]


def means(memory: Memory) -> list[float]:
    return memory.learner.state.mean.tolist()


def followed(past: list[PastWeighing]) -> Memory:
    memory = Memory.begin(SHOP)
    for one in past:
        memory.follow(one.piece_id, one)
    return memory


def test_learning_weighing_by_weighing_equals_learning_all_at_once():
    past = history(40)
    assert means(followed(past)) == means(Memory.rebuild(SHOP, past))
    assert followed(past).verdicts == Memory.rebuild(SHOP, past).verdicts


def test_the_same_weighing_again_changes_nothing():
    memory = followed(history(20))
    before = means(memory)
    memory.follow(20, weighed(20))
    assert means(memory) == before
    assert not memory.stale


@pytest.mark.parametrize("back", [1, 3, KEPT_STEPS])
def test_the_newest_weighings_are_undone_at_once(back):
    memory = followed(history(30))
    for number in range(30, 30 - back, -1):
        memory.follow(number, None)
    assert not memory.stale
    assert means(memory) == means(Memory.rebuild(SHOP, history(30 - back)))


def test_changing_an_older_weighing_makes_the_memory_stale():
    memory = followed(history(30))
    memory.follow(12, None)
    assert memory.stale


def test_weighing_the_newest_piece_again_replaces_what_was_learned():
    memory = followed(history(20))
    again = replace(weighed(20), weighing_id=21, reading=ShownWeight(300.0, 1.0))
    memory.follow(20, again)
    assert not memory.stale
    assert means(memory) == means(Memory.rebuild(SHOP, [*history(19), again]))


def test_an_answer_about_the_newest_weighing_is_learned_at_once():
    odd = weighed(31, 230.0, card=1, notebook=1)
    memory = followed([*history(30), odd])
    before = memory.learner.product("card"), memory.learner.product("notebook")
    memory.follow(31, replace(odd, right=True))
    assert (memory.learner.product("card"), memory.learner.product("notebook")) != before
    assert memory.learner.state.heavy_odds > Memory.begin(SHOP).learner.state.heavy_odds


def test_the_verdict_on_a_weighing_does_not_change_later():
    missing = weighed(41, CARD + BAG, card=1, notebook=1)
    memory = followed([*history(40), missing])
    outcome = memory.verdict(41)
    assert outcome is not None
    assert (outcome.fit, outcome.items) == ("light", ("notebook",))
    for number in range(42, 60):
        memory.follow(number, weighed(number))
    assert memory.verdict(41) == outcome
    assert memory.verdict(None) is None


def test_the_piece_weighed_just_before_is_known():
    memory = followed(history(5))
    assert memory.weighed_before(5) == "4-1"
    assert memory.weighed_before(1) == ""


def test_past_weighings_are_learned_in_the_order_they_were_taken():
    assert [one.weighing_id for one in in_order([weighed(3), None, weighed(1)])] == [1, 3]


@pytest.mark.parametrize(("back", "stale"), [(KEPT_STEPS, False), (KEPT_STEPS + 1, True)])
def test_a_rebuilt_memory_takes_back_exactly_the_newest_eight(back, stale):
    memory = Memory.rebuild(SHOP, history(20))
    for number in range(20, 20 - back, -1):
        memory.follow(number, None)
    assert memory.stale is stale
    assert KEPT_STEPS == 8


@pytest.mark.parametrize(("number", "stale"), [(9, True), (11, False)])
def test_only_a_weighing_older_than_the_newest_makes_it_stale(number, stale):
    memory = followed([one for one in history(10) if one.piece_id != 9])
    memory.follow(number, weighed(number))
    assert memory.stale is stale


@pytest.mark.parametrize(("count", "stale"), [(2, False), (3, True)])
def test_more_weighings_than_can_be_learned_at_once_wait(sitting, monkeypatch, count, stale):
    monkeypatch.setattr(memory_module, "LEARN_AT_ONCE", 2)
    made.stock(sitting, [made.order(str(1000 + number)) for number in range(count)])
    for piece_id in range(1, count + 1):
        made.weigh_piece(sitting, piece_id, made.weighing("0.7"))
    assert Memory.unread(sitting, made.shop()).stale is stale


@pytest.mark.parametrize(
    ("fields", "weighing_id", "teaches"),
    [({}, 7, True), ({"copied_from": "1001-1"}, 7, False), ({}, None, False)],
)
def test_only_weights_from_the_scale_are_learned(fields, weighing_id, teaches):
    case = made.case(weighing=made.weighing("0.7", **fields))
    assert (past_weighing(1, weighing_id, case, made.shop()) is not None) is teaches


@pytest.mark.parametrize(
    ("answered", "right"),
    [((), None), (("extra-packing",), False), (("lighter-than-contents",), True), (("size-missing",), None)],
)
def test_an_answer_says_whether_the_contents_were_right(answered, right):
    past = past_weighing(1, 7, made.case("0.7", answered=frozenset(answered)), made.shop())
    assert past is not None
    assert past.right is right
