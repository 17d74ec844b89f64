"""Issues marked as checked: saved once per piece, and those about a weight reopened by another weight."""

from dataclasses import replace

import pytest

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.product import Restriction
from desk.domain.status import PieceStatus
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo
from desk.session.verdict.judge import judge
from tests.session.made import CARD, HOME, order, policy, shop, stock, weighing

CLOSE = "too-close-to-call"


pytestmark = pytest.mark.stocked(
    [order("1"), order("2")],
    shop=shop(policy=policy(close_call_from=Money(0))),
    weights={"1": weighing("1.0"), "2": weighing("1.0")},
)


def status(sitting: Sitting) -> list[PieceStatus]:
    terms = read_terms(sitting)
    return [judge(stored.case, terms).status for stored in read_stored(sitting)]


def answered(sitting: Sitting) -> list[frozenset[str]]:
    return [stored.case.answered for stored in read_stored(sitting)]


def first(sitting: Sitting) -> int:
    return read_stored(sitting)[0].id


def test_an_answer_makes_its_piece_ready_and_no_other(full: Sitting) -> None:
    assert status(full) == ["needs a look", "needs a look"]
    answer_looks(full, first(full), [CLOSE], number="1-1")
    assert status(full) == ["ready", "needs a look"]


def test_the_step_is_named_and_announced(full: Sitting) -> None:
    reported: list[Changes] = []
    full.listeners.append(reported.append)
    answer_looks(full, first(full), [CLOSE], number="1-1")
    assert next_steps(full)[0] == "Marked 1-1 as checked"
    assert [changes.pieces for changes in reported] == [{first(full)}]


def test_answering_several_issues_is_one_step_to_undo(full: Sitting) -> None:
    answer_looks(full, first(full), [CLOSE, "size-missing"], number="1-1")
    assert answered(full) == [{CLOSE, "size-missing"}, frozenset()]
    undo(full)
    assert answered(full) == [frozenset(), frozenset()]


def test_a_repeated_or_empty_answer_leaves_no_trace(full: Sitting) -> None:
    answer_looks(full, first(full), [CLOSE], number="1-1")
    before = full.store.revision
    answer_looks(full, first(full), [CLOSE], number="1-1")
    answer_looks(full, first(full), [], number="1-1")
    assert full.store.revision == before


@pytest.mark.parametrize(
    ("value", "expected"),
    [("2.0", {"size-missing"}), ("1.0", {CLOSE, "size-missing"})],
)
def test_another_weight_reopens_issues_about_the_weight(full: Sitting, value: str, expected: set[str]) -> None:
    answer_looks(full, first(full), [CLOSE, "size-missing"], number="1-1")
    weigh(full, [(PieceKey("1"), weighing(value, stiff=False))])
    assert answered(full)[0] == expected


def test_a_stop_cannot_be_answered(full: Sitting) -> None:
    import_orders(full, [order("1", address=replace(HOME, city=""))])
    assert status(full)[0] == "needs a look"
    answer_looks(full, first(full), [CLOSE, "address-incomplete"], number="1-1")
    assert status(full)[0] == "needs a look"


def test_an_issue_answered_for_a_product_is_answered_for_every_piece(sitting: Sitting) -> None:
    ink = replace(CARD, restricted=(Restriction.FLAMMABLE,))
    stock(sitting, [order("1"), order("2")], shop(products=(ink,)))
    weigh(sitting, [(PieceKey("1"), weighing("1.4")), (PieceKey("2"), weighing("1.4"))])
    assert status(sitting) == ["needs a look", "needs a look"]
    answer_looks(sitting, first(sitting), ["hazard-surface-only"], number="1-1")
    assert status(sitting) == ["ready", "ready"]
    undo(sitting)
    assert status(sitting) == ["needs a look", "needs a look"]


@pytest.mark.parametrize("code", ["hs-missing", "hs-not-in-edition", "origin-missing", "value-zero", "words-too-vague"])
def test_an_issue_that_must_be_fixed_cannot_be_answered(full: Sitting, code: str) -> None:
    with pytest.raises(Refused, match="has to be fixed"):
        answer_looks(full, first(full), [CLOSE, code], number="1-1")
    assert answered(full) == [frozenset(), frozenset()]
