"""Exchange rates in Setup: own ones before rough ones, typed, dated, undone."""

from datetime import date
from decimal import Decimal

import pytest

from desk.domain.shop.shop import ExchangeRate
from desk.session.importing.import_orders import import_shop
from desk.session.pile.stored_cases import read_terms
from desk.session.setup.exchange_rates import rate_rows, remove_rate, save_rate
from desk.session.undo import undo
from tests.session.made import ON, shop

TURNED = ExchangeRate("USD", "EUR", Decimal("0.8"), date(2026, 6, 14), "bank")


@pytest.fixture
def settled(sitting):
    import_shop(sitting, shop(rates=(TURNED,)))
    return sitting


def row(sitting, currency):
    return next((row for row in rate_rows(read_terms(sitting)) if row.currency == currency), None)


def test_the_shops_rates_come_first_and_approximate_ones_fill_in(settled):
    first, *rest = rate_rows(read_terms(settled))
    assert (first.currency, first.rate, first.is_own, first.is_old) == ("EUR", "1.25", True, True)
    assert first.remark == "yours, over 30 days old"
    assert len(rest) == 28
    assert {one.remark for one in rest} == {"approximate, comes with the program"}


def test_a_rate_replaces_one_in_the_opposite_direction_in_one_step(settled):
    assert save_rate(settled, {"currency": "eur", "rate": "1.1172", "date": "", "source": "ECB"}) == ()
    assert read_terms(settled).shop.rates == (ExchangeRate("EUR", "USD", Decimal("1.1172"), ON, "ECB"),)
    undo(settled)
    assert read_terms(settled).shop.rates == (TURNED,)


def test_a_rate_saved_by_another_bench_meanwhile_is_kept(settled, monkeypatch):
    """The other bench saves just before this one gets the lock."""
    act, others = settled.store.act, [lambda: save_rate(settled, {"currency": "GBP", "rate": "1.3", "date": ""})]

    def late(*words, **facts):
        if others:
            others.pop()()
        return act(*words, **facts)

    monkeypatch.setattr(settled.store, "act", late)
    save_rate(settled, {"currency": "EUR", "rate": "1.1172", "date": ""})
    assert {rate.from_currency for rate in read_terms(settled).shop.rates} == {"EUR", "GBP"}


def test_drawing_rights_may_be_entered(settled):
    assert save_rate(settled, {"currency": "XDR", "rate": "1.37276", "date": "2026-04-21"}) == ()
    assert row(settled, "XDR").on == date(2026, 4, 21)


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"currency": "USD", "rate": "1"}, "currency"),
        ({"currency": "EURO", "rate": "1"}, "currency"),
        ({"currency": "EUR", "rate": "0"}, "rate"),
        ({"currency": "EUR", "rate": "-1"}, "rate"),
        ({"currency": "EUR", "rate": "NaN"}, "rate"),
        ({"currency": "EUR", "rate": "one"}, "rate"),
        ({"currency": "EUR", "rate": "1.1", "date": "yesterday"}, "date"),
        ({"currency": "EUR", "rate": "1.1", "date": "2026-07-16"}, "date"),
    ],
)
def test_an_unreadable_rate_is_reported_at_its_field_and_nothing_is_saved(settled, values, field):
    assert [fault.field for fault in save_rate(settled, values)] == [field]
    assert read_terms(settled).shop.rates == (TURNED,)


def test_removing_a_rate_restores_the_approximate_one(settled):
    remove_rate(settled, "EUR")
    assert row(settled, "EUR").is_own is False


@pytest.mark.parametrize(
    ("currency", "rate", "is_kept"),
    [
        ("NOK", "0.54", True),  # the rate that comes with the program is 0.108340
        ("NOK", "0.55", False),
        ("NOK", "0.0217", True),
        ("NOK", "0.0216", False),
        ("NOK", "9.69", False),  # kroner for one dollar
        ("JPY", "157", False),
        ("XDR", "0.731795", False),  # the table of January 2026 had drawing rights for one dollar
        ("XDR", "1.6", True),
        ("UAH", "41", True),  # no rate comes with the program
    ],
)
def test_a_rate_typed_in_the_wrong_direction_is_refused(settled, currency, rate, is_kept):
    faults = save_rate(settled, {"currency": currency, "rate": rate, "date": ""})
    assert [fault.field for fault in faults] == ([] if is_kept else ["rate"])
    if currency == "NOK" and not is_kept:
        assert faults[0].sentence == "Expected dollars for NOK 1: usually about 0.10834."


def test_rates_are_typed_and_shown_in_the_locale(settled, locale):
    locale("de_DE.UTF-8")
    assert save_rate(settled, {"currency": "EUR", "rate": "1,1172", "date": ""}) == ()
    assert row(settled, "EUR").rate == row(settled, "EUR").texts["rate"] == "1,1172"
    (fault,) = save_rate(settled, {"currency": "EUR", "rate": "x", "date": ""})
    assert fault.sentence == "Expected dollars for one unit, such as 1,1172."
