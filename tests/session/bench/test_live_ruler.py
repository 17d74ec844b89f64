"""The ruler while a weight settles, and the edge of its band of doubt at every kind of step.

Steps by Notice 123, list of 2026-07-12 (one transcription): letters each ounce up to 3.5 oz, then large envelopes; parcels
at 4, 8, 12 and 15.999 oz, then each pound. The ends of the band by NIST Handbook 44, section 2.20, Table 6, class III:
half a division for rounding, one in use up to 500 divisions, two up to 2000, three up to 4000, and half of it after a check.
"""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.weight import Shown, WeightUnit
from desk.session.bench.bench_view import RulerView, bench_view
from desk.session.bench.live_ruler import live_ruler
from desk.session.pile.packing import Placement
from desk.session.rulebook import Rulebook
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from tests.session import made

Ruler = Callable[..., RulerView]
LETTER, PARCEL = "A7", "Padded"


def shown(value: str, division: str = "0.1", unit: str = "oz", **more: Decimal) -> Shown:
    return Shown(Decimal(value), WeightUnit(unit), Decimal(division), **more)


@pytest.fixture
def ruler(rulebook: Rulebook) -> Ruler:
    """The ruler of a reading in a mailer, while it settles; the same once it is recorded, or this fails."""

    def one(reading: Shown, mailer: str, scale: str = "1") -> RulerView:
        terms = Terms(made.shop(), rulebook, made.ON, Decimal(scale))
        waiting = judge(made.case(None), terms)
        live = live_ruler(waiting, terms, reading, Placement(mailer))
        recorded = replace(waiting.case, weighing=made.weighing(mailer=mailer))
        recorded = replace(recorded, weighing=replace(recorded.weighing, shown=reading))
        assert live == bench_view(judge(recorded, terms), terms).ruler
        assert waiting.case.weighing is None  # nothing is kept
        assert live is not None
        return live

    return one


def test_the_live_ruler_shows_the_weight_and_nearby_steps(ruler: Ruler) -> None:
    live = ruler(shown("1.3"), LETTER)
    assert (live.weight_oz, live.low_oz, live.high_oz) == (Decimal("1.3"), Decimal("1.15"), Decimal("1.45"))
    assert {step.price for step in live.steps} >= {"$0.82", "$1.11"}


LETTERS = [  # reading, edge in use, edge after a fresh check
    ("0.7", "", ""),
    ("0.8", "", ""),  # 0.65 to 0.95
    ("0.9", "note", ""),  # 0.75 to 1.05; after a check 0.80 to 1.00, and the end alone is no doubt
    ("1.0", "look", "look"),  # rounding alone: 0.95 to 1.05
    ("1.1", "note", ""),
    ("1.2", "", ""),
    ("1.9", "note", ""),
    ("2.0", "look", "look"),
    ("2.1", "note", ""),
    ("3.3", "", ""),
    ("3.4", "note", ""),
    ("3.5", "look", "look"),  # where letters end
    ("3.6", "note", ""),
    ("3.7", "", ""),
]


@pytest.mark.parametrize(("value", "in_use", "checked"), LETTERS)
def test_a_letter_is_uncertain_exactly_near_its_price_steps(
    ruler: Ruler, value: str, in_use: str, checked: str
) -> None:
    assert (ruler(shown(value), LETTER).doubt or "") == in_use
    assert (ruler(shown(value), LETTER, "0.5").doubt or "") == checked


PARCELS = [  # reading, step of the scale, edge in use, edge after a fresh check
    ("5.0", "0.1", "", ""),  # a whole ounce, but the price is the same on both sides
    ("7.8", "0.1", "", ""),
    ("7.9", "0.1", "note", ""),
    ("8.0", "0.1", "look", "look"),
    ("8.1", "0.1", "note", ""),
    ("8.2", "0.1", "", ""),
    ("15.8", "0.1", "", ""),  # up to 15.95
    (
        "15.9",
        "0.1",
        "note",
        "",
    ),  # up to 16.05; after a check up to 16.00, and the row of a pound costs what that of 15.999 does
    ("16.0", "0.1", "look", "look"),
    ("16.1", "0.1", "note", ""),
    ("16.2", "0.1", "", ""),
    ("15.985", "0.001", "", ""),  # a fine scale, over 4000 divisions: five of tolerance, up to 15.9905
    ("15.995", "0.001", "note", ""),  # up to 16.0005; after a check up to 15.998
    ("15.998", "0.001", "note", "note"),  # rounding ends at 15.9985
    ("15.999", "0.001", "note", "note"),  # the row ends here, and the next one costs the same up to 16
    ("16.000", "0.001", "look", "look"),  # what is over 16 oz pays the second pound
    ("16.005", "0.001", "note", ""),  # from 15.9995; after a check from 16.002
    ("16.006", "0.001", "", ""),
    ("31.9", "0.1", "note", ""),  # the step of two pounds
    ("32.0", "0.1", "look", "look"),
]


@pytest.mark.parametrize(("value", "division", "in_use", "checked"), PARCELS)
def test_a_parcel_is_uncertain_exactly_near_its_price_steps(
    ruler: Ruler, value: str, division: str, in_use: str, checked: str
) -> None:
    assert (ruler(shown(value, division), PARCEL).doubt or "") == in_use
    assert (ruler(shown(value, division), PARCEL, "0.5").doubt or "") == checked


# 28 g is 0.988 oz and its rounding reaches 1.005; 29 g is surely over (28.5 g are 1.0053 oz).
@pytest.mark.parametrize(
    ("value", "unit", "division", "edge"),
    [
        ("27", "g", "1", "note"),
        ("28", "g", "1", "look"),
        ("29", "g", "1", "note"),
        ("30", "g", "1", ""),
        ("0.06", "lb", "0.01", "look"),
        ("1.00", "oz", "0.05", "look"),
        ("0.95", "oz", "0.05", "note"),
        ("0.90", "oz", "0.05", ""),
    ],
)
def test_an_ounce_is_uncertain_exactly_near_it_on_other_scales(
    ruler: Ruler, value: str, unit: str, division: str, edge: str
) -> None:
    assert (ruler(shown(value, division, unit), LETTER).doubt or "") == edge


def test_an_empty_pan_off_zero_leads_at_most_to_a_check(ruler: Ruler) -> None:
    assert ruler(shown("0.8"), LETTER).doubt is None
    assert ruler(shown("0.8", offset=Decimal("0.1")), LETTER).doubt == "note"
    assert ruler(shown("0.8", offset=Decimal("0.1")), LETTER, "0.5").doubt is None


def test_flicker_across_a_price_step_leaves_the_price_open(ruler: Ruler) -> None:
    assert ruler(shown("1.1", low=Decimal("1.0"), high=Decimal("1.1")), LETTER).doubt == "look"
