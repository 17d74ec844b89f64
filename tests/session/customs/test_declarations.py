from dataclasses import replace

import pytest

from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.customs.declarations import (
    AT_FIELD,
    NET_UNKNOWN,
    SHORT,
    SHOWN,
    Missing,
    customs_views,
    declaration_view,
)
from desk.session.verdict.verdict import Terms
from desk.session.words.customs import CAUTIONS
from tests.session import made


@pytest.fixture
def viewed(judged, rulebook):
    def one(*words, shop=None, **fields):
        shop = shop or made.shop()
        fields = {"address": made.FRANCE} | fields
        return declaration_view(judged(*words, shop=shop, **fields), Terms(shop, rulebook, made.ON))

    return one


def test_a_complete_declaration_lacks_only_the_tax_number(viewed):
    view = viewed("4.2", "Padded", lines=(made.line(made.BOOK, 1, 2400),))
    assert (view.number, view.to, view.country, view.form) == ("1001", "Solène Mercadier", "France", "CN22")
    assert (view.goods_value, view.net, view.gross, view.category) == ("$24.00", "310 g", "119 g", "sale of goods")
    assert view.export
    assert view.cautions


def test_missing_values_are_shown_at_their_fields(viewed):
    bare = replace(made.CARD, customs_words="Gift", hs="4909", origin="", unit_weight=None)
    view = viewed("4.2", "Padded", shop=made.shop(products=(bare,)))
    line = view.lines[0]
    assert {one.field for one in line.missing} == {"customs_words", "hs", "origin", "unit_weight"}
    assert line.at("hs").mark == "look"
    assert line.at("unit_weight").words == NET_UNKNOWN
    assert line.at("value") is None
    assert view.is_lacking
    assert set(view.in_short.split(", ")) >= {"description", "HS code", "origin", "net weight"}


def test_the_most_serious_issue_gives_the_mark(viewed):
    view = viewed("0.7", lines=(made.line(made.BOOK, 1, 2400),))
    assert view.mark == "stop"
    assert view.all_missing[0].mark == "stop"


def test_an_unweighed_piece_already_has_its_declaration(viewed):
    bare = replace(made.CARD, hs="")
    view = viewed(None, shop=made.shop(products=(bare,)))
    assert (view.gross, view.form, view.lines[0].at("hs").short) == ("", "CN22", "HS code")


def test_a_value_that_must_be_fixed_stays_missing_whatever_was_answered(viewed):
    bare = made.shop(products=(replace(made.CARD, origin=""),))
    assert viewed("4.2", "Padded", shop=bare).lines[0].at("origin")
    assert viewed("4.2", "Padded", shop=bare, answered=frozenset({"origin-missing"})).lines[0].at("origin")


def test_a_tax_number_is_masked(viewed):
    view = viewed("4.2", "Padded", shop=made.shop(tax_ids={"ioss": "IM0400000000"}))
    assert view.tax_number == "•••••••••000"


def test_the_first_package_declares_the_lines(viewed):
    assert viewed("4.2", "Padded", key=PieceKey("1001", 2), pieces_in_order=2).lines == ()
    first = viewed("4.2", "Padded", pieces_in_order=2)
    assert first.number == "1001-1"
    assert [one.short for one in first.missing if one.mark == "stop"] == ["contents unknown"]


def test_an_item_without_a_name_leaves_the_contents_of_a_single_package_unknown(viewed):
    view = viewed("4.2", "Padded", lines=(made.line(), replace(made.line(), item="", sku="")))
    assert "contents unknown" in [one.short for one in view.missing]


def test_only_pieces_abroad_are_listed(judged, terms):
    verdicts = {1: judged(), 2: judged("4.2", "Padded", address=made.FRANCE)}
    assert list(customs_views(verdicts, terms)) == [2]


def test_a_line_says_what_is_declared(viewed):
    view = viewed("4.2", "Padded", lines=(made.line(made.CARD, 3, 650), made.line(made.BOOK, 1, 2400)))
    cards, book = view.lines
    assert (cards.item, cards.quantity, cards.net_g, cards.value) == ("Card", "3", "51 g", "$19.50")  # 3 x 17 g
    assert (book.item, book.quantity, book.net_g, book.value) == ("Book", "1", "310 g", "$24.00")
    assert (cards.product, book.product) == (made.CARD, made.BOOK)
    assert (view.goods_value, view.net) == ("$43.50", "361 g")


