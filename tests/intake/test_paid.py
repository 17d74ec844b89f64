"""A list of paid amounts: read completely, or refused with one sentence for each fault."""

from __future__ import annotations

import pytest

from desk.domain.faults import Unreadable
from desk.domain.money import Money
from desk.intake.paid import read_paid, read_paid_text

TRACKING = "9101026837331000039521"


def refused(text: str) -> list[str]:
    with pytest.raises(Unreadable) as caught:
        read_paid_text(text, "USD")
    return [str(fault) for fault in caught.value.faults]


def test_rows_are_read_with_spaces_in_numbers_and_signs_in_amounts(tmp_path):
    file = tmp_path / "paid.csv"
    file.write_text(
        "Order,Tracking number,Amount paid,Type\n#1041,9101 0268 3733 1000 0395 21,$7.20,\n1042,,1.50,Adjustment\n"
    )
    first, second = read_paid(file, "USD")
    assert (first.reference, first.tracking, first.paid, first.kind) == ("1041", TRACKING, Money(720), "paid")
    assert (second.paid, second.kind) == (Money(150), "adjustment")


@pytest.mark.parametrize(
    ("amount", "kind", "paid"),
    [("-2.10", "", Money(210)), ("2.10", "Refund", Money(210)), ("-2.10", "Refund", Money(210))],
)
def test_a_refund_is_its_kind_or_an_amount_below_zero(amount, kind, paid):
    (row,) = read_paid_text(f"order\tamount\ttype\n1041\t{amount}\t{kind}\n", "USD")
    assert (row.kind, row.paid) == ("refund", paid)


@pytest.mark.parametrize(
    ("text", "count", "words"),
    [
        ("order,city\n1041,Bend\n", 1, "amount paid"),
        ("amount,city\n7.20,Bend\n", 1, "order number"),
        (f"order,tracking\n1041,{TRACKING}\n1042,{TRACKING}\n", 1, "line 2"),
        ("order,tracking\n1041,9101026837331000039522\n", 1, "check digit"),
        ("order,amount\n1041,seven\n,3.00\n", 2, "order number"),
    ],
)
def test_each_fault_is_one_sentence_and_a_faulty_list_is_not_read_at_all(text, count, words):
    messages = refused(text)
    assert len(messages) == count
    assert any(words in line for line in messages)


@pytest.mark.parametrize(
    ("currency", "is_read"),
    [
        ("USD", True),
        ("usd", True),
        ("$", True),
        ("", True),
        ("US Dollar", True),
        ("US dollars", True),
        ("EUR", False),
        ("Canadian Dollar", False),
        ("pounds", False),
    ],
)
def test_a_column_with_another_currency_is_refused(currency, is_read):
    text = f"order\tamount\tcurrency\n1041\t7.20\t{currency}\n"
    if is_read:
        assert read_paid_text(text, "USD")[0].paid == Money(720)
    else:
        (fault,) = refused(text)
        assert "USD, the shop's currency" in fault


def test_an_adjustment_in_favor_of_the_shop_stays_below_zero():
    (row,) = read_paid_text("order\tamount\ttype\n1041\t-0.40\tAdjustment\n", "USD")
    assert (row.kind, row.paid) == ("adjustment", Money(-40))


@pytest.mark.parametrize("header", ["name,zip,amount", "order,amount", "name,zip,order,amount"])
def test_an_order_number_or_a_name_with_a_postal_code_is_enough(header):
    cells = {"name": "Ada Vell", "zip": "97701", "order": "1041", "amount": "7.20"}
    (row,) = read_paid_text(f"{header}\n{','.join(cells[name] for name in header.split(','))}\n", "USD")
    assert row.paid == Money(720)


@pytest.mark.parametrize("header", ["name,amount", "zip,amount", "name,zip"])
def test_a_name_without_a_postal_code_is_not_enough(header):
    cells = {"name": "Ada Vell", "zip": "97701", "amount": "7.20"}
    assert refused(f"{header}\n{','.join(cells[name] for name in header.split(','))}\n")


@pytest.mark.parametrize(("amount", "kind"), [("0.00", "paid"), ("0.01", "paid"), ("-0.01", "refund")])
def test_only_an_amount_below_zero_is_a_refund(amount, kind):
    (row,) = read_paid_text(f"order\tamount\n1041\t{amount}\n", "USD")
    assert row.kind == kind
