"""The value of stamps at the prices of the day. Rules: DMM 604.1.1 (Postal Bulletin 22484), unless stated."""

from datetime import date

import pytest

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamps import choose_stamps, stamp_values
from tests.rates.chart_folder import shipped

LIST_2025 = "Notice 123, list headed October 05, 2025, p. 6"
LIST_2026 = "Notice 123, list of 2026-07-12 (one transcription)"


@pytest.mark.parametrize(
    ("kind", "on", "worth", "source"),
    [
        ("forever", date(2025, 10, 5), "0.78", f"{LIST_2025}; operator's news 2025-07-14"),
        ("additional_ounce", date(2025, 10, 5), "0.29", f"{LIST_2025}; operator's news 2025-07-14"),
        ("two_ounce", date(2025, 10, 5), "1.07", LIST_2025),
        ("three_ounce", date(2025, 10, 5), "1.36", f"{LIST_2025}; that such a stamp follows its price: from memory"),
        ("nonmachinable", date(2025, 10, 5), "1.27", f"{LIST_2025} note 1: 0.78 + 0.49"),
        ("postcard", date(2025, 10, 5), "0.61", f"{LIST_2025}; operator's news 2025-07-14"),
        ("semipostal", date(2025, 10, 5), "0.78", "the 1-oz letter price; sold at 0.90, the rest is a gift"),
        ("forever", date(2026, 7, 12), "0.82", LIST_2026),
        ("additional_ounce", date(2026, 7, 12), "0.29", "difference of quoted prices"),
        ("two_ounce", date(2026, 7, 12), "1.11", LIST_2026),
        ("three_ounce", date(2026, 7, 12), "1.40", LIST_2026),
        ("nonmachinable", date(2026, 7, 12), "1.31", f"{LIST_2026}; surcharge second-hand"),
        ("postcard", date(2026, 7, 12), "0.65", LIST_2026),
        ("global_forever", date(2026, 7, 12), "1.75", f"{LIST_2026}; day inferred"),
    ],
)
def test_stamps_have_the_value_of_the_day(kind, on, worth, source):
    assert stamp_values(shipped(), on)[StampKind(kind)].text() == worth, source


def test_a_forever_stamp_bought_before_a_rise_counts_for_more_after_it():
    before, after = (stamp_values(shipped(), on)[StampKind.FOREVER] for on in (date(2026, 7, 11), date(2026, 7, 12)))
    assert (before.text(), after.text()) == ("0.78", "0.82")


@pytest.mark.parametrize(
    ("service", "ounces", "surcharge", "expected", "source"),
    [
        ("letter-stamped", "1", "", "1 forever", LIST_2026),
        ("letter-stamped", "2", "", "1 forever + 1 additional_ounce", LIST_2026),
        ("letter-stamped", "3", "", "1 forever + 2 additional_ounce", LIST_2026),
        ("letter-stamped", "3.5", "", "1 forever + 3 additional_ounce", LIST_2026),
        (
            "letter-stamped",
            "1",
            "nonmachinable",
            "1 nonmachinable",
            "operator's news 2016-08-30 on the butterfly stamp",
        ),
    ],
)
def test_a_letter_gets_the_usual_stamps(service, ounces, surcharge, expected, source):
    on = date(2026, 7, 12)
    chart = shipped().in_force(service, on)
    price = next(row.price for row in chart.rows[""] if row.max_label == ounces)
    if surcharge:
        price += chart.surcharge(surcharge).amount
    drawer = [StampStock(kind, 9) for kind in (StampKind.FOREVER, StampKind.ADDITIONAL_OUNCE, StampKind.NONMACHINABLE)]
    found = choose_stamps(price, drawer, stamp_values(shipped(), on))
    assert (found.words(), found.overpaid) == (expected, Money(0)), source
