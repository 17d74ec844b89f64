"""Fees of extras, and insurance against the shop's own losses. Fees: price list of July 12, 2026."""

from __future__ import annotations

from datetime import date

import pytest

from desk.costs.insurance import LossRate
from desk.domain.money import Money
from desk.session.money.fee_table import fee_rows


def fees(terms, service: str, lost: int = 0, sent: int = 0) -> dict[tuple[str, Money | None], tuple[Money, str]]:
    return {(row.extra, row.up_to): (row.fee, row.worth) for row in fee_rows(terms, service, LossRate(lost, sent))}


def test_fees_of_a_domestic_package_without_what_its_price_includes(terms) -> None:
    found = fees(terms, "ground-commercial")
    assert found["certificate of mailing", None] == (Money(245), "")
    assert found["signature", None] == (Money(415), "")
    assert found["insurance", Money(20000)][0] == Money(450)
    assert ("insurance", Money(10000)) not in found  # 100.00 is included


def test_insurance_of_a_letter_starts_at_the_first_row(terms) -> None:
    found = fees(terms, "letter-stamped")
    assert found["insurance", Money(5000)][0] == Money(280)


@pytest.mark.parametrize(
    ("lost", "sent", "worth"),
    [(0, 0, "can't tell yet"), (0, 50, "can't tell yet"), (0, 2000, "no"), (200, 2000, "yes")],
)
def test_insurance_pays_when_the_loss_rate_exceeds_the_fee_over_the_value_at_risk(terms, lost, sent, worth):
    """4.50 for goods of 200.00 with 100.00 included: 4.5 %. Wilson's interval for 0 of 50 is 0 to 7.1 %, for 0 of 2000
    0 to 0.2 %, for 200 of 2000 8.8 to 11.4 %.
    """
    (row,) = (row for row in fee_rows(terms, "ground-commercial", LossRate(lost, sent)) if row.up_to == Money(20000))
    assert row.needed == pytest.approx(0.045)
    assert row.worth == worth


def test_insurance_abroad_has_its_own_fees(terms) -> None:
    found = fees(terms, "intl-priority")
    assert {fee for (extra, up_to), (fee, _) in found.items() if up_to == Money(30000)} == {Money(1385)}
    assert not [extra for extra, _ in found if extra == "signature"]


def test_an_unknown_service_has_no_fees(terms) -> None:
    assert fee_rows(terms, "no such service", LossRate(0, 0)) == ()


def test_a_list_that_is_not_in_force_yet_has_no_fees(terms) -> None:
    charts = terms.rulebook.charts
    assert charts.extra_prices("insurance", date(2020, 1, 1), "ground-commercial") == ()
    assert [one.amount for one in charts.extra_prices("insurance", terms.on, "ground-commercial")][:2] == [
        Money(280),
        Money(350),
    ]
