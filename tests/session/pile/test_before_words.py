"""What is to be settled before weighing, in words."""

from __future__ import annotations

import pytest

from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.money import Money, zero
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.product import Product
from desk.session.pile.before_weighing import DOOR, STAMP, ThingToSortOut
from desk.session.pile.before_words import forecast_words, thing_words, to_settle
from desk.session.pile.forecast import Forecast
from desk.session.words.sentences import sentence, way_out

KEYS = (PieceKey("1"), PieceKey("2"))
UNKNOWN = finding(Code.PRODUCT_UNKNOWN, items="Glu pot")
DOORS = reason(DOOR, orders="1, 2", saved="")
STAMPS = reason(STAMP, order="1", note="A stamp please")


@pytest.mark.parametrize("found", [DOORS, STAMPS])
def test_issues_before_weighing_have_the_usual_sentences(found: Finding) -> None:
    assert thing_words(ThingToSortOut(found, KEYS)) == (sentence(found), way_out(found))


def test_a_shared_address_says_what_it_saves() -> None:
    saving = reason(DOOR, orders="1, 2", saved="2.85", currency="USD")
    assert "2.85" in thing_words(ThingToSortOut(saving, KEYS, saved=Money(285, "USD")))[0]
    assert "save" not in thing_words(ThingToSortOut(DOORS, KEYS, saved=zero("USD")))[0]


def test_an_unknown_product_names_what_it_resembles() -> None:
    issue, out = thing_words(ThingToSortOut(UNKNOWN, KEYS, resembles=(Product("GP", "Glue pot"),)))
    assert issue == "“Glu pot” is not in your products."
    assert out.startswith("Do you mean Glue pot (GP)? Add it")


def test_a_note_is_quoted() -> None:
    assert "A stamp please" in thing_words(ThingToSortOut(STAMPS, KEYS))[0]


def test_a_correction_needs_no_decision() -> None:
    mended = ThingToSortOut(finding(Code.POSTAL_CODE_MENDED, typed="2906", corrected="02906"), KEYS)
    things = [mended, ThingToSortOut(UNKNOWN, KEYS), ThingToSortOut(DOORS, KEYS), ThingToSortOut(STAMPS, KEYS)]
    assert to_settle(things) == tuple(things[1:])


@pytest.mark.parametrize(
    ("reported", "expected"),
    [
        (Forecast(), "Nothing is waiting to be weighed."),
        (Forecast(letters=2, flats=1, abroad=3, unknown=1, postage=Money(500, "USD"), priced=4),
         "2 letters, 1 large envelope, 3 abroad, 1 we can't predict. Estimated postage for 4 pieces: $5.00."),
    ],
)  # fmt: skip
def test_the_forecast_is_described_in_words(reported: Forecast, expected: str) -> None:
    assert forecast_words(reported) == expected
