"""A post that bills in grams and another currency: the list in the handbook, with nothing of any one country."""

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import MailerKind
from desk.domain.shop.shop import Policy
from desk.domain.weight import Shown, WeightUnit
from desk.rates.lists.chart import Charts
from desk.rates.posting import Posting
from desk.rates.quote import PriceRules, quote
from tests.rates.chart_folder import RESOURCES, shipped_zones

ENVELOPE, BOX = Size.of("160", "110", "2", "mm"), Size.of("200", "150", "80", "mm")
POLICY = Policy(currency="EUR", parcel_services=("brief", "pakje"))


@pytest.fixture
def rules(tmp_path) -> PriceRules:
    """Return the rules with the shipped lists and the handbook's list."""
    page = (RESOURCES / "handbook" / "price-lists.md").read_text(encoding="utf-8")
    folder = Path(tmp_path / "zz-2026-03-01")
    folder.mkdir()
    for language, name in (("toml", "chart.toml"), ("csv", "cells.csv")):
        (block,) = re.findall(rf"```{language}\n(.*?)```", page, re.DOTALL)
        (folder / name).write_text(block, encoding="utf-8")
    charts = Charts.read(RESOURCES / "charts", tmp_path)
    return PriceRules(charts, shipped_zones(), POLICY, date(2026, 7, 15))


def posting(grams, size=ENVELOPE, kind=MailerKind.ENVELOPE, division="0.1"):
    return Posting(gross=Shown(Decimal(grams), WeightUnit.GRAM, Decimal(division)), size=size, mailer_kind=kind)


@pytest.mark.parametrize(
    ("grams", "price", "figure"), [("19", "1.15", "19"), ("20.6", "2.30", "21"), ("90", "3.45", "90")]
)
def test_a_letter_is_priced_in_grams_and_euros(rules, grams, price, figure):
    chosen = quote(posting(grams), rules).chosen
    assert (chosen.service, chosen.price) == ("brief", Money.of(price, "EUR"))
    assert (chosen.billable.figure, chosen.billable.unit) == (Decimal(figure), "g")


def test_a_parcel_is_priced_in_grams_and_euros(rules):
    chosen = quote(posting("2000.6", BOX, MailerKind.BOX), rules).chosen
    assert (chosen.service, chosen.price.text(), chosen.billable.figure) == ("pakje", "9.50", 2001)


def test_doubt_is_reported_in_grams(rules):
    """20.0 g in steps of 0.1 is between 19.95 and 20.05, so rounding allows both 1.15 and 2.30."""
    answer = quote(posting("20.0"), rules)
    (found,) = [each for each in answer.findings if each.code == "too-close-to-call"]
    assert (found.facts["limit"], found.facts["limit_unit"]) == ("20", "g")
    assert (found.facts["lower"], found.facts["higher"]) == ("1.15", "2.30")
    assert answer.chosen.price.text() == "2.30"


def test_lists_in_another_currency_are_excluded_with_a_reason(rules):
    reasons = {out.service: out.reason.code for out in quote(posting("19"), rules).out}
    assert (reasons["letter-stamped"], reasons["flat"]) == ("list-in-other-money", "list-in-other-money")
    dollars = replace(rules, policy=Policy(parcel_services=("brief", "ground-retail")))
    answer = quote(posting("19"), dollars)
    assert answer.chosen.service == "letter-stamped"
    assert {out.service: out.reason.code for out in answer.out}["brief"] == "list-in-other-money"