def test_one_unknown_net_weight_leaves_the_total_unknown(viewed):
    shop = made.shop(products=(made.CARD, replace(made.BOOK, unit_weight=None)))
    view = viewed("4.2", "Padded", shop=shop, lines=(made.line(), made.line(made.BOOK, 1, 2400)))
    assert (view.net, [line.net_g for line in view.lines]) == ("", ["17 g", ""])
    assert view.lines[0].at("unit_weight") is None
    assert view.lines[1].at("unit_weight") == Missing("unit_weight", "note", "net weight", NET_UNKNOWN)


def test_an_unknown_product_has_no_record_to_correct(viewed):
    (line,) = viewed("4.2", "Padded", shop=made.shop(products=())).lines
    assert line.product is None
    assert {"hs", "origin", "unit_weight"} <= {one.field for one in line.missing}


def test_a_value_missing_in_one_line_is_not_reported_at_another(viewed):
    shop = made.shop(products=(replace(made.CARD, hs=""), made.BOOK))
    card, book = viewed("4.2", "Padded", shop=shop, lines=(made.line(), made.line(made.BOOK, 1, 2400))).lines
    assert (card.at("hs").short, book.at("hs")) == ("HS code", None)


def test_a_zero_value_is_reported_at_the_value(viewed):
    (line,) = viewed("4.2", "Padded", lines=(made.line(price=0),)).lines
    assert (line.at("unit_value").mark, line.at("unit_value").short) == ("look", "value")


@pytest.mark.parametrize(
    ("address", "to", "country"),
    [
        ({}, "Solène Mercadier", "France"),
        ({"recipient": "", "company": "Atelier"}, "Atelier", "France"),
        ({"country": "QQ"}, "Solène Mercadier", "QQ"),
        ({"country": "TT"}, "Solène Mercadier", "Trinidad & Tobago"),
        ({"country": "CD"}, "Solène Mercadier", "Congo - Kinshasa"),
        ({"country": "IM"}, "Solène Mercadier", "Isle of Man"),
        ({"country": "CI"}, "Solène Mercadier", "Côte d’Ivoire"),
    ],
)
def test_recipient_and_country_are_shown(viewed, address, to, country):
    view = viewed(None, address=made.abroad(**address))
    assert (view.to, view.country) == (to, country)


def test_a_package_of_several_is_named_by_its_reference(viewed):
    assert viewed(None, pieces_in_order=2).number == "1001-1"
    second = viewed(None, key=PieceKey("1001", 2), pieces_in_order=2)
    assert (second.number, second.lines) == ("1001-2", ())


def test_a_complete_declaration_is_fine_and_a_note_is_not_an_issue(viewed):
    noted = viewed("4.2", "Padded")
    assert (noted.mark, noted.is_lacking, noted.in_short) == ("note", False, "tax number, buyer owes duty")
    bare = replace(noted, missing=())
    assert (bare.mark, bare.is_lacking, bare.in_short, bare.all_missing) == ("fine", False, "", ())
    assert noted.cautions == CAUTIONS


def test_faults_are_listed_most_serious_first(viewed):
    shop = made.shop(products=(replace(made.CARD, hs="", unit_weight=None),))
    view = viewed("4.2", "Padded", shop=shop, address=made.abroad(address1=""))
    assert [one.mark for one in view.all_missing] == sorted(
        (one.mark for one in view.all_missing), key=["stop", "look", "note", "fine"].index
    )
    assert view.all_missing[0].short == "address"
    assert (view.mark, view.is_lacking) == ("stop", True)


def test_a_stop_stays_missing_when_its_code_was_answered(viewed):
    answered = frozenset({"address-incomplete"})
    assert viewed("4.2", "Padded", address=made.abroad(address1=""), answered=answered).mark == "stop"


def test_a_missing_tax_number_is_shown_as_empty(viewed):
    assert viewed("4.2", "Padded").tax_number == ""


def test_every_field_and_short_word_belongs_to_a_code_of_this_screen():
    assert set(AT_FIELD) | set(SHORT) <= SHOWN


def test_pieces_set_aside_keep_their_place_among_the_declarations(judged, terms):
    abroad = judged("4.2", "Padded", address=made.FRANCE, beside=PieceStatus.SET_ASIDE)
    waiting = judged(None, address=made.FRANCE)
    assert list(customs_views({7: abroad, 3: judged(), 5: waiting}, terms)) == [7, 5]
    assert customs_views({}, terms) == {}
