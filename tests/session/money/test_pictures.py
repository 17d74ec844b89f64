"""What the pictures show, with the arithmetic written out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import SimpleNamespace

import pytest

from desk.domain.ledger import REPLACED, Entry, GroupBy
from desk.domain.money import Money
from desk.domain.places.country import DOMESTIC_PLACES, MILITARY_STATES
from desk.domain.places.states import STATE_NAMES
from desk.session.money import pictures
from desk.session.undo import undo
from desk.store.tables import ledger
from desk.store.tables.ledger_sums import PaidAgainst
from tests.session import made
from tests.session.money.test_books import row

YEAR = date(2026, 1, 1), date(2026, 12, 31)


@pytest.fixture
def mailed(sitting):
    """Three packages to Oregon, one to Ohio, one to France in another year; two were paid, one with an adjustment."""
    rows = [row(Entry.POSTAGE_ESTIMATED, -720, n) for n in (1, 2, 3)]
    rows += [row(Entry.POSTAGE_ESTIMATED, -600, 4, state="OH")]
    rows += [row(Entry.POSTAGE_ESTIMATED, -1740, 5, date(2025, 5, 5), country="FR", state="")]
    rows += [row(Entry.POSTAGE_ESTIMATED, 720, 1, why=REPLACED), row(Entry.POSTAGE_PAID, -750, 1)]
    rows += [row(Entry.POSTAGE_ESTIMATED, 600, 4, state="OH", why=REPLACED)]
    rows += [row(Entry.POSTAGE_PAID, -600, 4, state="OH")]
    rows += [row(Entry.ADJUSTMENT, -125, 1)]
    with sitting.store.act("enter") as tx:
        ledger.add(tx, rows)
    return sitting


def test_packages_are_counted_by_state_with_the_largest_first(mailed) -> None:
    found = pictures.places(mailed, GroupBy.STATE, YEAR, "USD")
    assert [(one.name, one.count, one.share) for one in found] == [("Oregon", 3, 0.75), ("Ohio", 1, 0.25)]
    words = "4 packages to 2 states. Most went to Oregon (3) and Ohio (1)."
    assert pictures.place_words(found, "state", "states") == words
    assert pictures.place_words((), "state", "states") == ""


def test_packages_without_a_state_have_no_tile(mailed) -> None:
    with mailed.store.act("enter") as tx:
        ledger.add(tx, [row(Entry.POSTAGE_ESTIMATED, -720, 7, state="")])
    assert [one.name for one in pictures.places(mailed, GroupBy.STATE, YEAR, "USD")] == ["Oregon", "Ohio"]


def test_packages_are_counted_by_country_and_year_and_not_after_undo(mailed) -> None:
    assert [one.name for one in pictures.places(mailed, GroupBy.COUNTRY, YEAR, "USD")] == ["United States"]
    before = date(2025, 1, 1), date(2025, 12, 31)
    assert [one.name for one in pictures.places(mailed, GroupBy.COUNTRY, before, "USD")] == ["France"]
    assert pictures.places(mailed, GroupBy.COUNTRY, before, "EUR") == ()
    undo(mailed)
    assert pictures.places(mailed, GroupBy.COUNTRY, YEAR, "USD") == ()


def test_paid_against_estimated_counts_adjustments_and_only_what_was_paid(mailed) -> None:
    points = pictures.paid_points(mailed, YEAR, "USD")
    assert [(one.piece_id, one.estimated, one.paid) for one in points] == [(1, 720, 875), (4, 600, 600)]  # 750 + 125
    (line,) = pictures.paid_lines(points)
    assert (line.packages, line.estimated, line.paid, line.more, line.less) == (2, Money(1320), Money(1475), 1, 0)
    words = "2 packages: estimated $13.20, paid $14.75. 1 cost more than estimated, 0 less."
    assert pictures.paid_words([line]) == words


def test_amounts_of_another_currency_are_left_out(mailed) -> None:
    euros = [row(Entry.POSTAGE_ESTIMATED, -900, 9), row(Entry.POSTAGE_PAID, -950, 9)]
    with mailed.store.act("enter") as tx:
        ledger.add(tx, [replace(one, amount=Money(one.amount.minor, "EUR")) for one in euros])
    assert [one.piece_id for one in pictures.paid_points(mailed, YEAR, "USD")] == [1, 4]
    assert [one.piece_id for one in pictures.paid_points(mailed, YEAR, "EUR")] == [9]


pytestmark = pytest.mark.stocked(
    [made.order(f"100{n}") for n in range(1, 5)],
    weights={f"100{n}": made.weighing(ounces) for n, ounces in enumerate(("0.7", "0.8", "1.0", "1.1"), 1)},
)


def test_the_chart_has_every_package_once_and_the_price_steps_of_the_list(pile) -> None:
    service, *_ = pictures.services_weighed(pile)
    spread = pictures.weight_spread(pile, service)
    assert service == "letter-stamped"
    assert spread.count == 4
    assert {bar.to - bar.above for bar in spread.bars} == {Decimal("0.1")}
    assert [bar.to for bar in spread.bars if bar.count] == [Decimal(one) for one in ("0.7", "0.8", "1.0", "1.1")]
    # Price list of July 12, 2026: letters up to 1 oz 0.82, up to 2 oz 1.11; a reading of 1.0 is too close to call
    assert [(step.to, step.price, step.count) for step in spread.steps] == [
        (Decimal(1), Money(82), 2),
        (Decimal(2), Money(111), 2),
    ]
    words = "4 packages, letter, stamped, up to 1.1 oz. The largest group (2) is in the step up to 1 oz, at $0.82."
    assert pictures.spread_words(spread) == words


def test_heavy_packages_get_wider_bars(pile, sitting) -> None:
    made.weigh_piece(sitting, 1, made.weighing("70", "Padded"))
    spread = pictures.weight_spread(pile, pile.verdicts[1].offer.service)
    assert len(spread.bars) <= pictures.MOST_BARS
    assert spread.bars[-1].above < 70 <= spread.bars[-1].to
    assert spread.steps[-1].count == 1


def test_only_the_packages_weighed_last_are_drawn(pile, monkeypatch) -> None:
    monkeypatch.setattr(pictures, "LATEST", 3)
    assert pictures.weight_spread(pile, "letter-stamped").count == 3


def test_a_service_without_packages_has_an_empty_chart(pile) -> None:
    spread = pictures.weight_spread(pile, "media")
    assert (spread.count, spread.steps, pictures.spread_words(spread)) == (0, (), "")


def test_every_state_has_a_name() -> None:
    assert len(STATE_NAMES) == 50 + 1 + len(DOMESTIC_PLACES) + len(MILITARY_STATES)  # states, DC, islands, military
    assert STATE_NAMES.keys() > DOMESTIC_PLACES | MILITARY_STATES


def test_the_service_with_the_largest_difference_is_listed_first() -> None:
    """One service is 1.00 off, one 0.10; of two equally far off, the name decides."""
    amounts = {"flat": (1000, 1010), "letter-stamped": (100, 200), "media": (500, 490)}
    points = [PaidAgainst(n, service, "USD", *both) for n, (service, both) in enumerate(amounts.items())]
    assert [line.service for line in pictures.paid_lines(points)] == ["letter-stamped", "flat", "media"]


def test_of_two_services_used_equally_often_the_name_decides(pile, monkeypatch) -> None:
    used = ("media", "flat", "letter-stamped", "letter-stamped")
    latest = [SimpleNamespace(offer=SimpleNamespace(service=service)) for service in used]
    monkeypatch.setattr(pictures, "_weighed", lambda _pile: latest)
    assert pictures.services_weighed(pile) == ("letter-stamped", "flat", "media")
