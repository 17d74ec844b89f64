"""Papers: a printing stays, a void paper stays void, and neither can be undone."""

from __future__ import annotations

from datetime import timedelta

import pytest
from sqlalchemy.exc import IntegrityError

from desk.domain.faults import Refused
from desk.store import undo
from desk.store.store import Store
from desk.store.tables.papers import PaperKind, PrintedPaper, all_papers, latest_printed, printed, void
from tests.store.samples import MONDAY, with_pieces


def print_it(store: Store, pieces: list[int], kind: PaperKind = PaperKind.LABEL, digest: str = "") -> list[int]:
    with store.act("Print") as tx:
        return list(printed(tx, pieces, kind, digest))


def void_it(store: Store, paper: int) -> None:
    with store.act("Void") as tx:
        void(tx, paper)


def papers(store: Store, piece: int | None = None) -> list[PrintedPaper]:
    with store.reading() as conn:
        return all_papers(conn, piece)


def test_at_first_nothing_was_printed(store: Store) -> None:
    (piece,) = with_pieces(store)
    assert papers(store) == papers(store, piece) == []


def test_a_printing_is_kept_with_its_time_and_digest(store: Store) -> None:
    (piece,) = with_pieces(store)
    (number,) = print_it(store, [piece], PaperKind.SLIP, "abc")
    assert papers(store) == [PrintedPaper(number, piece, PaperKind.SLIP, MONDAY + timedelta(seconds=3), "abc", None)]


def test_printings_are_listed_oldest_first_and_by_piece(store: Store) -> None:
    one, other = with_pieces(store, 2)
    first = print_it(store, [other, one])
    again = print_it(store, [one], PaperKind.KEYING_SHEET)
    assert [paper.id for paper in papers(store)] == [*first, *again]
    assert [(paper.piece_id, paper.kind) for paper in papers(store, one)] == [
        (one, PaperKind.LABEL),
        (one, PaperKind.KEYING_SHEET),
    ]
    assert papers(store, 999) == []


@pytest.mark.parametrize("kind", PaperKind)
def test_every_kind_of_printing_is_read_back(store: Store, kind: PaperKind) -> None:
    print_it(store, with_pieces(store), kind)
    assert [paper.kind for paper in papers(store)] == [kind]


def test_a_canceled_printing_has_its_time(store: Store) -> None:
    (piece,) = with_pieces(store)
    one, other = print_it(store, [piece]), print_it(store, [piece])
    void_it(store, one[0])
    assert [(paper.id, paper.voided_at) for paper in papers(store)] == [
        (one[0], MONDAY + timedelta(seconds=5)),
        (other[0], None),
    ]
    assert store.last_changes.pieces == {piece}


def test_a_canceled_printing_is_not_canceled_again(store: Store) -> None:
    (number,) = print_it(store, with_pieces(store))
    void_it(store, number)
    before, revision = papers(store), store.revision
    with pytest.raises(Refused, match="This paper was canceled before"):
        void_it(store, number)
    assert (papers(store), store.revision) == (before, revision)


def test_only_something_printed_can_be_canceled(store: Store) -> None:
    with pytest.raises(KeyError):
        void_it(store, 1)


@pytest.mark.parametrize(
    ("step", "reported"),
    [("print", "Cancel the paper instead"), ("void", "A canceled paper stays canceled. Print it again")],
)
def test_a_printing_cannot_be_undone(store: Store, step: str, reported: str) -> None:
    (number,) = print_it(store, with_pieces(store))
    if step == "void":
        void_it(store, number)
    before = papers(store)
    with pytest.raises(Refused, match=reported):
        undo.undo(store)
    assert papers(store) == before


def test_printing_nothing_leaves_no_step_that_blocks_undo(store: Store) -> None:
    with_pieces(store)
    assert print_it(store, []) == []
    assert undo.undo(store).name == "take in"


def test_a_printing_of_a_missing_piece_is_refused(store: Store) -> None:
    with pytest.raises(IntegrityError, match=r"(?i)foreign key"):
        print_it(store, [999])
    assert papers(store) == []


def test_the_latest_printings_come_first_with_their_numbers_and_no_more_than_asked_for(store: Store) -> None:
    one, other = with_pieces(store, 2)
    print_it(store, [one])
    print_it(store, [other, one])
    with store.reading() as conn:
        found = latest_printed(conn, 2)
        pieces = {row.piece_id: (number, piece) for row, number, piece in latest_printed(conn, 9)}
    assert [row.piece_id for row, _, _ in found] == [one, other]
    assert len(set(pieces.values())) == 2
