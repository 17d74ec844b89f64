"""What is assumed of a piece before it is entered, and which pieces are identical."""

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.length import Size, inches
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import copy_weight, describe, record_weight
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.alike import Alike
from desk.session.pile.bulk_changes import choose_mailer, set_beside
from desk.session.pile.packing import Placement, placement_for
from desk.session.undo import undo
from desk.session.verdict.default_mailer import smallest_that_fits
from tests.session import made

A7 = Placement("A7")
CARDS = range(1, 15)
BOOKS = (15, 16)


def oz(value, division="0.1", unit=WeightUnit.OUNCE):
    return Shown(Decimal(value), unit, Decimal(division))


@pytest.fixture
def pile(sitting):
    """Fourteen orders of a card (pieces 1 to 14), two of a book (15, 16), one of two cards (17)."""
    import_shop(sitting, made.shop())
    cards = [made.order(str(1000 + number)) for number in CARDS]
    books = [made.order(str(1000 + number), lines=(made.line(made.BOOK),)) for number in BOOKS]
    import_orders(sitting, [*cards, *books, made.order("1017", lines=(made.line(quantity=2),))])
    return made.following_pile(sitting)


def placed(pile, piece):
    return placement_for(pile.verdicts[piece].case, piece, Alike(pile), pile.terms.shop)


def test_first_the_smallest_mailer_that_fits_is_assumed(pile):
    assert placed(pile, 1) == Placement("A7", why="the smallest that fits", guessed=True)
    assert placed(pile, 15) == Placement("Padded", why="the smallest that fits", guessed=True)


def test_then_the_last_mailer_of_the_same_contents_is_assumed(sitting, pile):
    record_weight(sitting, 2, oz("3"), Placement("Board", made.BOARD.size, uneven=True))
    assert placed(pile, 1) == Placement("Board", uneven=True, why="as 1002")
    record_weight(sitting, 3, oz("0.7"), A7)
    assert placed(pile, 1) == Placement("A7", why="as 1003")
    assert placed(pile, 17).why == "the smallest that fits"


def test_a_mailer_chosen_for_the_piece_comes_first(sitting, pile):
    record_weight(sitting, 2, oz("0.7"), Placement("A7", made.ENVELOPE.size, stiff=True))
    describe(sitting, 1, Placement("Padded"))
    chosen = placed(pile, 1)
    assert (chosen.mailer, chosen.stiff, chosen.why) == ("Padded", True, "chosen")
    record_weight(sitting, 1, oz("0.8"), Placement("Padded", uneven=False))
    assert placed(pile, 1) == Placement("Padded", uneven=False)


def test_contents_too_thick_for_every_mailer_have_none_assumed():
    books = made.case(None, lines=(made.line(made.BOOK, 3),))
    assert smallest_that_fits(books.order, made.shop()) is None
    reused = Mailer("Old box", MailerKind.BOX, Size.of("14", "11", "6", "in"), reused=True)
    bound = Mailer("Flat rate", MailerKind.BOX, Size.of("9", "6", "3", "in"), only_service="priority-x")
    assert smallest_that_fits(books.order, made.shop(mailers=(reused, bound))) is None


@pytest.mark.parametrize(
    ("name", "thick"), [("slot", "0.25"), ("half", "0.5"), ("three quarters", "0.75"), ("thicker", "1")]
)
def test_a_thickness_is_set_and_removed_by_its_key(name, thick):
    thicker = A7.as_thick(name, made.ENVELOPE)
    assert thicker.size == Size.of("7.25", "5.25", thick, "in")
    assert thicker.thickness == name
    assert thicker.as_thick(name, made.ENVELOPE).size is None


def test_a_mailer_thicker_than_an_inch_keeps_its_thickness():
    box = Mailer("Box", MailerKind.BOX, Size.of("9", "7", "3", "in"))
    assert A7.as_thick("thicker", box).size.thickness == inches("3")


def test_a_mailer_without_a_size_gets_no_thickness():
    assert A7.as_thick("slot", None) == A7
    assert A7.as_thick("slot", Mailer("Bag", MailerKind.APPAREL)) == A7


def test_another_mailer_keeps_the_chosen_thickness():
    thicker = A7.as_thick("half", made.ENVELOPE).in_mailer(made.PADDED)
    assert (thicker.mailer, thicker.size) == ("Padded", Size.of("10.5", "8", "0.5", "in"))


