"""Stamp requests: proposed where they can be met, with a refund due only once accepted."""

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import LetterPostage
from desk.domain.status import PieceStatus
from desk.session.pile.stored_cases import read_stored
from desk.session.undo import undo
from desk.session.verdict.money import refund_due
from desk.session.verdict.stamp_request import accept_stamp_request, decline_stamp_request
from desk.session.words.sentences import way_out
from desk.store.tables import hand_overs
from tests.session.made import BOOK, line, order, policy, shop, weighing

YES, NO = frozenset({"stamps-requested"}), frozenset({"stamp-declined"})
PARCELS = {"choices": {"Parcel": ("ground-retail",)}}
ASKED = {"buyer_note": "Please send it BY STAMP, thanks", "shipping_choice": "Parcel"}


def look(verdict):
    return {found.code: dict(found.facts) for found in verdict.findings}.get("stamps-requested")


def test_a_letter_is_proposed_where_the_choice_forbids_letters(judged):
    """5.00 paid, less 0.82 (list of 2026-07-12) and 0.12 for the mailer; until yes it stays the parcel chosen."""
    verdict = judged(shop=shop(**PARCELS), **ASKED)
    assert (verdict.offer.service, verdict.status) == ("ground-retail", PieceStatus.NEEDS_A_LOOK)
    assert look(verdict) == {"refund": "4.06", "service": "letter-stamped", "postage": "0.82", "currency": "USD"}
    assert verdict.money.refund == Money(0)


def test_accepting_a_request_makes_the_piece_a_stamped_letter(judged):
    verdict = judged(shop=shop(**PARCELS), answered=YES, **ASKED)
    assert (verdict.offer.service, verdict.status) == ("letter-stamped", PieceStatus.READY)
    assert (verdict.money.refund, refund_due(verdict)) == (Money(406), Money(406))


def test_declining_removes_the_request(judged):
    verdict = judged(shop=shop(**PARCELS), answered=NO, **ASKED)
    assert (verdict.offer.service, look(verdict), verdict.status) == ("ground-retail", None, PieceStatus.READY)
    assert (verdict.money.refund, refund_due(verdict)) == (Money(0), Money(0))


@pytest.mark.parametrize(("paid", "refund"), [(94, None), (95, "0.01")])
def test_a_refund_of_zero_is_not_asked_about(judged, paid, refund):
    """0.82 postage (list of 2026-07-12) and 0.12 for the mailer: 0.94 paid leaves nothing to refund."""
    verdict = judged(buyer_note="by stamp", shipping_paid=Money(paid))
    assert (look(verdict) or {}).get("refund") == refund
    assert verdict.status is (PieceStatus.NEEDS_A_LOOK if refund else PieceStatus.READY)


def test_the_sentence_names_both_answers_with_their_keys(judged):
    (found,) = (one for one in judged(buyer_note="by stamp").findings if one.code == "stamps-requested")
    assert way_out(found) == "Use stamps and refund (R), or don't use stamps (D)."


def test_metered_shops_and_careful_ones_propose_the_letter_too(judged):
    metered = shop(policy=policy(letter_postage=LetterPostage.METERED))
    assert look(judged(shop=metered, buyer_note="by stamp"))["service"] == "letter-stamped"
    assert judged(shop=metered, buyer_note="by stamp", answered=YES).offer.service == "letter-stamped"


def test_no_refund_is_due_before_accepting(judged):
    asked = judged(buyer_note="by stamp")
    assert (asked.money.refund, refund_due(asked)) == (Money(406), Money(0))
    assert refund_due(judged(None, buyer_note="by stamp", answered=YES)) == Money(0)


def test_a_refund_is_due_once_per_order(judged):
    second = judged(key=PieceKey("1001", 2), pieces_in_order=2, buyer_note="by stamp", answered=YES)
    assert (second.money.refund, refund_due(second)) == (Money(0), Money(0))


def test_accepting_does_not_make_a_letter_of_a_piece_that_cannot_be_one(judged):
    verdict = judged("12", "Padded", lines=(line(BOOK),), answered=YES, buyer_note="by stamp")
    assert verdict.offer.service == "ground-retail"
    assert "stamp-not-possible" in [found.code for found in verdict.findings]


def test_a_service_chosen_for_the_piece_answers_the_request(judged):
    verdict = judged(buyer_note="by stamp", service="ground-retail")
    assert (verdict.offer.service, look(verdict)) == ("ground-retail", None)
    assert look(judged(buyer_note="by stamp", service="letter-stamped")) is not None


pytestmark = pytest.mark.stocked(
    [order("1", **ASKED), order("2")],
    shop=shop(**PARCELS),
    weights={"1": weighing(), PieceKey("1", 2): weighing(), "2": weighing()},
)


def services(pile):
    return [verdict.offer.service for verdict in pile.verdicts.values()]


def test_accepting_is_one_step_for_the_whole_order(pile):
    first = next(iter(pile.verdicts))
    accept_stamp_request(pile.sitting, first)
    assert services(pile) == ["letter-stamped", "letter-stamped", "letter-stamped"]
    assert undo(pile.sitting) == "Using stamps for 1"
    assert services(pile) == ["ground-retail", "ground-retail", "letter-stamped"]


def test_declining_after_accepting_reverses_it(pile):
    first = next(iter(pile.verdicts))
    accept_stamp_request(pile.sitting, first)
    decline_stamp_request(pile.sitting, first)
    assert services(pile) == ["ground-retail", "ground-retail", "letter-stamped"]
    answered = [stored.case.answered for stored in read_stored(pile.sitting)]
    assert answered == [NO, NO, frozenset()]
    assert refund_due(pile.verdicts[first]) == Money(0)


@pytest.mark.parametrize("answer", [accept_stamp_request, decline_stamp_request])
def test_the_answer_to_a_request_cannot_change_a_paid_piece(pile, answer):
    first, second, _ = pile.verdicts
    with pile.sitting.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [second])
    with pytest.raises(Refused, match="1-2 already has its postage on, so its service can't change"):
        answer(pile.sitting, first)
    assert services(pile) == ["ground-retail", "ground-retail", "letter-stamped"]
