from dataclasses import replace

import pytest

from desk.domain.finding import Severity
from desk.domain.length import Size
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.verdict.case import contents_of
from tests.session import made
from tests.session.made import BOOK, FOLDER, LETTER, MANUAL, case, line, shop, weighing


def codes(contents):
    return [found.code for found in contents.findings]


def test_size_and_rigidity_default_to_the_mailer():
    contents = contents_of(case(mailer="Board"), shop())
    assert contents.size == Size.of("12", "9", "0.3", "in")
    assert contents.stiff is True
    assert contents.uneven is False


def test_a_size_entered_at_the_scale_overrides_the_mailers():
    size = Size.of("9", "6", "0.2", "in")
    assert contents_of(case(weighing=weighing(size=size)), shop()).size == size


def test_a_rigid_product_makes_a_rigid_piece_unless_set_otherwise():
    lines = (line(), line(FOLDER))
    assert contents_of(case(lines=lines), shop()).stiff is True
    assert contents_of(case(lines=lines, weighing=weighing(stiff=False)), shop()).stiff is False
    assert contents_of(case(weighing=weighing(stiff=True)), shop()).stiff is True
    assert contents_of(case(), shop()).stiff is False


def test_a_piece_is_uneven_only_when_marked_by_hand():
    assert contents_of(case(weighing=weighing(uneven=True)), shop()).uneven is True


def test_a_mailer_chosen_later_replaces_the_one_at_the_scale():
    contents = contents_of(case(mailer="A7", weighing=weighing()), shop())
    assert contents.mailer.name == "A7"
    chosen = case(weighing=weighing(mailer="A7"))
    assert (
        contents_of(type(chosen)(key=chosen.key, order=chosen.order, mailer="Padded"), shop()).mailer.name == "Padded"
    )


def test_without_mailer_and_size_the_size_is_unknown():
    contents = contents_of(case(mailer=""), shop())
    assert contents.size is None
    assert contents.mailer_kind is None
    assert codes(contents) == []


def test_unknown_mailers_and_products_are_reported():
    unknown = type(line())("Kite", 1, line().unit_price)
    contents = contents_of(case(mailer="Sack", lines=(unknown, unknown)), shop())
    assert [(found.code, dict(found.facts)) for found in contents.findings] == [
        ("mailer-unknown", {"mailer": "Sack"}),
        ("product-unknown", {"items": ("Kite",)}),
    ]


def test_a_piece_cannot_be_thinner_than_its_thickest_product():
    contents = contents_of(case(lines=(line(BOOK),)), shop())
    assert codes(contents) == ["mailer-too-small"]
    facts = {"product": "Book", "measure": "thickness", "contents_in": "0.70", "outside_in": "0.06"}
    assert dict(contents.findings[0].facts) == facts
    assert codes(contents_of(case(mailer="Padded", lines=(line(BOOK),)), shop())) == []
    exactly = weighing(size=Size.of("9", "6", "0.7", "in"))
    assert codes(contents_of(case(weighing=exactly, lines=(line(BOOK),)), shop())) == []


def test_a_piece_is_documents_or_media_only_if_every_line_is():
    assert contents_of(case(lines=(line(LETTER),)), shop()).documents_only is True
    assert contents_of(case(lines=(line(LETTER), line())), shop()).documents_only is False
    assert contents_of(case(lines=(line(MANUAL),)), shop()).media is True
    assert contents_of(case(lines=(line(MANUAL), line())), shop()).media is False


def test_notes_are_searched_for_stamp_requests():
    assert contents_of(case(buyer_note="by stamp please"), shop()).stamp_asked is True
    assert contents_of(case(buyer_note="thanks"), shop()).stamp_asked is False


def unsorted(judged, **fields):
    return [(one.code, one.severity) for one in judged(**fields).findings if one.code.endswith("-unsorted")]


@pytest.mark.parametrize("status", ["unpaid", "on hold"])
def test_an_order_with_a_new_status_needs_a_check(judged, status):
    assert unsorted(judged, status=status) == [("status-unsorted", Severity.LOOK)]
    assert judged(status=status).status is PieceStatus.NEEDS_A_LOOK


def test_a_status_skipped_later_stops_orders_imported_before(judged):
    assert unsorted(judged, status="Refunded") == [("status-unsorted", Severity.LOOK)]


@pytest.mark.parametrize("status", ["", "paid", "Paid"])
def test_a_status_that_ships_is_not_asked_about(judged, status):
    assert unsorted(judged, status=status) == []


