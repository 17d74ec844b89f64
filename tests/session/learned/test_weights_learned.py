"""A day with history: the missing item and the swapped pair are named, fifty right packages are silent, Setup shows weights."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.finding import Code
from desk.domain.orders.packages import read_packing
from desk.domain.orders.piece import PieceKey
from desk.domain.weight import Weight, WeightUnit
from desk.learning.changes import WeightChange
from desk.learning.learner import Learned
from desk.session.bench.answers import answer_extra_packing
from desk.session.bench.bench_view import bench_view
from desk.session.bench.splitting import split_order
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.learned.memory import Memory
from desk.session.learned.weights_learned import learned_mailer, learned_product
from desk.session.pile.before_weighing import look_ahead
from desk.session.pile.earlier import past_weighings
from desk.session.words.sentences import sentence
from tests.session import made

CARD_G, BOOK_G, TARE_G = 17.0, 296.0, 30.0
SHOP = made.shop(products=(made.CARD, replace(made.BOOK, unit_weight=None)))
SHAPES = [(1, 1), (2, 1), (0, 1), (3, 0), (1, 2)]  # cards and books
ODD = {Code.LIGHTER_THAN_CONTENTS, Code.HEAVIER_THAN_CONTENTS, Code.SWAPPED_WITH}


def true_ounces(cards: int, books: int, chance: random.Random) -> float:
    return (cards * CARD_G + books * BOOK_G + TARE_G + chance.gauss(0, 1.5)) / 28.349523125


@pytest.fixture
def day(sitting):
    """Sixty packages of history, then the day: fifty right ones, one without its card, and two swapped."""
    import_shop(sitting, SHOP)
    chance = random.Random(11)
    shapes = [SHAPES[number % len(SHAPES)] for number in range(113)]
    shapes[110:] = [(1, 1), (3, 0), (1, 2)]
    lines = [
        tuple(made.line(product, count) for product, count in ((made.CARD, cards), (made.BOOK, books)) if count)
        for cards, books in shapes
    ]
    import_orders(sitting, [made.order(str(2001 + n), lines=line) for n, line in enumerate(lines)])
    pile = made.following_pile(sitting)
    weighed = [true_ounces(*shape, chance) for shape in shapes]
    weighed[110] = true_ounces(0, 1, chance)  # its card is missing
    weighed[111], weighed[112] = weighed[112], weighed[111]
    for piece_id, ounces in zip(list(pile.verdicts), weighed, strict=True):
        made.weigh_piece(sitting, piece_id, made.weighing(f"{ounces:.1f}", "Padded"))
    return pile


def odd(pile, number):
    verdict = list(pile.verdicts.values())[number]
    return [found for found in verdict.findings if found.code in ODD]


def test_the_missing_item_and_the_swapped_pair_are_caught_and_fifty_right_ones_are_silent(day):
    assert [number for number in range(60, 110) if odd(day, number)] == []
    (missing,) = odd(day, 110)
    assert missing.code == Code.LIGHTER_THAN_CONTENTS
    assert sentence(missing).endswith("Card weighs about that.")
    (swapped,) = odd(day, 112)
    assert (swapped.code, swapped.facts["other"]) == (Code.SWAPPED_WITH, "2112")
    assert "may be swapped" in sentence(swapped)


def test_setup_shows_what_was_learned_in_the_shops_unit(day):
    book = learned_product(day.memory, SHOP.products[1], WeightUnit.GRAM)
    assert book is not None
    assert book.can_be_used
    assert book.words.startswith("Learned: ")
    assert abs(float(book.weight.grams) - BOOK_G) < 4
    padded = learned_mailer(day.memory, "Padded", WeightUnit.OUNCE)
    assert padded is not None
    assert "with usual packing" in padded.words
    assert learned_product(day.memory, made.LETTER, WeightUnit.GRAM) is None


def test_the_bench_says_what_to_expect(day, sitting):
    piece_id, verdict = list(day.verdicts.items())[70]
    words = bench_view(verdict, day.terms, day.expected(piece_id)).package.expected
    assert "give or take" in words
    assert "bills" not in words  # it is weighed
    import_orders(sitting, [made.order("3000", lines=(made.line(made.CARD, 1), made.line(made.BOOK, 1)))])
    piece_id, verdict = list(day.verdicts.items())[-1]
    words = bench_view(verdict, day.terms, day.expected(piece_id)).package.expected
    assert words.startswith("12.1 oz, give or take ")  # 17 g, 296 g and 30 g
    assert words.endswith("Probably bills as 13 oz.")


def test_the_forecast_covers_what_the_pile_really_costs(day, sitting):
    import_orders(
        sitting,
        [made.order(str(3001 + n), lines=(made.line(made.CARD, 1), made.line(made.BOOK, 1))) for n in range(12)],
    )
    reported = look_ahead(day.verdicts.values(), day.terms, day).forecast
    assert reported.priced == 12
    chance = random.Random(5)
    fresh = [piece_id for piece_id in day.verdicts if day.turn_of(piece_id) is None]
    for piece_id in fresh:
        made.weigh_piece(sitting, piece_id, made.weighing(f"{true_ounces(1, 1, chance):.1f}", "Padded"))
    real = sum(day.verdicts[piece_id].offer.price.minor for piece_id in fresh)
    assert abs(real - reported.postage.minor) <= reported.give_or_take.minor + 1


def test_extra_packing_answers_the_issue_and_is_not_learned(day, sitting):
    line = (made.line(made.CARD, 1), made.line(made.BOOK, 1))
    import_orders(sitting, [made.order("3000", lines=line), made.order("3001", lines=line)])
    right, piece_id = list(day.verdicts)[-2:]
    made.weigh_piece(sitting, right, made.weighing("12.1", "Padded"))
    before = day.memory.learner.product("CD")
    made.weigh_piece(sitting, piece_id, made.weighing("14.6", "Padded"))
    assert [found.code for found in odd(day, -1)] == [Code.HEAVIER_THAN_CONTENTS]
    answer_extra_packing(sitting, piece_id, number="3001-1")
    assert Code.HEAVIER_THAN_CONTENTS in day.verdicts[piece_id].case.answered
    after = day.memory.learner.product("CD")
    assert before is not None
    assert after is not None
    assert after.grams == pytest.approx(before.grams, abs=1e-6)


class Known:
    """A memory that has learned one product."""

    is_resting = False

    def __init__(self, learned: Learned, *changes: WeightChange) -> None:
        self.changes = changes
        self.learned = learned
        self.learner = self

    def product(self, _key: str) -> Learned:
        return self.learned

    def rests(self, _key: str) -> bool:
        return self.is_resting


def reported(learned: Learned, typed: str | None = None, *changes: WeightChange):
    product = replace(made.CARD, unit_weight=None if typed is None else Weight(Decimal(typed)))
    return learned_product(Known(learned, *changes), product, WeightUnit.GRAM)


@pytest.mark.parametrize(("weighings", "is_shown"), [(2, False), (3, True)])
def test_a_learned_weight_is_shown_after_three_weighings(weighings, is_shown):
    assert (reported(Learned(17.0, 16.0, 18.0, weighings)) is not None) is is_shown


@pytest.mark.parametrize(
    ("typed", "differs"), [("15.9", True), ("16", False), ("17", False), ("18", False), ("18.1", True)]
)
def test_a_typed_weight_is_questioned_only_outside_the_learned_range(typed, differs):
    assert reported(Learned(17.0, 16.0, 18.0, 9), typed).differs is differs


@pytest.mark.parametrize(("grams", "word"), [(2.0, "more"), (-2.0, "less")])
def test_the_last_change_of_a_learned_weight_says_more_or_less(grams, word):
    changes = [WeightChange("CD", -grams, 5), WeightChange("CD", grams, 5), WeightChange("NB", -grams, 5)]
    assert f"weigh {word} than it used to" in reported(Learned(17.0, 16.0, 18.0, 9), None, *changes).words


def test_a_product_without_a_sku_is_learned_by_its_name(day):
    book = SHOP.products[1]
    assert learned_product(day.memory, book, None) is not None
    assert learned_product(day.memory, replace(book, sku="", name="NB"), None) == learned_product(
        day.memory, book, None
    )


def test_a_product_that_is_no_longer_tracked_says_so(monkeypatch):
    assert "Not packed lately" not in reported(Learned(17.0, 16.0, 18.0, 9)).words
    monkeypatch.setattr(Known, "is_resting", True)
    assert reported(Learned(17.0, 16.0, 18.0, 9)).words.endswith(
        "only the 300 most recently used products are tracked."
    )


def test_a_package_of_a_divided_order_is_expected_declared_and_learned_from(day, sitting):
    """The order ships in two packages: a card and a book, and two cards with a book; their contents are exchanged later."""
    lines = (made.line(made.CARD, 3), made.line(made.BOOK, 2))
    import_orders(sitting, [made.order("3000", address=made.FRANCE, lines=lines)])
    first, second = PieceKey("3000", 1), PieceKey("3000", 2)
    weigh(sitting, [(first, made.weighing("12.1", "Padded")), (second, made.weighing("12.7", "Padded"))])
    assert day.memory.verdict(day.turn_of(day.find("3000-1"))) is None  # not known what is in it
    split_order(sitting, {first: read_packing("CD x1; NB x1"), second: read_packing("CD x2; NB x1")})
    day.memory = Memory.rebuild(day.terms.shop, past_weighings(sitting, day.terms.shop))
    day.read_all()
    one, two = day.verdicts[day.find("3000-1")], day.verdicts[day.find("3000-2")]
    assert [line.net_is_learned for line in one.declaration.lines] == [False, True]
    assert one.declaration.total_net_g < 12.1 * 28.35
    assert one.case.fit.expected.grams < two.case.fit.expected.grams
    split_order(sitting, {first: read_packing("CD x2; NB x1"), second: read_packing("CD x1; NB x1")})
    assert day.memory.stale  # what was learned no longer follows from the contents
