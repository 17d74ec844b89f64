"""Every row of a collection of published worked examples, asked like a person would, or with the reason why not.

`worked_examples.csv` names the source of each row. `question` is a line for `ask`, or a check of this file.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from io import StringIO
from typing import Any

import pytest

from desk.app.ask import ask
from desk.domain.length import Length, Size
from desk.domain.shop.shop import LetterPostage, Policy
from desk.domain.weight import Shown, WeightUnit
from desk.rates.billable import whole_inches
from desk.rates.doubt import tolerance_divisions
from desk.rates.posting import Posting, shown
from desk.rates.quote import quote
from desk.rates.rules import PriceRules
from desk.session.rulebook import Rulebook
from desk.session.scale.coin_check import coins
from tests.conftest import ROOT

ON = date(2026, 11, 25)
with (ROOT / "tests/standards/worked_examples.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
ASKED = [row for row in ROWS if row["question"]]


def side(asked: dict[str, Any], rulebook: Rulebook) -> dict[str, Any]:
    """Return a side in whole inches as that day's list rounds it for dimensional weight."""
    chart = rulebook.charts.in_force(asked["service"], date.fromisoformat(asked["date"]))
    assert chart is not None
    assert chart.dimensional is not None
    return {"inches": str(whole_inches(Length.of(asked["inches"], "in").mm, chart.dimensional.rounding))}


def clerk(asked: dict[str, Any], rulebook: Rulebook) -> dict[str, Any]:
    """Return whether a large envelope of that weight must be handed to a clerk."""
    policy = Policy(letter_postage=LetterPostage(asked["payment"]), parcel_services=())
    size = Size.of("12", "9", asked["thickness"], "in")
    piece = Posting(gross=shown(asked["ounces"], "oz", "0.1"), size=size, destination_zip="97701", origin_zip="55802")
    codes = {found.code for found in quote(piece, PriceRules(rulebook.charts, rulebook.zones, policy, ON)).findings}
    return {"hand_to_clerk": "hand-to-clerk" in codes}


def coin(asked: dict[str, Any], _rulebook: Rulebook) -> dict[str, Any]:
    """Return the coins in grams and ounces."""
    weight = coins(asked["coin"], 1).weight
    grams = weight.grams * asked["count"]
    ounces = grams / Decimal("28.349523125")
    return {"grams": f"{grams:.3f}", "ounces": f"{ounces:.4f}"}


def tolerance(asked: dict[str, Any], _rulebook: Rulebook) -> dict[str, Any]:
    """Return the tolerance of a scale in use at so many divisions of a tenth of an ounce."""
    load = Decimal(asked["divisions"]) / 10
    return {"divisions": str(tolerance_divisions(Shown(load, WeightUnit.OUNCE, Decimal("0.1"))))}


CHECKS: dict[str, Callable[[dict[str, Any], Rulebook], dict[str, Any]]] = {
    "side": side,
    "clerk": clerk,
    "coins": coin,
    "tolerance": tolerance,
}


@pytest.fixture(scope="module")
def answers() -> dict[str, dict[str, Any]]:
    """Return the answers of `ask` to every question, by question."""
    questions = [row["question"] for row in ASKED if '"ask"' in row["question"]]
    out = StringIO()
    ask(StringIO("\n".join(questions)), out)
    return dict(zip(questions, map(json.loads, out.getvalue().splitlines()), strict=True))


@pytest.mark.parametrize("row", ASKED, ids=[f"{row['topic']}: {row['example']}" for row in ASKED])
def test_a_published_example_gets_its_published_answer(
    row: dict[str, str], answers: dict[str, dict[str, Any]], rulebook: Rulebook
) -> None:
    expected, asked = json.loads(row["answer"]), json.loads(row["question"])
    found = CHECKS[asked["check"]](asked, rulebook) if "check" in asked else answers[row["question"]]
    found["longest"] = str(max(map(len, found.get("lines", [])), default=0))
    assert {name: found.get(name) for name in expected} == expected, row["source"]


def test_a_row_that_is_not_asked_has_a_reason() -> None:
    """Five rows: an unmeasured shape, a season that has ended, and two zones of a replaced matrix."""
    assert len(ROWS) == 66
    assert [bool(row["question"]) for row in ROWS] == [not row["not_asked"] for row in ROWS]
    assert len(ROWS) - len(ASKED) == 5
    assert all(row["source"] for row in ROWS)
