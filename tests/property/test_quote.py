"""Properties of quotes: weight, units and repetition, over made-up lists and over the shipped ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from itertools import pairwise
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from desk.domain.finding import Finding
from desk.domain.length import INCH_MM, Length, Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import Policy, Untracked
from desk.domain.weight import GRAMS_IN, Shown, Weight, WeightUnit
from desk.rates.case import open_case
from desk.rates.lists.chart import Charts
from desk.rates.offer import candidate
from desk.rates.quote import PriceRules, quote
from desk.rates.savings import lighter
from desk.rates.shape import form_of
from desk.rates.zone import Zones
from tests.rates.tiny import piece, rules

MADE_UP = rules(parcel_services=("ground-retail", "priority-retail", "media"))
sides = st.tuples(
    st.decimals("5", "40", places=2), st.decimals("3.5", "20", places=2), st.decimals("0.01", "12", places=3)
)
tenths = st.integers(1, 1200).map(lambda count: Decimal(count) / 10)
traits = st.fixed_dictionaries(
    {
        "stiff": st.booleans(),
        "uneven": st.booleans(),
        "media": st.booleans(),
        "mailer_kind": st.sampled_from(MailerKind),
        "country": st.sampled_from(["US", "DE", "SO"]),
        "documents_only": st.booleans(),
    }
)


def size_of(inches) -> Size:
    return Size(*(Length(side * INCH_MM) for side in inches))


def posting(ounces: Decimal, inches, fields):
    return piece(str(ounces), size_of(inches), division="0.1", **fields)


@cache
def shipped() -> PriceRules:
    """The lists that come with the program; no fixture, because a failure would print them whole."""
    resources = Path(__file__).resolve().parents[2] / "resources"
    policy = Policy(parcel_services=("ground-retail", "priority-retail", "ground-commercial"))
    return PriceRules(Charts.read(resources / "charts"), Zones.read(resources / "zones"), policy, date(2026, 7, 15))


def test_no_shipped_list_charges_less_for_more():
    """Only a price list could charge less for more, and none of ours does: every column rises or stays."""
    charts = [chart for lists in shipped().charts.lists.values() for chart in lists]
    falls = [
        (chart.service, chart.chart, key, low.max_label)
        for chart in charts
        for key, rows in chart.rows.items()
        for low, high in pairwise(rows)
        if high.price < low.price
    ]
    assert falls == []
    assert len(charts) > 30


@given(lighter=tenths, heavier=tenths, inches=sides, fields=traits, service=st.sampled_from(["ground-retail", "flat"]))
def test_a_service_never_charges_less_for_a_heavier_piece(lighter, heavier, inches, fields, service):
    lighter, heavier = sorted((lighter, heavier))
    each = posting(lighter, inches, fields)
    form = form_of(each.size, each.traits)
    found = candidate(0, service, "5" if service == "ground-retail" else "", each, form, shipped())
    if isinstance(found, Finding):
        return
    offers = [found.offer_at(Weight.of(ounces, WeightUnit.OUNCE)) for ounces in (lighter, heavier)]
    if not any(isinstance(offer, Finding) for offer in offers):
        assert offers[0].price <= offers[1].price


@given(lighter=tenths, heavier=tenths, inches=sides, fields=traits)
def test_the_cheapest_price_never_falls_as_weight_rises(lighter, heavier, inches, fields):
    lighter, heavier = sorted((lighter, heavier))
    light, heavy = (quote(posting(weight, inches, fields), MADE_UP) for weight in (lighter, heavier))
    if light.chosen and heavy.chosen:
        # By hand in the made-up lists: the parcel price at 13.1 oz is above every flat and letter price.
        assert light.chosen.price <= heavy.chosen.price


@given(weight=tenths, inches=sides, fields=traits, unit=st.sampled_from([WeightUnit.GRAM, WeightUnit.KILOGRAM]))
def test_a_change_of_units_changes_no_decision(weight, inches, fields, unit):
    typed = posting(weight, inches, fields)
    factor = GRAMS_IN[WeightUnit.OUNCE] / GRAMS_IN[unit]
    seen = Shown(weight * factor, unit, typed.gross.division * factor)
    metric = Size(*(Length.of(side * INCH_MM, "mm") for side in inches))
    first, second = quote(typed, MADE_UP), quote(replace(typed, gross=seen, size=metric), MADE_UP)
    assert decision(second) == decision(first)


@given(weight=tenths, inches=sides, fields=traits)
def test_quoting_again_gives_the_same_answer(weight, inches, fields):
    each = posting(weight, inches, fields)
    day = shipped()
    fresh = PriceRules(day.charts, day.zones, day.policy, day.on)
    assert quote(each, fresh) == quote(each, day)


@given(weight=tenths, inches=sides, fields=traits)
def test_an_uncertain_reading_never_pays_the_lower_price(weight, inches, fields):
    each = posting(weight, inches, fields)
    answer = quote(each, MADE_UP)
    exact = replace(each, gross=replace(each.gross, division=Decimal("1e-9")))
    plain = quote(exact, MADE_UP)
    if answer.chosen and plain.chosen:
        assert plain.chosen.price <= answer.chosen.price
    if "too-close-to-call" not in [found.code for found in answer.findings]:
        assert answer.weight == each.weight


def decision(answer):
    """What a person would act on."""
    chosen = answer.chosen
    return (
        chosen and (chosen.service, chosen.price, chosen.billable.figure, chosen.billable.unit),
        answer.shape,
        [found.code for found in answer.findings],
        [(out.service, out.reason.code) for out in answer.out],
    )


PLACES = ["10001", "20201", "33101", "90001", "96910", "96940", "09001", "99999"]
many = st.lists(
    st.tuples(
        tenths,
        st.sampled_from([("9.5", "4.125", "0.05"), ("12", "9", "0.5"), ("9", "7", "3"), ("30", "20", "12"), None]),
        traits,
        st.sampled_from(PLACES),
        st.sampled_from([None, ("letter-stamped", "ground-retail"), ("intl-package",), ("media",)]),
        st.integers(0, 60000),
        st.sampled_from(["USD", "EUR"]),
        st.booleans(),
    ),
    min_size=2,
    max_size=12,
)


@given(
    pieces=many, untracked=st.sampled_from([Policy(), Policy(untracked=Untracked.UP_TO, untracked_up_to=Money(4500))])
)
def test_earlier_quotes_in_a_pile_change_no_answer(pieces, untracked):
    """Every piece of a pile gets the answer it would get alone, whatever went before it."""
    day = shipped()
    together = PriceRules(day.charts, day.zones, untracked, day.on)
    for weight, inches, fields, place, allowed, cents, currency, asked in pieces:
        posting = piece(
            str(weight),
            Size.of(*inches, "in") if inches else None,
            division="0.1",
            destination_zip=place,
            allowed=allowed,
            value=Money(cents, currency),
            order_value=Money(cents, currency),
            stamp_asked=asked,
            **fields,
        )
        alone = PriceRules(day.charts, day.zones, untracked, day.on)
        assert quote(posting, together) == quote(posting, alone)


@given(weight=tenths, inches=sides, fields=traits)
def test_a_suggested_lighter_weight_saves_what_was_stated(weight, inches, fields):
    """A hint is true: at the weight it names, the piece costs less by the amount it states."""
    each = posting(weight, inches, fields)
    answer = quote(each, MADE_UP)
    found = lighter(each, answer, MADE_UP)
    if found is None:
        return
    assert answer.chosen.price - found.saves == outcome_price(each, found.limit)
    assert Decimal(0) < (answer.weight - found.limit).ounces() <= 1


def outcome_price(each, limit):
    """The cheapest price at exactly that weight, with no doubt about it."""
    offers = [found.offer_at(limit) for found in open_case(each, MADE_UP).candidates]
    return min(offer.price for offer in offers if not isinstance(offer, Finding))
