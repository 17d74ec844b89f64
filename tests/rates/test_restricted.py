"""Restricted goods: what is refused abroad, what may not fly, what goes by surface."""

from __future__ import annotations

import pytest

from desk.domain.shop.product import Restriction
from desk.rates.restricted import air_bar, barred_goods, handling
from tests.rates.chart_folder import shipped
from tests.rates.tiny import codes, piece


def holding(*kinds: Restriction, **fields: str):
    return piece("5", restricted=frozenset(kinds), **fields)


@pytest.mark.parametrize("kind", [Restriction.FLAMMABLE, Restriction.AEROSOL])
def test_flammable_goods_are_stopped_abroad(kind):
    (stop,) = barred_goods(holding(kind, country="DE"))
    assert (stop.code, stop.severity, stop.facts["goods"]) == ("restricted-goods", "stop", kind.value)
    assert "Publication 52" in stop.source


@pytest.mark.parametrize("kind", [Restriction.MAGNET, Restriction.BATTERY])
def test_magnets_and_batteries_abroad_are_questioned_but_not_stopped(kind):
    assert barred_goods(holding(kind, country="DE")) == []


@pytest.mark.parametrize(
    ("kind", "region", "barred"),
    [
        (Restriction.FLAMMABLE, "OH", False),
        (Restriction.FLAMMABLE, "HI", True),
        (Restriction.AEROSOL, "AE", True),
        (Restriction.BATTERY, "HI", False),
        (Restriction.MAGNET, "OH", False),
    ],
)
def test_surface_mail_goods_are_stopped_where_only_air_mail_goes(kind, region, barred):
    assert bool(barred_goods(holding(kind, region=region))) is barred


@pytest.mark.parametrize(
    ("service", "barred"),
    [("ground-retail", False), ("media", False), ("priority-retail", True), ("letter-stamped", True), ("flat", True)],
)
@pytest.mark.parametrize("kind", [Restriction.FLAMMABLE, Restriction.AEROSOL, Restriction.BATTERY])
def test_surface_mail_goods_do_not_fly(service, barred, kind):
    assert (air_bar(shipped().service(service), holding(kind, Restriction.MAGNET)) is not None) is barred
    assert air_bar(shipped().service(service), holding(Restriction.MAGNET)) is None


def test_rules_of_domestic_mail_are_reported():
    assert codes(handling(holding(Restriction.FLAMMABLE, Restriction.MAGNET))) == ["surface-only", "restricted-allowed"]
    assert handling(holding(Restriction.MAGNET, country="DE")) == []
