"""Letters that no shipped font has: reported once each, and marked on slips, which are printed anyway."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from desk.domain.finding import Finding
from desk.domain.money import Money
from desk.paper.fonts import Fonts
from desk.session.papers.print_check import check_printable, printable
from desk.session.pile.batch import Batch, judge_batch
from desk.session.verdict.verdict import Terms
from tests.session import made

LOST, OTHER = "\U00012038", "\U00012000"  # two cuneiform characters


@pytest.fixture(scope="module")
def fonts(resources: Path) -> Fonts:
    return Fonts(resources / "fonts")


@pytest.fixture
def checked(terms: Terms, fonts: Fonts) -> Callable[..., Batch]:
    def one(*words: Any, **fields: Any) -> Batch:
        return check_printable(judge_batch([made.case(*words, **fields)], terms), terms, fonts)

    return one


def announced(batch: Batch) -> list[Finding]:
    return [found for found in batch.verdicts[0].findings if found.code == "letters-not-printable"]


def test_each_unprintable_letter_is_named_once_in_order(checked: Callable[..., Batch]) -> None:
    address = replace(made.HOME, recipient=f"{OTHER}{LOST}{OTHER}", address1=f"1 {LOST} Row")
    (found,) = announced(checked(address=address))
    assert (found.facts["letters"], found.source) == (OTHER + LOST, "the fonts that come with the program")


@pytest.mark.parametrize(
    ("words", "severity", "status"),
    [(("0.7",), "stop", "needs a look"), (("12", "Padded"), "look", "needs a look"), ((None,), "look", "to weigh")],
)
def test_unprintable_letters_stop_only_labels_printed_here(
    checked: Callable[..., Batch], words: tuple[Any, ...], severity: str, status: str
) -> None:
    batch = checked(*words, address=replace(made.HOME, recipient=LOST))
    assert ([found.severity for found in announced(batch)], batch.verdicts[0].status) == ([severity], status)


def test_a_checked_parcel_with_unprintable_letters_is_ready_but_a_letter_is_not(checked: Callable[..., Batch]) -> None:
    fields = {"address": replace(made.HOME, recipient=LOST), "answered": frozenset({"letters-not-printable"})}
    assert checked("3", "Padded", **fields).verdicts[0].status == "ready"
    assert checked("0.7", **fields).verdicts[0].status == "needs a look"


def test_unprintable_letters_in_a_note_do_not_matter(checked: Callable[..., Batch]) -> None:
    assert announced(checked(buyer_note=LOST)) == []


@dataclass(frozen=True)
class Paper:
    words: str
    rows: tuple[Any, ...]
    price: Money


def test_each_unprintable_letter_gets_a_mark_at_any_depth(fonts: Fonts) -> None:
    paper = Paper(f"A{LOST}", (f"{LOST}{OTHER}", Paper("é", (), Money(2)), 7, None), Money(1))
    assert printable(paper, fonts) == Paper("A?", ("??", Paper("é", (), Money(2)), 7, None), Money(1))


@pytest.mark.parametrize("content", ["", "plain", "Solène", 3, None, True, ("a", ("b",))])
def test_printable_text_is_unchanged(fonts: Fonts, content: Any) -> None:
    assert printable(content, fonts) == content


def test_a_class_is_returned_unchanged(fonts: Fonts) -> None:
    assert printable(Paper, fonts) is Paper
