from pathlib import Path

import pytest

from desk.paper.spool import CommandResult, Spooler
from desk.session.papers.kinds import Paper
from desk.session.papers.making import PaperRequest, make_paper
from desk.session.papers.printing import print_paper, queue_names
from desk.session.pile.batch import judge_batch
from tests.conftest import ROOT
from tests.paper.codes import codes_on_pages
from tests.session import made


@pytest.fixture
def done(terms):
    """Three slips."""
    batch = judge_batch([made.case("0.7", number=str(number)) for number in (1001, 1002, 1003)], terms)
    return make_paper(PaperRequest(Paper.SLIPS, batch, terms), ROOT / "resources")


class Queue:
    """A spooler with prepared answers."""

    def __init__(self, asked="printer desk is idle.  enabled since", lp="request id is desk-1 (1 file(s))", code=0):
        self.answers = {
            "-p": CommandResult(code, asked),
            "-o": CommandResult(0, ""),
            "-e": CommandResult(0, "desk\nshelf\n"),
            "-l": CommandResult(0, ""),
        }
        self.lp, self.files, self.pdfs = [CommandResult(0, lp)], [], []

    def run(self, words):
        if words[0] == "lp":
            self.files.append((words[4], words[-1]))
            self.pdfs.append(Path(words[-1]).read_bytes())
            return self.lp.pop(0) if len(self.lp) > 1 else self.lp[0]
        return self.answers[words[1]]

    def spooler(self):
        return Spooler(self.run, lambda _seconds: None, 0.5, 0.25)


def test_a_document_is_sent_to_the_queue_with_its_paper_size_and_its_pieces_are_reported(done):
    queue = Queue()
    result = print_paper(done, "desk", spooler=queue.spooler())
    assert (result.mark, result.words, result.handed) == ("fine", "Printed on desk.", ("1001-1", "1002-1", "1003-1"))
    assert [medium for medium, _ in queue.files] == ["media=Custom.4x6in"]


def test_after_a_jam_printing_continues_from_a_given_page(done):
    queue = Queue()
    result = print_paper(done, "desk", 2, queue.spooler())
    assert result.handed == ("1002-1", "1003-1")
    assert list(codes_on_pages(queue.pdfs[0])) == [("1002-1",), ("1003-1",)]


@pytest.mark.parametrize(("page", "fine"), [(0, False), (1, True), (3, True), (4, False)])
def test_a_missing_page_is_reported_and_nothing_is_printed(done, page, fine):
    queue = Queue()
    result = print_paper(done, "desk", page, queue.spooler())
    assert (result.taken, len(queue.files)) == (fine, int(fine))
    assert fine or result.words == f"There is no page {page}. This paper has pages 1 to 3."


def test_a_full_disk_is_a_sentence_and_nothing_is_printed(done, monkeypatch):
    def full(*_words, **_named):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    result = print_paper(done, "desk", spooler=Queue().spooler())
    assert (result.taken, result.handed) == (False, ())
    assert result.words == "Not printed: can't write a temporary file (no space left on device)."


@pytest.mark.parametrize(
    ("queue", "words", "taken"),
    [
        (Queue("printer desk disabled since"), "desk is paused. Nothing was printed. Start the printer and print again.", False),
        (Queue("Unknown", code=1), "Printer “desk” is gone. Choose another.", False),
        (Queue("", code=127), "No printers on this computer. Save the PDF and print it elsewhere.", False),
        (Queue(lp="lp: Error - too long\nmore"), "desk refused it: lp: Error - too long.", False),
        (Queue(lp=""), "desk refused it: it gave no reason.", False),
    ],
)  # fmt: skip
def test_the_result_of_printing_is_a_sentence(done, queue, words, taken):
    result = print_paper(done, "desk", spooler=queue.spooler())
    assert (result.words, result.taken, result.handed) == (words, taken, ())


@pytest.mark.parametrize(
    ("alerts", "words"),
    [
        ("", "desk accepted it but has not printed it yet."),
        ("Alerts: media-empty-error", "desk is out of paper. Load paper to continue."),
    ],
)
def test_a_waiting_job_counts_as_sent(done, alerts, words):
    queue = Queue()
    queue.answers |= {"-o": CommandResult(0, "desk-1 ada 1 x"), "-l": CommandResult(0, alerts)}
    result = print_paper(done, "desk", spooler=queue.spooler())
    assert (result.mark, result.words, len(result.handed)) == ("note", words, 3)


def test_the_print_queues_are_listed():
    assert queue_names(Queue().spooler()) == ("desk", "shelf")
