import pytest

from desk.domain.faults import Refused
from desk.session.customs.hand_copy import copy_fields
from tests.session.made import BOOK, FRANCE, line


def test_every_field_comes_in_the_order_of_the_form_without_empty_lines(judged, terms):
    found = copy_fields(judged("25", "Padded", address=FRANCE, lines=(line(BOOK, 2, 1900),)), terms)
    named = {f"{field.group}: {field.name}": field.text for field in found}
    assert named["To: City"] == "Lyon"
    assert named["Article 1 of 1: Value in USD"] == "38.00"
    assert named["Article 1 of 1: Country of origin"] == "United States"
    assert named["Totals: Total value in USD"] == "38.00"
    assert named["Also asked: Export filing"] == "NOEEI 30.37(a)"
    assert "To: Phone" not in named


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"lines": (line(BOOK, 1, 0),)}, "is not complete. Fix this first: Book is declared with a value of zero."),
        ({"address": None}, "needs no customs form"),
    ],
)
def test_an_incomplete_declaration_or_one_without_a_form_is_refused(judged, terms, fields, why):
    at_home = fields.get("address", FRANCE) is None
    verdict = judged("13", "Padded", **({"lines": (line(BOOK),)} if at_home else {"address": FRANCE, **fields}))
    with pytest.raises(Refused, match=why):
        copy_fields(verdict, terms)


def test_a_piece_that_is_not_weighed_is_refused(judged, terms):
    with pytest.raises(Refused, match="is not weighed yet"):
        copy_fields(judged(None, address=FRANCE), terms)
