"""The state of a piece: the whole table, every combination of weighed, found and done."""

import itertools

import pytest

from desk.domain.finding import Code, Finding, reason
from desk.domain.status import BESIDE_THE_LINE, PieceStatus, is_open, status

STOP, LOOK, NOTE, FINE = (
    Finding(Code.NO_SERVICE, Code.NO_SERVICE.severity),
    Finding(Code.SIZE_MISSING, Code.SIZE_MISSING.severity),
    Finding(Code.UNTRACKED, Code.UNTRACKED.severity),
    reason(Code.CARD_SIZE),
)


@pytest.mark.parametrize("findings", [(), (NOTE,), (LOOK,), (STOP,), (STOP, LOOK, NOTE)])
def test_an_unweighed_piece_has_the_status_to_weigh(findings):
    assert status(weighed=False, findings=findings) == "to weigh"


@pytest.mark.parametrize(
    ("findings", "answered", "expected"),
    [
        ((), set(), "ready"),
        ((FINE,), set(), "ready"),
        ((NOTE, FINE), set(), "ready"),
        ((LOOK,), set(), "needs a look"),
        ((STOP,), set(), "needs a look"),
        ((NOTE, LOOK), set(), "needs a look"),
        ((LOOK,), {"size-missing"}, "ready"),
        ((LOOK,), {"value-zero"}, "needs a look"),
        ((LOOK, Finding(Code.VALUE_ZERO, Code.VALUE_ZERO.severity)), {"size-missing"}, "needs a look"),
        ((LOOK, Finding(Code.MAILER_UNKNOWN, Code.MAILER_UNKNOWN.severity)), {"size-missing"}, "needs a look"),
        (
            (LOOK, Finding(Code.MAILER_UNKNOWN, Code.MAILER_UNKNOWN.severity)),
            {"size-missing", "mailer-unknown"},
            "ready",
        ),
        ((Finding(Code.VALUE_ZERO, Code.VALUE_ZERO.severity),), {"value-zero"}, "needs a look"),  # fixed, not answered
        ((STOP,), {"no-service"}, "needs a look"),
        ((STOP, LOOK), {"size-missing"}, "needs a look"),
    ],
)
def test_a_weighed_piece_has_the_status_of_its_open_findings(findings, answered, expected):
    assert status(weighed=True, findings=findings, answered=frozenset(answered)) == expected


def expected_stand(weighed, worst, postage_on, handed_over):
    """Return the table printed in DEVELOPERS.md, from its last row upward."""
    if handed_over:
        return PieceStatus.HANDED_OVER
    if postage_on:
        return PieceStatus.LABELED
    if not weighed:
        return PieceStatus.TO_WEIGH
    return PieceStatus.NEEDS_A_LOOK if worst in (STOP, LOOK) else PieceStatus.READY


@pytest.mark.parametrize(
    ("weighed", "worst", "postage_on", "handed_over"),
    list(itertools.product((False, True), (None, FINE, NOTE, LOOK, STOP), (False, True), (False, True))),
)
def test_every_combination_has_the_status_of_the_table(weighed, worst, postage_on, handed_over):
    findings = () if worst is None else (worst,)

    got = status(weighed=weighed, findings=findings, postage_on=postage_on, handed_over=handed_over)

    assert got is expected_stand(weighed, worst, postage_on, handed_over)


@pytest.mark.parametrize("beside", BESIDE_THE_LINE)
@pytest.mark.parametrize(("weighed", "postage_on", "handed_over"), list(itertools.product((False, True), repeat=3)))
def test_a_status_set_by_hand_overrides_the_others(beside, weighed, postage_on, handed_over):
    got = status(weighed=weighed, findings=(STOP,), postage_on=postage_on, handed_over=handed_over, beside=beside)

    assert got is beside


def test_every_status_can_be_reached():
    reached = {
        status(weighed=w, findings=f, postage_on=p, handed_over=h, beside=b)
        for w, f, p, h, b in itertools.product(
            (False, True), ((), (LOOK,)), (False, True), (False, True), (None, *BESIDE_THE_LINE)
        )
    }

    assert reached == set(PieceStatus)


@pytest.mark.parametrize(
    ("found", "answered", "expected"),
    [(STOP, {"no-service"}, True), (LOOK, set(), True), (LOOK, {"size-missing"}, False), (NOTE, set(), False),
     (FINE, set(), False)],
)  # fmt: skip
def test_a_finding_is_open_until_it_is_answered(found, answered, expected):
    assert is_open(found, frozenset(answered)) is expected
