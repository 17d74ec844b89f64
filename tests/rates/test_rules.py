"""Rules of a day: lists are looked up once, and compared by content."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from tests.rates.tiny import LETTER, rules


def test_the_price_list_in_force_is_looked_up_once_per_day():
    day = rules(LETTER)
    assert day.chart("letter-stamped") is day.chart("letter-stamped")
    assert (day.chart("letter-stamped"), day.chart("flat")) == (LETTER, None)


def test_no_list_before_its_first_day():
    day = rules(LETTER)
    assert day.chart("letter-stamped") is LETTER
    assert replace(day, on=date(2025, 12, 31)).chart("letter-stamped") is None  # another day is looked up separately


def test_services_are_in_the_order_of_their_ids():
    assert rules().services() == sorted(rules().services())
    assert rules(LETTER).services() == ["letter-stamped"]


def test_earlier_lookups_make_no_difference():
    used, fresh = rules(LETTER), rules(LETTER)
    used.chart("letter-stamped")
    assert used == fresh
