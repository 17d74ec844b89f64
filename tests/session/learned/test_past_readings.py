"""Past readings against what was expected: what the charts of Setup show, in figures and in words."""

import pytest

from desk.domain.weight import WeightUnit
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.learned.past_readings import (
    MOST,
    PastReading,
    readings_in_words,
    readings_of_mailer,
    readings_of_product,
)
from tests.session import made


def reading(off_g):
    return PastReading(off_g, -5.0, 5.0)


@pytest.mark.parametrize(("off_g", "inside"), [(5.0, True), (5.1, False), (-5.0, True), (-5.1, False)])
def test_a_reading_at_the_end_of_its_range_is_inside(off_g, inside):
    assert reading(off_g).is_inside is inside


@pytest.mark.parametrize(
    ("readings", "unit", "words"),
    [
        ((), None, ""),
        ((reading(6.0),), WeightUnit.GRAM, "Last package: 0 in range. The last one was 6 g heavy."),
        ((reading(6.0), reading(-2.9)), None, "Last 2 packages: 1 in range. The last one was 0.1 oz light."),
        ((reading(1.4),), WeightUnit.OUNCE, "Last package: 1 in range. The last one was as expected."),
    ],
)
def test_the_chart_is_described_in_words(readings, unit, words):
    assert readings_in_words(readings, unit) == words


def test_readings_are_those_of_the_product_and_mailer_and_at_most_forty(sitting):
    count = MOST + 15
    import_shop(sitting, made.shop())
    import_orders(sitting, [made.order(str(1001 + number)) for number in range(count)])
    pile = made.following_pile(sitting)
    for place, piece_id in enumerate(pile.verdicts):
        made.weigh_piece(sitting, piece_id, made.weighing("3.0" if place < count - 1 else "4.5", "Padded"))
    line = next(iter(pile.verdicts.values())).case.order.lines[0]
    found = readings_of_product(pile.cases(), pile.terms.shop, pile.terms.shop.product_for(line))
    assert len(found) == MOST
    assert all(one.is_inside for one in found[:-1])
    assert not found[-1].is_inside
    assert found[-1].off_g == pytest.approx(1.5 * 28.35, abs=3)
    assert readings_of_mailer(pile.cases(), "Padded") == found
    assert readings_of_mailer(pile.cases(), "A7 envelope") == ()
