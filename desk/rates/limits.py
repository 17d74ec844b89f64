"""Limits: whether a service may carry this piece, by shape, size, goods and value; and its weight range.

Sources: DMM 101 (updated 2023-07-09) for domestic shapes and sizes; the post's page on First-Class Package
International Service for its sizes; IMM 242 and 252 (archives of 2020) for goods and value; Postal Bulletin 22523
(2019) for letters and flats abroad.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.exact import short
from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.length import Size, inches
from desk.domain.service import PackageRule
from desk.domain.weight import POUND_G, Weight
from desk.rates.cubic import cubic_refusal
from desk.rates.lists.price_list import ServiceChart
from desk.rates.posting import Posting
from desk.rates.rules import PriceRules
from desk.rates.shape import (
    FLAT_LIMIT,
    GIRTH_LIMIT,
    LETTER_LIMIT,
    PARCEL_LIMIT,
    UNMEASURED,
    ShapeOptions,
)

ONE_POUND = Weight(POUND_G)
LIMIT_CODES = frozenset({Code.OVER_WEIGHT, Code.OVER_SIZE, Code.OVER_VALUE, Code.OVER_DIMENSIONAL_WEIGHT})
REPORTED_WHEN_CHEAPER = LIMIT_CODES | {Code.LIST_ENDS}
_PACKAGE_SOURCE = "First-Class Package International Service page of the post"
_BOX_LONGEST, _BOX_SUM = inches(24).mm, inches(36).mm
_FACE_LENGTH, _FACE_HEIGHT = inches(6).mm, inches(4).mm
_ROLL_LENGTH = (inches(4).mm, inches(36).mm)
_ROLL_SUM = (inches("6.75").mm, inches(42).mm)


@dataclass(frozen=True, slots=True)
class Span:
    """The weights at which a service takes this piece: over `above` (None: from zero), up to and including `most`."""

    above: Weight | None
    most: Weight | None
    source: str = ""


def refusal(chart: ServiceChart, posting: Posting, form: ShapeOptions, rules: PriceRules) -> Finding | None:
    """Return why the service refuses the piece at any weight; None when it takes it."""
    if chart.facts.documents_only and not posting.documents_only:
        return reason(Code.DOCUMENTS_ONLY, "IMM 242.1, 242.2")
    if not form.shape:
        return reason(Code.UNDER_SIZE, "DMM 601.1.2")
    return _wrong_shape(chart, form) or _wrong_size(chart, posting, form) or _over_value(chart, posting, rules)


def weight_span(chart: ServiceChart, form: ShapeOptions, country_limit: Weight | None) -> Span:
    """Return the weights the service takes, from the limits of shape, service and destination."""
    if "parcel" in chart.shapes:
        limits = [limit for limit in (chart.max_weight, country_limit, PARCEL_LIMIT) if limit is not None]
        return Span(None, min(limits), chart.source)
    if "flat" in chart.shapes:
        above = LETTER_LIMIT if form.shape == "letter" else None
        source = chart.source if chart.facts.abroad else "DMM 101.1.1c, 101.6.1.1"
        return Span(above, chart.max_weight or FLAT_LIMIT, source)
    return Span(None, min(chart.max_weight or LETTER_LIMIT, LETTER_LIMIT), "DMM 101.1.1c")


def over_weight(span: Span) -> Finding:
    """Return the refusal of a piece heavier than the range."""
    assert span.most is not None
    whole_pounds = span.most >= ONE_POUND and not span.most.grams % POUND_G
    number = span.most.grams / POUND_G if whole_pounds else span.most.ounces()
    return reason(Code.OVER_WEIGHT, span.source, limit=short(number), unit="lb" if whole_pounds else "oz")


def value_unclear(chart: ServiceChart, posting: Posting, rules: PriceRules) -> Finding | None:
    """Return a stop when the service has a value limit in a currency the shop has no rate for; else None."""
    limit = chart.max_value
    if limit is None or rules.is_over(posting.value, limit) is not None:
        return None
    facts = {"limit": limit.text(), "currency": limit.currency, "valued_in": posting.value.currency}
    return finding(Code.VALUE_NOT_COMPARED, chart.source, None, **facts)


def _wrong_shape(chart: ServiceChart, form: ShapeOptions) -> Finding | None:
    if form is UNMEASURED and "parcel" not in chart.shapes:
        return reason(Code.SIZE_NOT_KNOWN, "DMM 101")
    if "parcel" in chart.shapes:
        fits = form.shape in chart.shapes
    elif "flat" in chart.shapes:
        fits = form.flat_form and (form.shape != "letter" or form.flat_when_heavy)
    elif "letter" in chart.shapes:
        fits = form.shape == "letter" and form.flat_form
    else:
        fits = form.card
    return None if fits else reason(Code.NOT_ITS_SHAPE, "DMM 101", shape=form.shape)


def _wrong_size(chart: ServiceChart, posting: Posting, form: ShapeOptions) -> Finding | None:
    if chart.facts.measured_as is PackageRule.CUBIC:
        return cubic_refusal(posting)
    if posting.size is None or chart.flat_rate:
        return None
    if chart.facts.measured_as is PackageRule.SMALL_PACKET:
        return _package_size(posting.size, tube=posting.rolled)
    whole = form.length_plus_girth
    if whole is None or whole <= GIRTH_LIMIT:
        return None
    most = inches(str(chart.facts.girth_limit))
    if whole > most:
        return reason(Code.OVER_SIZE, "DMM 101.3.2", limit=short(most.inches()), measure="length plus girth")
    if chart.oversized:
        return None
    return reason(Code.LIST_ENDS, chart.source, service=chart.service, chart=chart.chart, what="oversized")


def _package_size(size: Size, *, tube: bool) -> Finding | None:
    longest, middle, shortest = (side.mm for side in size.sides())
    if tube:
        return _roll_size(longest, longest + 2 * middle)
    tests = (
        (longest > _BOX_LONGEST, Code.OVER_SIZE, "24", "longest side"),
        (longest + middle + shortest > _BOX_SUM, Code.OVER_SIZE, "36", "length, height and thickness"),
        (longest < _FACE_LENGTH or middle < _FACE_HEIGHT, Code.UNDER_SIZE, "6 x 4", "face"),
    )
    return _first_failed(tests)


def _roll_size(length: Decimal, whole: Decimal) -> Finding | None:
    tests = (
        (length > _ROLL_LENGTH[1], Code.OVER_SIZE, "36", "length"),
        (whole > _ROLL_SUM[1], Code.OVER_SIZE, "42", "length plus twice the diameter"),
        (length < _ROLL_LENGTH[0], Code.UNDER_SIZE, "4", "length"),
        (whole < _ROLL_SUM[0], Code.UNDER_SIZE, "6.75", "length plus twice the diameter"),
    )
    return _first_failed(tests)


def _first_failed(tests: tuple[tuple[bool, Code, str, str], ...]) -> Finding | None:
    failed = next((test for test in tests if test[0]), None)
    return reason(failed[1], _PACKAGE_SOURCE, limit=failed[2], measure=failed[3]) if failed else None


def _over_value(chart: ServiceChart, posting: Posting, rules: PriceRules) -> Finding | None:
    limit = chart.max_value
    if limit is None or not rules.is_over(posting.value, limit):
        return None
    return reason(Code.OVER_VALUE, chart.source, limit=limit.text(), currency=limit.currency)
