"""A fresh and good check of the scale halves its tolerance for the day."""

from datetime import timedelta
from decimal import Decimal

import pytest

from desk.domain.orders.piece import PieceKey
from desk.session.bench.bench_view import bench_view
from desk.session.bench.weigh import weigh
from desk.session.pile.stored_cases import read_terms
from desk.session.verdict.scale_trust import SCALE_CHECK, ScaleTrust, tolerance_scale
from desk.store.tables import settings
from desk.store.times import to_utc_text
from tests.session.made import following_pile, order, stock, weighing


def check(sitting, *, ok=True, ago=timedelta(0)):
    moment = sitting.clock.now() - ago
    with sitting.store.act("Check the scale") as tx:
        settings.write(tx, SCALE_CHECK, ScaleTrust(to_utc_text(moment), Decimal("0.3"), ok))
    sitting.announce(sitting.store.last_changes)


@pytest.mark.parametrize(
    ("ok", "ago", "scale"),
    [
        (True, timedelta(0), "0.5"),
        (True, timedelta(hours=1), "0.5"),
        (True, timedelta(days=1), "1"),
        (False, timedelta(0), "1"),
    ],
)
def test_a_good_check_halves_the_tolerance_for_the_day(sitting, ok, ago, scale):
    check(sitting, ok=ok, ago=ago)
    assert tolerance_scale(sitting) == Decimal(scale)
    assert read_terms(sitting).price_rules.tolerance_scale == Decimal(scale)


def test_without_a_check_the_whole_tolerance_applies(sitting):
    assert tolerance_scale(sitting) == 1


def test_a_scale_check_clears_a_reading_near_a_limit(sitting):
    """0.9 oz in steps of 0.1: open at 1 division (reference table of class III), not at half of one."""
    stock(sitting, [order("1")])
    weigh(sitting, [(PieceKey("1"), weighing("0.9"))])
    pile = following_pile(sitting)
    (number,) = pile.verdicts
    codes = [found.code for found in pile.verdicts[number].findings]
    wide = bench_view(pile.verdicts[number], pile.terms).ruler
    assert "near-a-step" in codes
    check(sitting)
    assert "near-a-step" not in [found.code for found in pile.verdicts[number].findings]
    narrow = bench_view(pile.verdicts[number], pile.terms).ruler
    assert (round(wide.high_oz, 3), round(narrow.high_oz, 3)) == (Decimal("1.05"), Decimal("1.0"))
