"""The usual mailer for the same contents, and how often it was right."""

from dataclasses import replace

import pytest

from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.alike import Alike
from desk.session.pile.packing import placement_for
from desk.session.pile.usual import UsualMailer, chosen_mailers, usual_for_product, usual_of
from tests.session import made


@pytest.mark.parametrize(
    ("used", "usual"),
    [
        ("", None),
        ("aa", None),  # two are too few
        ("aaa", UsualMailer("a", 2, 2)),
        ("aab", UsualMailer("a", 1, 2)),
        ("abb", UsualMailer("b", 1, 2)),  # the second b was predicted: of equals, the latest counts
        ("abab", UsualMailer("b", 0, 3)),
        ("aaaab", UsualMailer("a", 3, 4)),
    ],
)
def test_the_most_frequent_mailer_is_the_usual_one(used, usual):
    assert usual_of(used) == usual


def weighed(sitting, mailers, shop=None, **changes):
    """A pile of orders of one card, each weighed in its mailer, and one more that waits."""
    import_shop(sitting, shop or made.shop())
    import_orders(sitting, [made.order(str(1001 + number)) for number in range(len(mailers) + 1)])
    pile = made.following_pile(sitting)
    keys = [PieceKey(str(1001 + number)) for number in range(len(mailers))]
    weigh(
        sitting, [(key, replace(made.weighing("3", name), **changes)) for key, name in zip(keys, mailers, strict=True)]
    )
    return pile


def placement(pile):
    piece_id = list(pile.verdicts)[-1]
    return placement_for(pile.verdicts[piece_id].case, piece_id, Alike(pile), pile.terms.shop)


def test_one_exception_does_not_change_what_the_bench_assumes(sitting):
    found = placement(weighed(sitting, ("Padded", "Padded", "Padded", "A7 envelope")))
    assert (found.mailer, found.why, found.guessed) == ("Padded", "usual, right 2 of 3 times", False)


def test_guessed_mailers_are_no_evidence(sitting):
    pile = weighed(sitting, ("Padded", "Padded", "Padded"), mailer_guessed=True)
    assert placement(pile).guessed
    assert usual_for_product(pile, made.CARD) is None


def test_with_learning_turned_off_the_last_mailer_is_assumed(sitting):
    shop = made.shop(policy=made.policy(learn_weights=False))
    found = placement(weighed(sitting, ("Padded", "Padded", "Padded", "A7 envelope"), shop))
    assert (found.mailer, found.why) == ("A7 envelope", "as 1004")


def test_setup_knows_the_usual_mailer_of_one_product(sitting):
    pile = weighed(sitting, ("Padded", "Padded", "Padded"))
    (line,) = next(iter(pile.verdicts.values())).case.order.lines
    product = pile.terms.shop.product_for(line)
    expected = UsualMailer("Padded", 2, 2) if line.quantity == 1 else None
    assert usual_for_product(pile, product) == expected


def test_a_guess_counts_once_a_mailer_was_chosen_for_the_piece():
    guessed = made.case(weighing=made.weighing("0.7", "A7", mailer_guessed=True))
    assert chosen_mailers([guessed, made.case(), made.case(None), made.case(mailer="")]) == ["A7"]
    assert chosen_mailers([replace(guessed, mailer="Padded")]) == ["Padded"]
