"""Billable weight against the printed examples."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from desk.domain.length import INCH_MM, Size
from desk.domain.weight import Weight
from desk.rates.billable import dimensional_weight, figure_of, whole_inches

OLD, NEW = date(2025, 10, 5), date(2026, 7, 12)


@pytest.mark.parametrize(
    ("service", "value", "unit", "figure", "source"),
    [
        ("letter-stamped", "1.2", "oz", "2 oz", "DMM 133.1.2, archived 2015-05-31: the printed example"),
        ("flat", "1.2", "oz", "2 oz", "DMM 133.1.2, archived 2015-05-31; the same in DMM 233.1.2"),
        ("priority-retail", "1.2", "lb", "2 lb", "DMM 423.1.1, archived 2008-05-12: the printed example"),
        ("media", "1.2", "lb", "2 lb", "Notice 123, list headed October 05, 2025, p. 9"),
        ("flat", "9.1", "oz", "10 oz", "Notice 123, list headed October 05, 2025, p. 6"),
        ("letter-stamped", "3.4", "oz", "3.5 oz", "Notice 123, list headed October 05, 2025, p. 6"),
        ("ground-commercial", "15.999", "oz", "15.999 oz", "Notice 123, list headed October 05, 2025, p. 15"),
        ("ground-commercial", "16.0", "oz", "1 lb", "Notice 123, list headed October 05, 2025, p. 15"),
    ],
)
def test_weights_are_rounded_as_published(charts, service, value, unit, figure, source):
    number, written = figure_of(Weight.of(value, unit), charts.in_force(service, OLD))
    assert f"{number} {written}" == figure, source


@pytest.mark.parametrize(
    ("inches", "rounding", "whole", "source"),
    [
        ("20.25", "nearest", 20, "DMM Advisory, 2006-10-30; superseded 2026-07-12"),
        ("20.75", "nearest", 21, "DMM Advisory, 2006-10-30; superseded 2026-07-12"),
        ("12.2", "up", 13, "trade press on the operator's notice of 2026-05-11"),
    ],
)
def test_dimensions_are_rounded_as_published(inches, rounding, whole, source):
    assert whole_inches(Decimal(inches) * INCH_MM, rounding) == whole, source


@pytest.mark.parametrize(
    ("sides", "on", "pounds", "source"),
    [
        (("18", "14", "8"), NEW, 15, "note on the change of 2026-07-12: 2016 / 139 = 14.50 (second-hand)"),
        (("18", "14", "8"), OLD, 13, "Notice 123 of 2025-10-05 pp. 5, 7; divisor 166 from memory: 2016 / 166 = 12.14"),
        (("14", "10", "4"), OLD, None, "Notice 123 of 2025-10-05 pp. 5, 7, 15: 560 cu in is not over 1728"),
        (("14", "10", "4"), NEW, None, "Notice 123 of 2025-10-05 pp. 5, 7, 15: 560 cu in is not over 1728"),
    ],
)
def test_dimensional_weights_equal_the_published_ones(charts, sides, on, pounds, source):
    rule = charts.in_force("ground-retail", on).dimensional
    found = dimensional_weight(Size.of(*sides, "in"), rule)
    assert found == (Weight.of(pounds, "lb") if pounds else None), source
