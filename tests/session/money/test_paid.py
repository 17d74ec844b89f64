"""Paid amounts find their piece, replace the estimate exactly once, and undo to the cent."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from desk.domain.faults import Refused
from desk.domain.ledger import REPLACED, Entry, GroupBy
from desk.domain.money import Money
from desk.session.money.books import read_books, read_sums
from desk.session.money.paid import NONE, SEVERAL, TAKEN, TWICE, enter_paid, match_text
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.undo import redo, undo
from desk.store.tables import hand_overs, pieces
from tests.session import made

ONE, TWO = "9101026837331000039521", "RA123456785GB"


pytestmark = pytest.mark.stocked(
    [
        made.order("1001"),
        made.order("1002"),
        made.order("1003", address=made.abroad(recipient="Noor Ito", postal_code="69003")),
    ],
    weights={"1001": made.weighing("0.7"), "1002": made.weighing("0.7")},
    left=[1, 2],
)


def enter(sitting, text):
    return enter_paid(sitting, match_text(sitting, text))


def postage(sitting):
    (line,) = read_sums(sitting, GroupBy.YEAR)
    return line.postage, line.amount(Entry.POSTAGE_ESTIMATED)


def test_a_paid_amount_replaces_the_estimate_exactly_once(sitting, pile):
    before, _ = postage(sitting)
    text = f"order,tracking,paid\n1001,{ONE},0.95\n"
    assert enter(sitting, text) == 1
    after, estimated = postage(sitting)
    assert after == before - Money(82) + Money(95)
    assert estimated == Money(-82)  # the other piece's
    assert enter(sitting, text) == 0
    assert postage(sitting) == (after, estimated)


def test_a_package_listed_twice_is_entered_once_and_reported(sitting, pile):
    before, _ = postage(sitting)
    matched = match_text(sitting, "order,paid\n1001,0.95\n1001,0.95\n1002,0.90\n")
    assert [one.why for one in matched] == ["", TWICE, ""]
    assert enter_paid(sitting, matched) == 2
    assert postage(sitting) == (before - Money(82) - Money(82) + Money(95) + Money(90), Money(0))


def test_the_same_list_can_be_entered_again_after_undo(sitting, pile):
    text = f"order,tracking,paid\n1001,{ONE},0.95\n"
    enter(sitting, text)
    once = postage(sitting)
    for _ in range(2):
        undo(sitting)
        assert enter(sitting, text) == 1
        assert postage(sitting) == once


def test_an_amount_entered_after_an_undone_hand_over_counts_in_the_next_one(sitting, pile):
    undo(sitting)
    enter(sitting, f"order,tracking,paid\n1001,{ONE},0.90\n")
    pile.read_all()
    hand_pieces_over(sitting, pile, [1, 2])
    (line,) = read_sums(sitting, GroupBy.YEAR)
    # 2 x 5.00 shipping paid; 0.90 paid and 0.82 estimated; 2 x (0.12 mailer + 0.04 insert + 0.03 label)
    assert line.amount(Entry.SHIPPING_PAID) == Money(1000)
    assert line.amount(Entry.POSTAGE_PAID) == Money(-90)
    assert line.amount(Entry.POSTAGE_ESTIMATED) == Money(-82)
    assert line.amount(Entry.MATERIALS) == Money(-38)


def test_an_amount_paid_belongs_to_the_last_hand_over(sitting, pile):
    undo(sitting)
    pile.read_all()
    pile.terms = replace(pile.terms, on=sitting.on + timedelta(days=1))
    hand_pieces_over(sitting, pile, [1])
    enter(sitting, f"order,tracking,paid\n1001,{ONE},0.95\n")
    (paid,) = [row for row in read_books(sitting) if row.entry is Entry.POSTAGE_PAID]
    assert paid.mailed_on == pile.terms.on


def test_undo_restores_to_the_cent_and_redo_too(sitting, pile):
    before = postage(sitting)
    enter(sitting, f"order,tracking,paid\n1001,{ONE},0.95\n")
    after = postage(sitting)
    undo(sitting)
    assert postage(sitting) == before
    redo(sitting)
    assert postage(sitting) == after


def test_later_adjustments_and_refunds_are_new_entries(sitting, pile):
    enter(sitting, f"order,tracking,paid\n1001,{ONE},0.95\n")
    base, _ = postage(sitting)
    enter(sitting, "order,paid,type\n1001,0.40,adjustment\n1001,0.10,refund\n")
    assert postage(sitting)[0] == base + Money(40) - Money(10)


def test_an_adjustment_is_entered_once_unless_its_note_differs_or_it_was_undone(sitting, pile):
    enter(sitting, f"order,tracking,paid\n1001,{ONE},0.95\n")
    base, _ = postage(sitting)
    text = "order,paid,type,note\n1001,0.40,adjustment,size\n"
    assert enter(sitting, text) == 1
    assert enter(sitting, text) == 0
    assert postage(sitting)[0] == base + Money(40)
    assert enter(sitting, text.replace("size", "weight")) == 1
    assert postage(sitting)[0] == base + Money(80)
    undo(sitting)
    assert enter(sitting, text.replace("size", "weight")) == 1
    assert postage(sitting)[0] == base + Money(80)


@pytest.mark.parametrize(("later", "kept"), [("0.90", ""), ("0.95", "Media Mail"), ("", "")])
def test_a_service_is_kept_only_with_the_amount_that_is_kept(sitting, pile, later, kept):
    enter(sitting, f"order,tracking,paid,service\n1001,{ONE},0.95,\n")
    assert enter(sitting, f"order,tracking,paid,service\n1001,{ONE},{later},Media Mail\n") == bool(kept)
    with sitting.store.reading() as conn:
        piece = pieces.piece(conn, 1)
    assert (piece.paid, piece.bought_as) == (Money(95), kept)


@pytest.mark.parametrize(("amount", "cents"), [("16.05", 1605), ("0.00", 0)])
def test_an_amount_entered_before_the_hand_over_counts_in_it(sitting, pile, amount, cents):
    made.weigh_piece(sitting, 3, made.weighing("2.0", "Padded"))
    enter(sitting, f"order,tracking,paid\n1003,{TWO},{amount}\n")
    pile.read_all()
    assert pile.verdicts[3].offer is not None
    with sitting.store.act("on") as tx:
        hand_overs.put_postage_on(tx, [3])
    pile.read_all()
    hand_pieces_over(sitting, pile, [3])
    rows = [row for row in read_books(sitting) if row.piece_id == 3]
    assert [row.amount for row in rows if row.entry is Entry.POSTAGE_PAID] == ([Money(-cents)] if cents else [])
    estimate, replaced = [row for row in rows if row.entry is Entry.POSTAGE_ESTIMATED]
    assert (estimate.amount, replaced.amount) == (-pile.verdicts[3].money.postage, pile.verdicts[3].money.postage)
    assert (estimate.why, replaced.why) == ("", REPLACED)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("order,paid\n1001-1,0.95\n", ""),
        ("order,paid\n9999,0.95\n", NONE),
        ("name,zip,paid\nnoor  ito,69003,17.00\n", ""),
        ("name,zip,paid\nAda Vell,97701-1234,0.95\n", SEVERAL),
        ("name,zip,paid\nAda Vell,97702,0.95\n", NONE),
    ],
)
def test_rows_are_matched_by_reference_then_by_name_and_postal_code(sitting, pile, text, why):
    (found,) = match_text(sitting, text)
    assert found.why == why
    assert (found.piece_id is None) is bool(why)


def test_a_tracking_number_belongs_to_one_package(sitting, pile):
    enter(sitting, f"order,tracking\n1001,{ONE}\n")
    (found,) = match_text(sitting, f"order,tracking\n1002,{ONE}\n")
    assert found.why == TAKEN


def test_a_list_without_any_match_is_refused(sitting, pile):
    with pytest.raises(Refused, match="No row matches"):
        enter(sitting, "order,paid\n9999,0.95\n")
    assert read_books(sitting, date(2000, 1, 1), date(2000, 12, 31)) == []


def test_a_refund_of_a_piece_that_has_not_left_changes_nothing(sitting, pile):
    assert enter(sitting, "order,paid,type\n1003,0.10,refund\n") == 0


def test_a_row_without_a_tracking_number_keeps_the_one_entered_before(sitting, pile):
    enter(sitting, f"order,tracking,paid\n1001,{ONE},0.95\n")
    enter(sitting, "order,tracking,paid\n1001,,0.95\n")
    with sitting.store.reading() as conn:
        assert pieces.piece(conn, 1).tracking == ONE


@pytest.mark.parametrize(
    ("service", "why"),
    [("Media Mail", ""), ("", ""), ("Balloon post", "“Balloon post” is a service we don't know")],
)
def test_an_unknown_service_is_reported_before_anything_is_saved(sitting, pile, service, why):
    (found,) = match_text(sitting, f"order,paid,service\n1001,0.95,{service}\n")
    assert (found.piece_id, found.why) == (1, why)


def test_a_service_is_looked_up_once_for_all_rows_that_name_it(sitting, pile, monkeypatch):
    looked_up = []
    monkeypatch.setattr("desk.session.money.paid.services_meant", lambda text, _: looked_up.append(text))
    rows = match_text(sitting, "order,paid,service\n1001,0.95,Balloon post\n1002,0.95,Balloon post\n")
    assert looked_up == ["Balloon post"]
    assert [row.why for row in rows] == ["“Balloon post” is a service we don't know"] * 2
