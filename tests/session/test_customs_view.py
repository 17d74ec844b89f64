from dataclasses import replace

import pytest

from desk.session.customs_view import NET_UNKNOWN, customs_views, declaration_view
from desk.session.verdict import Terms
from tests.session import made


@pytest.fixture
def viewed(judged, rulebook):
    def one(*words, shop=None, **fields):
        shop = shop or made.shop()
        fields = {"address": made.FRANCE} | fields
        return declaration_view(judged(*words, shop=shop, **fields), Terms(shop, rulebook, made.ON))

    return one


def test_a_whole_declaration_lacks_nothing_but_the_number(viewed):
    view = viewed("4.2", "Padded", lines=(made.line(made.BOOK, 1, 2400),))
    assert (view.number, view.to, view.country, view.form) == ("1001", "Solène Mercadier", "France", "CN22")
    assert (view.goods_value, view.net, view.gross, view.category) == ("24.00 USD", "310 g", "119 g", "sale of goods")
    assert view.export
    assert view.cautions


def test_what_is_missing_stands_at_its_field(viewed):
    bare = replace(made.CARD, customs_words="Gift", hs="4909", origin="", unit_weight=None)
    view = viewed("4.2", "Padded", shop=made.shop(products=(bare,)))
    line = view.lines[0]
    assert {one.field for one in line.missing} == {"customs_words", "hs", "origin", "unit_weight"}
    assert line.at("hs").mark == "look"
    assert line.at("unit_weight").words == NET_UNKNOWN
    assert line.at("value") is None
    assert view.is_lacking
    assert set(view.in_short.split(", ")) >= {"words", "HS code", "origin", "net weight"}


def test_the_heaviest_gives_the_mark(viewed):
    view = viewed("0.7", lines=(made.line(made.BOOK, 1, 2400),))
    assert view.mark == "stop"
    assert view.all_missing[0].mark == "stop"


def test_a_piece_not_weighed_yet_has_its_declaration_already(viewed):
    bare = replace(made.CARD, hs="")
    view = viewed(None, shop=made.shop(products=(bare,)))
    assert (view.gross, view.form, view.lines[0].at("hs").short) == ("", "CN22", "HS code")


def test_an_answered_look_is_no_longer_missing(viewed):
    bare = made.shop(products=(replace(made.CARD, origin=""),))
    assert viewed("4.2", "Padded", shop=bare).lines[0].at("origin")
    assert viewed("4.2", "Padded", shop=bare, answered=frozenset({"origin-missing"})).lines[0].at("origin") is None


def test_a_tax_number_is_masked(viewed):
    view = viewed("4.2", "Padded", shop=made.shop(tax_ids={"ioss": "IM3720000224"}))
    assert view.tax_number == "•••••••••224"


def test_the_first_piece_carries_the_lines(viewed):
    from desk.domain.piece import PieceKey

    assert viewed("4.2", "Padded", key=PieceKey("1001", 2), pieces_in_order=2).lines == ()
    first = viewed("4.2", "Padded", pieces_in_order=2)
    assert first.number == "1001-1"
    assert [one.short for one in first.missing if one.mark == "look"] == ["what is in which piece"]


def test_only_pieces_abroad_are_listed(judged, terms):
    verdicts = {1: judged(), 2: judged("4.2", "Padded", address=made.FRANCE)}
    assert list(customs_views(verdicts, terms)) == [2]
