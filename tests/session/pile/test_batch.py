"""The pile as a whole: counts, sums worked out by hand, one stock of stamps, and each old list reported once."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from desk.costs.ledger import PieceMoney
from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.status import PieceStatus
from desk.session.pile.batch import batch_of, judge_batch
from desk.session.pile.stamps_out import StampsOut
from desk.session.rulebook import Rulebook
from desk.session.verdict.verdict import Terms, Verdict
from tests.session import made

ON_THE_LINE = ["to weigh", "needs a look", "ready", "labeled", "handed over"]


def test_an_empty_batch_has_no_sums(terms: Terms) -> None:
    batch = judge_batch([], terms)
    assert (batch.verdicts, batch.shared, batch.drawer_left) == ((), (), made.DRAWER)
    assert batch.counts() == dict.fromkeys(ON_THE_LINE, 0)
    nothing = Money(0)
    assert batch.money("USD") == PieceMoney(nothing, nothing, nothing, nothing, nothing)


def test_the_verdicts_are_in_the_order_of_the_cases(terms: Terms) -> None:
    batch = judge_batch([made.case(number="9"), made.case(None, number="1"), made.case(number="5")], terms)
    assert [verdict.case.key.order for verdict in batch.verdicts] == ["9", "1", "5"]


def test_counts_include_every_usual_status_and_others_only_where_used(terms: Terms) -> None:
    cases = [
        made.case(None, number="1"),
        made.case("1.4", number="2", status="unpaid"),
        made.case("0.7", number="3"),
        made.case("0.7", number="4"),
        made.case("0.7", number="5", postage_on=True),
        made.case("0.7", number="6", handed_over=True),
        made.case("0.7", number="7", beside=PieceStatus.LOST),
    ]
    counted = judge_batch(cases, terms).counts()
    assert list(counted) == [*ON_THE_LINE, "lost"]
    assert list(counted.values()) == [1, 1, 2, 1, 1, 1]


def test_the_sums_of_weighed_pieces_add_up_by_hand(terms: Terms) -> None:
    # Postage 0.82 and 1.11 by the list of 2026-07-12; materials 0.12 mailer + 0.04 insert + 0.03 label each.
    batch = judge_batch(
        [made.case("0.7", number="1"), made.case("1.5", number="2"), made.case(None, number="3")], terms
    )
    money = batch.money("USD")
    assert (money.charged, money.postage) == (Money(1000), Money(193))
    assert (money.materials, money.refund) == (Money(38), Money(0))
    assert money.margin == Money(1000 - 193 - 38)


def test_the_stock_of_stamps_decreases_piece_by_piece(terms: Terms) -> None:
    batch = judge_batch([made.case("0.7", number="1"), made.case("1.5", number="2")], terms)
    left = (StampStock(StampKind.FOREVER, 3), StampStock(StampKind.ADDITIONAL_OUNCE, 2))
    assert batch.drawer_left == left


def test_a_current_price_list_is_not_mentioned_and_missing_tracking_is_reported_once(terms: Terms) -> None:
    shared = judge_batch([made.case(number="1"), made.case(number="2")], terms).shared
    assert [(one.found.code, one.pieces) for one in shared] == [("untracked", ("1", "2"))]


def test_an_outdated_price_list_is_reported_once_for_the_pile(rulebook: Rulebook) -> None:
    terms = Terms(made.shop(), rulebook, date(2027, 1, 18))
    cases = [made.case("12", "Padded", number=number) for number in "12"]
    batch = judge_batch([*cases, made.case(number="3")], terms)
    old = [one.found.facts["until"] for one in batch.shared if one.found.code == "chart-out-of-date"]
    assert old == ["2027-01-17"]


def test_unweighed_pieces_mention_no_price_list(rulebook: Rulebook) -> None:
    assert judge_batch([made.case(None, "Padded")], Terms(made.shop(), rulebook, date(2026, 10, 4))).shared == ()


def test_verdicts_with_their_stamps_make_the_same_batch(judged: Callable[..., Verdict], terms: Terms) -> None:
    out = StampsOut(terms)
    ours = batch_of(out.hand_out([judged("0.7"), judged("1.5")]), terms, out)
    assert ours == judge_batch([made.case("0.7"), made.case("1.5")], terms)


@pytest.mark.parametrize("currency", ["USD", "EUR"])
def test_no_amounts_are_zero_in_the_requested_currency(terms: Terms, currency: str) -> None:
    assert judge_batch([made.case(None)], terms).money(currency).charged == Money(0, currency)


def test_a_status_or_choice_in_several_spellings_is_asked_about_once(terms: Terms) -> None:
    cases = [
        made.case(number="1", status="On hold", shipping_choice="Express"),
        made.case(number="2", status="on-hold", shipping_choice="express "),
        made.case(number="3", status="pending"),
    ]
    asked = [(one.found.code, one.pieces) for one in judge_batch(cases, terms).shared]
    assert asked.count(("status-unsorted", ("1", "2"))) == 1
    assert asked.count(("choice-unsorted", ("1", "2"))) == 1
    assert len([code for code, _ in asked if code == "status-unsorted"]) == 2


def test_two_rigid_mailers_that_differ_from_their_kind_are_distinguished(rulebook: Rulebook) -> None:
    boards = [replace(made.BOARD, name=name, stiff=False) for name in ("Board A", "Board B")]
    terms = Terms(made.shop(mailers=boards), rulebook, made.ON)
    batch = judge_batch([made.case("3", board.name, number=board.name[-1]) for board in boards], terms)
    assert [one.pieces for one in batch.shared if one.found.code == "kind-overruled"] == [("A",), ("B",)]


@pytest.mark.parametrize(
    ("listed", "fields", "short"),
    [
        (2, {}, True),
        (3, {}, False),
        (0, {}, False),
        (2, {"handed_over": True}, False),
        (2, {"beside": PieceStatus.SET_ASIDE}, False),
    ],
)
def test_a_firm_sheet_needs_three_pieces_that_are_still_here(rulebook, listed, fields, short):
    """Price list of July 12, 2026, certificates of mailing: at least three pieces on a firm sheet."""
    cases = [made.case(number=str(n), extras=("certificate-firm-sheet",), **fields) for n in range(listed)]
    found = judge_batch(cases, Terms(made.shop(), rulebook, made.ON))
    assert ("firm-sheet-short" in [one.found.code for one in found.shared]) is short
