"""The forecast for waiting pieces, from weights and mailers alone, without a store."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.money import zero
from desk.domain.orders.order import OrderLine
from desk.domain.shop.stamp import StampKind, StampStock
from desk.session.pile.before_words import forecast_words
from desk.session.pile.forecast import Forecast, contents_key, forecast, foreseen, usual_mailers
from desk.session.verdict.default_mailer import smallest_that_fits
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from tests.session import made
from tests.session.made import BOOK, CARD, FRANCE, case, line

MYSTERY = (OrderLine("Mystery", 1, zero()),)


def test_a_piece_is_judged_as_if_it_weighed_what_its_contents_do(terms: Terms) -> None:
    waiting = case(None, mailer="A7")
    verdict = foreseen(waiting, terms, {})
    assert verdict is not None
    assert verdict.case.weighing is not None
    assert waiting.weighing is None
    assert verdict.case.weighing.shown.value >= CARD.unit_weight.grams


@pytest.mark.parametrize("lines", [MYSTERY, (line(), *MYSTERY)])
def test_unknown_pieces_are_not_forecast(terms: Terms, lines: tuple[OrderLine, ...]) -> None:
    assert foreseen(case(None, lines=lines), terms, {}) is None


def test_every_waiting_piece_is_counted_once_and_weighed_ones_are_not(terms: Terms) -> None:
    cases = [
        case(None),
        case(None, number="2", lines=MYSTERY),
        case(None, number="3", address=FRANCE, lines=MYSTERY),
        case(None, number="4", lines=(line(BOOK),)),
        case("0.7", number="5"),
    ]
    reported = forecast([judge(one, terms) for one in cases], terms)
    assert (reported.letters, reported.parcels, reported.abroad, reported.unknown) == (1, 1, 1, 1)
    assert (reported.pieces, reported.priced) == (4, 2)
    assert reported.postage > zero()


def test_an_empty_pile_has_an_empty_forecast(terms: Terms) -> None:
    assert forecast([], terms) == Forecast()


def test_the_order_of_lines_does_not_change_the_contents() -> None:
    two = case(None, lines=(line(CARD), line(BOOK)))
    assert contents_key(two) == contents_key(case(None, lines=(line(BOOK), line(CARD))))
    assert contents_key(two) != contents_key(case(None, lines=(line(CARD, 2), line(BOOK))))


def test_the_last_mailer_for_the_same_contents_is_the_usual_one(terms: Terms) -> None:
    before = [case("0.7", "A7"), case("1.2", "Padded"), case(None, lines=(line(BOOK),))]
    assert usual_mailers(before) == {contents_key(case(None)): "Padded"}


def test_the_smallest_mailer_as_thick_as_the_contents_is_assumed(terms: Terms) -> None:
    shop = terms.shop
    assert (smallest_that_fits(case(None).order, shop) or BOOK).name == "A7"
    assert (smallest_that_fits(case(None, lines=(line(BOOK),)).order, shop) or CARD).name == "Padded"
    assert smallest_that_fits(case(None, lines=(line(BOOK, 9),)).order, shop) is None
    kept = replace(shop, mailers=tuple(replace(one, only_service="flat") for one in shop.mailers))
    assert smallest_that_fits(case(None).order, kept) is None


def test_the_stamps_to_buy_are_those_missing_for_what_is_weighed_and_what_waits(rulebook) -> None:
    short = Terms(made.shop(stamps=(StampStock(StampKind.FOREVER, 2),)), rulebook, made.ON)
    verdicts = [judge(case(value, number=str(n)), short) for n, value in enumerate(["0.7", "0.7", None, None])]
    reported = forecast(verdicts, short)
    assert reported.to_buy == "2 Forever"
    assert forecast_words(reported).endswith("Stamps to buy: 2 Forever.")
    assert forecast(verdicts[:2], short).to_buy == ""


def test_a_mailer_used_on_an_earlier_day_is_used_for_the_forecast(terms: Terms) -> None:
    waiting = [judge(case(None), terms)]
    assert forecast(waiting, terms).letters == 1
    reported = forecast(waiting, terms, before=[case("0.7", "Padded")])
    assert (reported.letters, reported.pieces) == (0, 1)
