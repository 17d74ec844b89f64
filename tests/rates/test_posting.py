"""What the post sees of a piece."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

import pytest

from desk.domain.shop.mailer import MailerKind
from desk.domain.weight import Weight, WeightUnit
from desk.rates.posting import shown
from desk.rates.shape import Traits
from tests.rates.tiny import piece


def test_the_weight_includes_a_label_added_later():
    assert piece("1", label_weight=Weight.of(2, "g")).weight == Weight(Decimal("30.349523125"))


def test_abroad_is_every_country_but_one():
    assert [piece("1", country=country).abroad for country in ("US", "DE")] == [False, True]


@pytest.mark.parametrize(
    ("kind", "traits"),
    [
        (MailerKind.BOX, Traits(boxed=True)),
        (MailerKind.TUBE, Traits(tube=True)),
        (MailerKind.CARD, Traits(card=True)),
        (MailerKind.PADDED, Traits()),
        (None, Traits()),
    ],
)
def test_traits_follow_the_mailer(kind, traits):
    assert piece("1", mailer_kind=kind).traits == traits


def test_traits_set_by_hand_override_the_mailer():
    assert piece("1", stiff=True, uneven=True, paper=False).traits == Traits(stiff=True, uneven=True, paper=False)


def test_a_typed_reading_is_a_number_with_its_unit_and_step():
    assert shown("1.20", "lb", "0.01").unit is WeightUnit.POUND
    with pytest.raises(InvalidOperation):
        shown("heavy", "oz", "0.1")