def test_a_weight_may_be_copied_to_identical_waiting_pieces(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    record_weight(sitting, 2, oz("0.7"), A7)
    describe(sitting, 3, Placement("Padded"))
    set_beside(sitting, [4], PieceStatus.SET_ASIDE)
    assert Alike(pile).waiting(1) == list(range(5, 15))
    assert Alike(pile).waiting(5) == []


def test_a_copied_weight_is_not_copied_again(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    copy_weight(sitting, 1, [2], oz("0.7"))
    assert Alike(pile).waiting(2) == []


def test_below_ten_identical_pieces_the_weight_itself_is_copied(sitting, pile):
    for number in range(1, 10):
        record_weight(sitting, number, oz("0.7" if number % 2 else "0.8"), A7)
    assert Alike(pile).weight_for_others(1) == oz("0.7")


def test_the_weights_of_ten_identical_pieces_are_averaged(sitting, pile):
    """DMM 133.1.3: at least ten, divided. Seven of 0.7 and three of 0.8 make 0.73 each."""
    for number in range(1, 11):
        record_weight(sitting, number, oz("0.8" if number <= 3 else "0.7"), A7)
    assert Alike(pile).weight_for_others(5) == oz("0.730")


def test_another_unit_another_mailer_or_a_copy_is_not_averaged(sitting, pile):
    for number in range(1, 10):
        record_weight(sitting, number, oz("0.7"), A7)
    record_weight(sitting, 10, oz("20", "1", WeightUnit.GRAM), A7)
    record_weight(sitting, 11, oz("0.9"), Placement("Padded"))
    copy_weight(sitting, 1, [12], oz("0.9"))
    assert Alike(pile).weight_for_others(1) == oz("0.7")


def test_three_copies_are_proposed_for_a_check_until_three_were_checked(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), A7)
    copy_weight(sitting, 1, range(2, 15), oz("0.7"))
    alike = Alike(pile)
    assert alike.to_check(1) == [2, 8, 14]
    assert alike.all_to_check() == [2, 8, 14]
    record_weight(sitting, 2, oz("0.7"), A7)
    assert len(alike.to_check(1)) == 2
    record_weight(sitting, 8, oz("0.7"), A7)
    record_weight(sitting, 14, oz("0.7"), A7)
    assert alike.all_to_check() == []


def test_unknown_products_are_compared_by_item_and_variant(sitting, pile):
    from dataclasses import replace

    odd = [replace(made.line(), item="Kite", sku="", variant=each) for each in ("red", "red", "blue")]
    import_orders(sitting, [made.order(str(2000 + n), lines=(one,)) for n, one in enumerate(odd)])
    ids = [pile.find(str(2000 + n)) for n in range(3)]
    assert Alike(pile).same_contents(ids[0]) == [ids[1]]


def test_packages_of_a_split_order_are_identical_to_none(sitting, pile):
    from desk.domain.orders.piece import PieceKey
    from desk.session.bench.another_piece import add_piece

    add_piece(sitting, PieceKey("1001", 2))
    alike = Alike(pile)
    assert alike.same_contents(1) == []
    assert 1 not in alike.same_contents(2)
    assert placed(pile, 1) == Placement()


def guesses(pile):
    codes = {number: [found.code for found in verdict.findings] for number, verdict in pile.verdicts.items()}
    return [number for number, found in codes.items() if "mailer-guessed" in found]


def weigh_as_placed(sitting, pile, piece, weight="0.7"):
    record_weight(sitting, piece, oz(weight), placed(pile, piece))


def test_a_guessed_mailer_needs_a_check_and_so_does_the_next_of_the_same_contents(sitting, pile):
    weigh_as_placed(sitting, pile, 1)
    assert pile.verdicts[1].status is PieceStatus.NEEDS_A_LOOK
    assert placed(pile, 2) == Placement("A7", why="the smallest that fits", guessed=True)
    weigh_as_placed(sitting, pile, 2)
    assert guesses(pile) == [1, 2]


def test_one_answer_confirms_the_mailer_for_the_family_of_the_product(sitting, pile):
    weigh_as_placed(sitting, pile, 1)
    weigh_as_placed(sitting, pile, 2)
    answer_looks(sitting, 1, ["mailer-guessed"], number="1001-1")
    assert guesses(pile) == []
    assert pile.verdicts[2].status is PieceStatus.READY
    assert not placed(pile, 3).guessed
    weigh_as_placed(sitting, pile, 15, "12.4")
    assert guesses(pile) == [15]  # a book is another family
    undo(sitting)
    undo(sitting)
    assert guesses(pile) == [1, 2]


def test_a_confirmed_mailer_is_proposed_before_anything_similar_is_weighed(sitting, pile):
    weigh_as_placed(sitting, pile, 15, "12.4")
    answer_looks(sitting, 15, ["mailer-guessed"], number="1015-1")
    import_orders(sitting, [made.order("2000", lines=(replace(made.line(made.BOOK), variant="blue", sku=""),))])
    fresh = pile.find("2000")
    assert (placed(pile, fresh).mailer, placed(pile, fresh).guessed) == ("Padded", False)


def test_a_mailer_chosen_by_hand_is_no_guess(sitting, pile):
    weigh_as_placed(sitting, pile, 1)
    describe(sitting, 1, placed(pile, 1).in_mailer(made.PADDED))
    assert guesses(pile) == []
    choose_mailer(sitting, [2], "A7")
    weigh_as_placed(sitting, pile, 2)
    assert guesses(pile) == []


def test_a_mailer_given_with_the_weight_is_not_a_guess(sitting, pile):
    record_weight(sitting, 1, oz("0.7"), replace(placed(pile, 1), guessed=False))
    assert (placed(pile, 1).guessed, placed(pile, 1).why) == (False, "")


def test_a_product_that_names_its_mailer_is_no_guess(sitting, pile):
    named = replace(made.CARD, usual_mailer="Padded")
    import_shop(sitting, made.shop(products=(named, made.BOOK)))
    assert placed(pile, 1) == Placement("Padded", why="usual")
    assert placed(pile, 17).guessed  # two of it may need another


def test_a_thickness_given_for_one_piece_is_not_carried_to_another(sitting, pile):
    thick = A7.as_thick("half", made.ENVELOPE)
    record_weight(sitting, 1, oz("0.7"), thick)
    assert thick.size is not None
    assert placed(pile, 2) == Placement("A7", why="as 1001")
