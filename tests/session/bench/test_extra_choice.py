"""Extras of a piece: what may be bought with it, at which price, and what that changes."""

from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.finding import Code
from desk.domain.money import Money
from desk.domain.shop.shop import ExchangeRate
from desk.domain.status import PieceStatus
from desk.session.bench.extra_choice import choose_extra, extra_choices, insurance_words
from desk.session.contents import tables
from desk.session.contents.hand_over_contents import group_of, hand_over_content
from desk.session.lists import postage_list
from desk.session.money.losses import LossRate
from desk.session.pile.batch import judge_batch
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from desk.store.tables.hand_overs import put_postage_on
from tests.session import made
from tests.session.made import FRANCE, ON, case, line, order, shop, weighing

LIGHT = replace(made.CARD, unit_weight=None)  # no weight is known, so none is odd
CERTIFICATE, SHEET = "certificate-of-mailing", "certificate-firm-sheet"


@pytest.fixture
def terms(rulebook) -> Terms:
    services = {
        "parcel_services": ("ground-commercial",),
        "intl_services": ("intl-package", "intl-priority"),
    }
    rates = (ExchangeRate("EUR", "USD", made.Decimal("1.1767"), ON),)
    return Terms(shop(policy=made.policy(**services), rates=rates, products=(LIGHT,)), rulebook, ON)


def choices(terms, **fields):
    return {one.code: one.words for one in extra_choices(judge(case(**fields), terms), terms)}


def parcel(extras=(), price=12000, **fields):
    return case("12", "Padded", lines=(line(price=price),), extras=extras, **fields)


def test_each_extra_is_offered_with_its_price_by_the_july_list(terms):
    """Price list of July 12, 2026: 2.45, 0.75, insurance to $200 4.50, electronic signature 4.15."""
    assert list(choices(terms, value="12", mailer="Padded", lines=(line(price=12000),)).values()) == [
        "certificate of mailing, $2.45",
        "certificate on a firm sheet (3 pieces or more), $0.75",
        "insurance, $4.50",
        "signature, $4.15",
    ]


def test_a_letter_is_offered_no_signature_and_a_piece_without_weight_nothing(terms):
    assert set(choices(terms)) == {CERTIFICATE, SHEET, "insurance"}
    assert choices(terms, value=None) == {}


@pytest.mark.parametrize(
    ("price", "offered"),
    [(19999, False), (20001, True), (90000, True), (90001, False)],
)
def test_insurance_abroad_is_offered_for_priority_above_the_included_cover(terms, price, offered):
    """Price list of July 12, 2026: included to $200, 13.85 to $300, 35.95 to $900; IMM 232."""
    heavy = choices(
        terms, value="80", mailer="Padded", lines=(line(price=price),), address=FRANCE, service="intl-priority"
    )
    assert ("insurance-abroad" in heavy) is offered
    light = choices(
        terms, value="8", mailer="Padded", lines=(line(price=price),), address=FRANCE, service="intl-package"
    )
    assert "insurance-abroad" not in light


def test_insurance_that_the_price_now_includes_is_reported(terms):
    cheap = {"value": "80", "mailer": "Padded", "lines": (line(price=15000),), "address": FRANCE}
    words = choices(terms, **cheap, service="intl-priority", extras=("insurance-abroad",))["insurance-abroad"]
    assert words == "insurance, included"


@pytest.mark.parametrize(("euros", "price"), [(4249, Money(280)), (4250, Money(350)), (8499, Money(450))])
def test_goods_in_another_currency_are_insured_at_the_shops_rate(terms, euros, price):
    """EUR 1 is USD 1.1767 here, so that 42.50 is 50.01, and 84.99 is 100.01: steps end at 50, 100, 200."""
    goods = replace(line(), unit_price=Money(euros, "EUR"))
    verdict = judge(
        case("12", "Padded", lines=(goods,), currency="EUR", discount=Money(0, "EUR"), extras=("insurance",)), terms
    )
    assert verdict.extras_price == price


def test_extras_count_in_postage_margin_and_their_own_columns(terms):
    bare, bought = judge(parcel(), terms), judge(parcel(("insurance", "signature")), terms)
    assert bought.postage - bare.postage == bought.extras_price == Money(450 + 415)
    assert bare.money.margin - bought.money.margin == Money(865)
    row = dict(zip(tables.PIECE_COLUMNS, tables.piece_row(bought, "USD"), strict=True))
    assert (row["extras"], str(row["extras_price"])) == ("insurance;signature", "8.65")
    assert row["postage"] == bought.postage.amount
    empty = dict(zip(tables.PIECE_COLUMNS, tables.piece_row(bare, "USD"), strict=True))
    assert (empty["extras"], empty["extras_price"]) == ("", None)


def test_insured_goods_are_fully_covered(terms):
    codes = {found.code for found in judge(parcel(), terms).findings}
    assert Code.OVER_INCLUDED_COVER in codes
    assert Code.OVER_INCLUDED_COVER not in {found.code for found in judge(parcel(("insurance",)), terms).findings}


def test_an_extra_that_the_service_does_not_sell_has_to_be_removed(terms):
    verdict = judge(case(extras=("signature",), answered=frozenset({"extra-not-sold"})), terms)
    assert verdict.status is PieceStatus.NEEDS_A_LOOK
    assert (verdict.extras_sold, verdict.extras_price) == ((), Money(0))
    assert choices(terms, extras=("signature",))["signature"] == "signature, not sold with this service"