def test_an_unmatched_shipping_choice_needs_a_check(judged):
    shop = made.shop(choices={"Letter": ("letter-stamped",), "As you like": ()})
    assert unsorted(judged, shop=shop, shipping_choice="Express") == [("choice-unsorted", Severity.LOOK)]
    assert unsorted(judged, shop=shop, shipping_choice="Letter") == []
    assert unsorted(judged, shop=shop, shipping_choice="As you like") == []
    assert unsorted(judged, shop=shop, shipping_choice="") == []


def test_a_choice_without_services_allows_what_the_shop_allows(judged):
    shop = made.shop(choices={"As you like": ()})
    assert judged(shop=shop, shipping_choice="As you like").offer.service == "letter-stamped"


def test_an_unknown_product_is_a_note_domestically_and_needs_a_check_abroad(judged):
    shop = made.shop(products=())
    home, away = judged(shop=shop), judged("4.2", "Padded", shop=shop, address=made.FRANCE)
    severity = {one.code: one.severity for one in home.findings}
    assert severity["product-unknown"] is Severity.NOTE
    assert home.status is PieceStatus.READY
    assert {one.code: one.severity for one in away.findings}["product-unknown"] is Severity.LOOK


def test_a_mailer_that_contradicts_its_kind_is_noted(judged):
    bends = replace(made.BOARD, stiff=False)
    assert "kind-overruled" in codes(judged("4", "Board", shop=made.shop(mailers=(bends,))))
    assert "kind-overruled" not in codes(judged("4", "Board"))


@pytest.mark.parametrize(("stiff", "reported"), [(False, True), (True, False), (None, False)])
def test_a_rigid_mailer_marked_as_not_rigid_by_hand_is_noted(stiff, reported):
    """The kind decides (DMM 101.2.3); setting the opposite is possible and noted."""
    contents = contents_of(case(mailer="Board", weighing=weighing(mailer="Board", stiff=stiff)), shop())
    assert ("kind-overruled" in codes(contents)) is reported
    assert contents.stiff is (stiff is not False)


@pytest.mark.parametrize(("choice", "known"), [("By letter", True), (" by  LETTER ", True), ("By post", False)])
def test_a_shipping_choice_is_found_however_it_is_spelled(choice, known):
    known_choices = shop(choices={"By letter": ("letter-stamped",)})
    assert ("choice-unsorted" in codes(contents_of(case(shipping_choice=choice), known_choices))) is not known


@pytest.mark.parametrize(
    ("product", "is_media"),
    [
        (MANUAL, True),
        (replace(MANUAL, hs="482010"), False),  # stationery to write in
        (replace(MANUAL, customs_words="Blank book"), False),
        (replace(MANUAL, media=False), False),
    ],
)
def test_blank_stationery_is_not_media(product, is_media):
    """DMM 273.3.1: the media price is for what is read."""
    sold = shop(products=(product,))
    assert contents_of(case(lines=(line(product),)), sold).media is is_media


@pytest.mark.parametrize(
    ("piece", "pieces", "number"), [(1, 1, "1001"), (1, 2, "1001-1"), (2, 2, "1001-2"), (2, 1, "1001-2")]
)
def test_a_piece_is_called_by_its_order_unless_the_order_has_several(piece, pieces, number):
    assert replace(case(number="1001"), key=PieceKey("1001", piece), pieces_in_order=pieces).number == number


@pytest.mark.parametrize(("pieces", "is_divided", "known"), [(1, False, True), (2, False, False), (2, True, True)])
def test_contents_are_known_of_a_single_piece_or_a_split_order(pieces, is_divided, known):
    assert case(pieces_in_order=pieces, is_divided=is_divided).contents_known is known


def test_a_typed_size_without_a_mailer_is_not_replaced_by_the_usual_mailer():
    usual = shop(products=(replace(BOOK, usual_mailer="Padded"),))
    lines = (line(BOOK),)
    assert contents_of(case(weighing=weighing("12", ""), lines=lines), usual).mailer.name == "Padded"
    sized = weighing("12", "", size=Size.of("9", "6", "1", "in"))
    assert contents_of(case(weighing=sized, lines=lines), usual).mailer is None
    assert contents_of(case(weighing=weighing("12", ""), lines=lines, pieces_in_order=2), usual).mailer is None


@pytest.mark.parametrize(("pieces", "divided", "known"), [(1, False, True), (2, False, False), (2, True, True)])
def test_contents_of_several_pieces_are_unknown_until_the_order_is_split(pieces, divided, known):
    assert case(pieces_in_order=pieces, is_divided=divided).contents_known is known
