"""Printing bought labels: all of them, and after a jam only those that did not come out."""

from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.paper.spool import CommandResult, Spooler
from desk.session.labels.accept import accept, lay_out_labels, read_files
from desk.session.labels.print_labels import note_labels_printed, print_labels, references_after
from desk.session.papers.bought_labels import bought_labels
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import PaperSettings, choose_paper
from desk.session.undo import undo
from tests.conftest import ROOT
from tests.paper.bought.made import write_labels_like
from tests.paper.made import pages
from tests.session.labels.conftest import THREE_PARCELS, parcel

pytestmark = THREE_PARCELS


FIRST_PAGES = {"1047-1": 0, "1048-1": 2, "1049-2": 3}


@pytest.mark.parametrize(
    ("last_good", "left"),
    [
        ("0", ("1047-1", "1048-1", "1049-2")),
        ("", ("1047-1", "1048-1", "1049-2")),
        ("1047", ("1048-1", "1049-2")),
        ("1047-1", ("1048-1", "1049-2")),
        ("1048-1", ("1049-2",)),
    ],
)
def test_only_labels_after_the_last_good_one_are_printed_again(last_good, left):
    assert references_after(FIRST_PAGES, last_good) == left


@pytest.mark.parametrize(
    ("last_good", "words"), [("1049", "No label in this PDF"), ("1049-2", "nothing left"), ("x", "No label")]
)
def test_a_number_without_a_label_or_without_labels_after_it_is_refused(last_good, words):
    with pytest.raises(Refused, match=words):
        references_after(FIRST_PAGES, last_good)


@pytest.fixture
def printed():
    """The texts of the pages that the queue took."""
    return []


@pytest.fixture
def spooler(printed):
    def run(words):
        if words[0] == "lp":
            printed.append([text for _, _, text in pages(Path(words[-1]).read_bytes())])
            return CommandResult(0, "request id is desk-1 (1 file(s))")
        return CommandResult(0, "printer desk is idle" if words[1] == "-p" else "")

    return Spooler(run, lambda _seconds: None)


@pytest.fixture
def accepted(sitting, pile, file, tmp_path):
    matches, out = read_files(sitting, pile, [file]), tmp_path / "out.pdf"
    laid = lay_out_labels(pile, matches, {}, PaperSettings(), out, ROOT / "resources" / "fonts")
    accept(sitting, pile, matches, {}, laid, out)
    return out


def test_after_a_jam_only_the_rest_is_printed(sitting, accepted, spooler, printed):
    choose_paper(sitting, Paper.LABELS, {"queue": "desk"})
    assert bought_labels(sitting).first_pages == {"1001-1": 0, "1002-1": 1, "1003-1": 2}
    result = print_labels(sitting, spooler=spooler)
    assert (result.taken, result.handed) == (True, ("1001-1", "1002-1", "1003-1"))
    note_labels_printed(sitting)
    assert bought_labels(sitting).was_printed
    again = print_labels(sitting, "1001", spooler)
    assert again.handed == ("1002-1", "1003-1")
    assert [len(one) for one in printed] == [3, 2]
    assert "1002-1" in printed[1][0]
    with pytest.raises(Refused, match="can't be undone"):
        undo(sitting)


def test_new_labels_print_without_a_question(sitting, accepted, pile, tmp_path):
    note_labels_printed(sitting)
    fresh = tmp_path / "fresh.pdf"
    fresh.write_bytes(write_labels_like([parcel("1001", 5)], "plain"))
    accept(sitting, pile, read_files(sitting, pile, [fresh]), {}, (), accepted)
    assert not bought_labels(sitting).was_printed


def test_labels_that_cannot_be_printed_are_refused_with_a_sentence(sitting, pile, file, tmp_path, spooler):
    with pytest.raises(Refused, match="no labels to print"):
        print_labels(sitting, spooler=spooler)
    matches, out = read_files(sitting, pile, [file]), tmp_path / "out.pdf"
    laid = lay_out_labels(pile, matches, {}, PaperSettings(), out, ROOT / "resources" / "fonts")
    accept(sitting, pile, matches, {}, laid, out)
    with pytest.raises(Refused, match="No printer is chosen"):
        print_labels(sitting, spooler=spooler)
    choose_paper(sitting, Paper.LABELS, {"queue": "desk"})
    out.unlink()
    with pytest.raises(Refused, match="Can't open"):
        print_labels(sitting, spooler=spooler)
