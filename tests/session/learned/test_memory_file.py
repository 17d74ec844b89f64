"""The memory in a file: found again while the store holds the same weighings, and never trusted otherwise."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.learning.verdicts import Fit
from desk.session.learned.memory import Memory
from desk.session.learned.memory_file import NAME, recall, save_memory
from desk.session.pile.pile import Pile
from tests.session import made

SHOP = made.shop()
BOOK = made.line(made.BOOK)
FULL = 12.2  # ounces of a book and a card in a padded mailer


@pytest.fixture
def pile(sitting):
    """Twenty-four orders of a book and a card; the last one lacks its book."""
    made.stock(sitting, [made.order(str(1001 + n), lines=(BOOK, made.line())) for n in range(26)], SHOP)
    pile = Pile(sitting)
    for number, piece_id in enumerate(list(pile.verdicts)[:25]):
        ounces = FULL + 0.1 * (number % 3) if number < 24 else 1.4
        made.weigh_piece(sitting, piece_id, made.weighing(f"{ounces:.1f}", "Padded"))
    pile.read_all()
    return pile


def test_a_missing_item_is_still_reported_after_a_restart(sitting, pile, tmp_path):
    odd = [one_verdict for one_verdict in pile.memory.verdicts.values() if one_verdict.fit is Fit.LIGHT]
    assert [one_verdict.items for one_verdict in odd] == [("NB",)]
    save_memory(sitting, pile.terms.shop, pile.memory, tmp_path)
    found = recall(sitting, pile.terms.shop, tmp_path)
    assert found is not None
    assert [one_verdict for one_verdict in found.verdicts.values() if one_verdict.fit is Fit.LIGHT] == odd
    assert found.learner.product("NB") == pile.memory.learner.product("NB")


def test_a_restored_memory_continues_like_the_saved_one(sitting, pile, tmp_path):
    save_memory(sitting, pile.terms.shop, pile.memory, tmp_path)
    found = recall(sitting, pile.terms.shop, tmp_path)
    assert found is not None
    last = list(pile.verdicts)[-1]
    made.weigh_piece(sitting, last, made.weighing("12.3", "Padded"))
    pile.read_all()
    again = Pile(sitting, found)
    assert again.memory.learner.product("CD") == pile.memory.learner.product("CD")
    assert again.memory.verdicts[again.turn_of(last)] == pile.memory.verdicts[pile.turn_of(last)]


def test_another_weighing_makes_the_saved_memory_invalid(sitting, pile, tmp_path):
    save_memory(sitting, pile.terms.shop, pile.memory, tmp_path)
    made.weigh_piece(sitting, list(pile.verdicts)[-1], made.weighing("12.3", "Padded"))
    assert recall(sitting, pile.terms.shop, tmp_path) is None


def test_other_typed_weights_make_the_saved_memory_invalid(sitting, pile, tmp_path):
    save_memory(sitting, pile.terms.shop, pile.memory, tmp_path)
    other = replace(SHOP, products=(replace(made.BOOK, unit_weight=None), made.CARD))
    assert recall(sitting, other, tmp_path) is None


@pytest.mark.parametrize(
    ("damage", "logged"), [(b"", 1), (b"{}", 1), (b"not json\n", 1), (b'{"of": []}\nxx', 0)]
)  # the last one was learned from other weighings: that is no damage
def test_a_damaged_or_missing_file_is_not_used_and_damage_is_logged(sitting, pile, tmp_path, caplog, damage, logged):
    assert recall(sitting, pile.terms.shop, tmp_path) is None
    assert caplog.messages == []
    (tmp_path / NAME).write_bytes(damage)
    assert recall(sitting, pile.terms.shop, tmp_path) is None
    assert caplog.messages == ["the learned weights are damaged and are learned again"] * logged


def test_a_folder_with_the_name_of_the_file_is_logged(sitting, pile, tmp_path, caplog):
    (tmp_path / NAME).mkdir()
    assert recall(sitting, pile.terms.shop, tmp_path) is None
    save_memory(sitting, pile.terms.shop, pile.memory, tmp_path)
    assert [line.split(":")[0] for line in caplog.messages] == [
        "the learned weights cannot be read and are learned again",
        "the learned weights cannot be saved",
    ]


def test_a_stale_memory_is_not_kept(sitting, pile, tmp_path):
    pile.memory.stale = True
    save_memory(sitting, pile.terms.shop, pile.memory, tmp_path)
    assert not (tmp_path / NAME).exists()


def test_a_shop_that_turned_learning_off_learns_nothing(sitting):
    made.stock(sitting, [made.order()], made.shop(policy=made.policy(learn_weights=False)))
    pile = Pile(sitting)
    made.weigh_piece(sitting, next(iter(pile.verdicts)), made.weighing("12.3", "Padded"))
    pile.read_all()
    assert pile.memory.verdicts == {}


def test_an_empty_memory_gives_no_verdict():
    assert Memory.begin(SHOP).verdict(7) is None