@pytest.mark.parametrize(
    ("price", "lost", "sent", "expected"),
    [
        # $4.50 (price list of July 12, 2026) for the $20.00 above the $100 that the price covers
        (12000, 0, 0, "Insurance pays off if more than 22.5% of packages get lost: too few to tell. None of your packages was mailed 15 or more days ago, so your loss rate isn't known yet."),
        (12000, 1, 500, "Insurance pays off if more than 22.5% of packages get lost: not worth it. You lost 1 of 500 packages (0.2%; 95% sure: 0% to 1.1%)."),
        (12000, 60, 100, "Insurance pays off if more than 22.5% of packages get lost: worth it. You lost 60 of 100 packages (60%; 95% sure: 50.2% to 69.1%)."),
        (12000, 2, 10, "Insurance pays off if more than 22.5% of packages get lost: too few to tell. You lost 2 of 10 packages (20%; 95% sure: 5.7% to 51%)."),
        (10001, 0, 0, "Insurance costs at least what it would pay beyond the included cover."),
        (10450, 0, 0, "Insurance costs at least what it would pay beyond the included cover."),
        (10451, 0, 9, "Insurance pays off if more than 99.8% of packages get lost: not worth it. You lost 0 of 9 packages (0%; 95% sure: 0% to 29.9%)."),
        (10000, 0, 0, ""),
    ],
)  # fmt: skip
def test_insurance_is_compared_with_the_shops_own_losses(terms, price, lost, sent, expected):
    assert insurance_words(judge(parcel(price=price), terms), terms, LossRate(lost, sent)) == expected


def test_insurance_in_another_currency_is_compared_at_an_approximate_rate(terms):
    goods = replace(line(), unit_price=Money(30000, "CAD"))
    paid = case("12", "Padded", lines=(goods,), currency="CAD", discount=Money(0, "CAD"))
    assert insurance_words(judge(paid, terms), terms, LossRate(0, 0)).startswith("Insurance pays off if more than ")


def test_insurance_is_not_mentioned_before_weighing_or_where_it_is_not_sold(terms):
    unweighed = case(None, "Padded", lines=(line(price=12000),))
    light = case("8", "Padded", lines=(line(price=12000),), address=FRANCE, service="intl-package")
    assert [insurance_words(judge(one, terms), terms, LossRate(0, 0)) for one in (unweighed, light)] == ["", ""]


def test_stamps_pay_the_letter_and_extras_are_paid_at_the_counter(terms):
    bare, bought = judge_batch([case(number="1"), case(number="2", extras=(CERTIFICATE,))], terms).verdicts
    assert bare.stamps.stamps == bought.stamps.stamps
    assert (group_of(bare), group_of(bought)) == ("box", "counter")
    assert bought.money.overpaid == Money(0)


@pytest.mark.parametrize(("extra", "group"), [("insurance", "pickup"), (CERTIFICATE, "counter"), (SHEET, "counter")])
def test_a_certificate_sends_a_parcel_to_the_counter(terms, extra, group):
    verdict = judge(parcel((extra,)), terms)
    assert group_of(verdict) == group


def test_papers_name_the_extras(terms):
    batch = judge_batch([parcel(("insurance", "signature"), service="ground-commercial")], terms)
    (row,) = hand_over_content(batch, terms).groups[0].rows
    assert row.mark == "insured, signature"
    (listed,) = postage_list.postage_rows(batch, terms)
    assert dict(zip(postage_list.COLUMNS, listed, strict=True))["extras"] == "insurance; signature"


@pytest.mark.parametrize(("count", "is_reported"), [(0, False), (1, True), (2, True), (3, False)])
def test_a_firm_sheet_takes_three_pieces_or_more_and_that_is_reported_once(terms, count, is_reported):
    cases = [case(number=str(number), extras=(SHEET,)) for number in range(count)] + [case(number="9")]
    gone = [
        case(number="10", extras=(SHEET,), handed_over=True),
        case(number="11", extras=(SHEET,), beside=PieceStatus.SET_ASIDE),
    ]
    short = [one for one in judge_batch([*cases, *gone], terms).shared if one.found.code is Code.FIRM_SHEET_SHORT]
    assert bool(short) is is_reported
    assert all(len(one.pieces) == count for one in short)


pytestmark = pytest.mark.stocked([order("1")], weights={"1": weighing("0.7")})


def chosen(sitting: Sitting) -> tuple[str, ...]:
    return read_stored(sitting)[0].case.extras


def test_choosing_is_a_step_and_can_be_undone(full):
    piece = read_stored(full)[0].id
    choose_extra(full, piece, CERTIFICATE, wanted=True)
    choose_extra(full, piece, "insurance", wanted=True)
    assert (chosen(full), next_steps(full)[0]) == ((CERTIFICATE, "insurance"), "Added insurance: 1")
    choose_extra(full, piece, CERTIFICATE, wanted=False)
    assert (chosen(full), next_steps(full)[0]) == (("insurance",), "Removed certificate of mailing: 1")
    for before in ((CERTIFICATE, "insurance"), (CERTIFICATE,), ()):
        undo(full)
        assert chosen(full) == before


def test_one_certificate_replaces_the_other(full):
    piece = read_stored(full)[0].id
    for code in (CERTIFICATE, SHEET):
        choose_extra(full, piece, code, wanted=True)
    assert chosen(full) == (SHEET,)


def test_a_paid_piece_keeps_its_extras(full):
    piece = read_stored(full)[0].id
    with full.store.act("Put postage on") as tx:
        put_postage_on(tx, [piece])
    with pytest.raises(Refused, match="its extras can't change"):
        choose_extra(full, piece, CERTIFICATE, wanted=True)
    assert chosen(full) == ()
