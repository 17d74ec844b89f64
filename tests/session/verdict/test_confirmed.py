"""What is confirmed once: its cause, and only for what is asked once."""

from __future__ import annotations

from desk.domain.finding import Code, finding
from desk.session.verdict.confirmed import Confirmed, cause_of, is_confirmed

INK = finding(Code.HAZARD_SURFACE_ONLY, product="Ink", goods="flammable")


def test_a_cause_names_the_code_and_what_it_is_about() -> None:
    assert cause_of(INK) == "hazard-surface-only|Ink|flammable"
    assert cause_of(finding(Code.HAZARD_SURFACE_ONLY, product="Pen", goods="flammable")) != cause_of(INK)


def test_an_issue_of_every_piece_has_no_cause_to_confirm() -> None:
    plain = finding(Code.NO_WEIGHT)
    assert cause_of(plain) == ""
    assert not is_confirmed(plain, frozenset({"hazard-surface-only|Ink|flammable"}))
    assert is_confirmed(INK, frozenset({"hazard-surface-only|Ink|flammable"}))


def test_each_cause_is_saved_once() -> None:
    assert Confirmed(("a",)).and_(["b", "a"]) == Confirmed(("a", "b"))
