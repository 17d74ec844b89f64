import threading
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from desk.domain.faults import Refused
from desk.domain.stands import Stand
from desk.paper.spool import Ran, Spooler
from desk.session.importing.import_orders import take_in_orders, take_in_shop
from desk.session.papers import printing as print_papers
from desk.session.papers.pictures import open_pages
from desk.session.papers.printing import LeftOut, Made, Paper, Wanted, make_paper, print_paper, save_paper
from desk.session.pile.batch import judge_batch
from desk.session.undo import undo
from desk.session.verdict.verdict import Terms
from tests.conftest import ROOT
from tests.session import made

RESOURCES = ROOT / "resources"


@pytest.fixture
def batch(terms):
    cases = [
        made.case("0.7", number="1001"),
        made.case("4.2", "Padded", number="1002", lines=(made.line(made.BOOK),)),
        made.case(None, number="1003"),
        made.case("0.7", number="1004", address=made.abroad(city="")),
        made.case("4.2", "Padded", number="1005", address=made.FRANCE, lines=(made.line(made.BOOK),)),
    ]
    return judge_batch(cases, terms)


@pytest.fixture
def wanted(batch, terms):
    return lambda paper, only=None: Wanted(paper, batch, terms, None if only is None else frozenset(only))


def texts(pdf):
    return [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]


def test_labels_of_all_read_back_and_the_others_are_told_with_reasons(wanted):
    done = make_paper(wanted(Paper.LABELS), RESOURCES)
    assert done.references == ("1001-1",)
    assert (done.pages, done.unread) == (1, ())
    left = {one.reference: one.why for one in done.left_out}
    assert left["1002-1"] == "Its postage is bought online and brings its own label."
    assert left["1003-1"] == "Not weighed yet."
    assert left["1004-1"] == "The address is missing a city."
    assert set(left) == {"1002-1", "1003-1", "1004-1", "1005-1"}


def test_a_chosen_piece_keeps_its_place_in_the_batch(wanted):
    done = make_paper(wanted(Paper.SLIPS, ["1002-1"]), RESOURCES)
    assert done.references == ("1002-1",)
    assert done.left_out == ()
    assert "1002" in texts(done.pdf)[0]
    label = make_paper(wanted(Paper.LABELS, ["1001-1", "1003-1"]), RESOURCES)
    assert "1 of 5" in texts(label.pdf)[0]
    assert label.left_out == (LeftOut("1003-1", "Not weighed yet."),)


@pytest.mark.parametrize("paper", [Paper.LABELS, Paper.HAND_OVER])
def test_a_piece_set_aside_is_told(terms, paper):
    batch = judge_batch([made.case("0.7", number="1001", beside=Stand.SET_ASIDE)], terms)
    done = make_paper(Wanted(paper, batch, terms), RESOURCES)
    assert done.left_out == (LeftOut("1001-1", "It is set aside."),)


def test_keying_sheets_are_of_pieces_with_a_declaration(wanted):
    done = make_paper(wanted(Paper.KEYING_SHEETS), RESOURCES)
    assert done.references == ("1004-1", "1005-1")
    assert [one.reference for one in done.left_out] == ["1003-1"]


def test_the_hand_over_sheet_lists_what_is_ready(wanted):
    done = make_paper(wanted(Paper.HAND_OVER), RESOURCES)
    left = {one.reference: one.why for one in done.left_out}
    assert set(done.references) == {"1001-1", "1002-1", "1005-1"} - left.keys()
    assert "1001-1" in done.references
    assert (left["1003-1"], left["1004-1"]) == ("Not weighed yet.", "The address is missing a city.")


def test_a_paper_of_nothing_has_one_page_that_says_so(wanted):
    done = make_paper(wanted(Paper.LABELS, []), RESOURCES)
    assert (done.pages, done.references, done.left_out) == (1, (), ())
    assert "No label to print." in texts(done.pdf)[0]


def test_progress_is_told_and_cancelling_leaves_nothing(wanted):
    heard = []
    make_paper(wanted(Paper.SLIPS), RESOURCES, lambda *done: heard.append(done))
    assert heard == [(1, 5), (2, 5), (3, 5), (4, 5), (5, 5)]
    assert make_paper(wanted(Paper.SLIPS), RESOURCES, cancelled=lambda: True) is None
    asked = iter([False, False, False, True, True])
    assert make_paper(wanted(Paper.LABELS), RESOURCES, cancelled=lambda: next(asked, True)) is None


def test_a_label_whose_address_loses_letters_is_left_out_with_them_named(terms):
    odd = replace(made.HOME, recipient="Ada \U0001f98a Vell")
    batch = judge_batch([made.case("0.7", address=odd)], terms)
    done = make_paper(Wanted(Paper.LABELS, batch, terms), RESOURCES)
    assert done.references == ()
    assert "label fonts can't print" in done.left_out[0].why


def test_it_is_saved_whole_and_replaces_what_was_there(wanted, tmp_path):
    done = make_paper(wanted(Paper.SLIPS), RESOURCES)
    file = save_paper(done, tmp_path / "new folder" / "slips.pdf")
    assert file.read_bytes() == done.pdf
    assert save_paper(replace(done, pdf=b"%PDF"), file).read_bytes() == b"%PDF"
    assert [each.name for each in file.parent.iterdir()] == ["slips.pdf"]
    with pytest.raises(FileExistsError):
        save_paper(done, file / "below a file.pdf")


class Queue:
    """A spooler that answers as told."""

    def __init__(self, asked="printer desk is idle.  enabled since", lp="request id is desk-1 (1 file(s))", code=0):
        self.answers = {"-p": Ran(code, asked), "-o": Ran(0, ""), "-e": Ran(0, "desk\nshelf\n")}
        self.lp, self.files = [Ran(0, lp)], []

    def run(self, words):
        if words[0] == "lp":
            self.files.append((words[4], words[-1]))
            return self.lp.pop(0) if len(self.lp) > 1 else self.lp[0]
        return self.answers[words[1]]

    def spooler(self):
        return Spooler(self.run, lambda _seconds: None, 0.5, 0.25)


def test_each_page_size_goes_to_the_queue_with_its_medium(terms):
    board = made.case("2.5", "Board", number="1002", lines=(made.line(made.FOLDER),))
    shop = made.shop(policy=made.policy(parcel_payment="counter"))
    batch = judge_batch([made.case("0.7"), board], Terms(shop, terms.rulebook, made.ON))
    done = make_paper(Wanted(Paper.LABELS, batch, Terms(shop, terms.rulebook, made.ON)), RESOURCES)
    queue = Queue()
    told = print_paper(done, "desk", queue.spooler())
    assert (told.mark, told.words, told.taken) == ("fine", "Printed on desk.", True)
    assert {medium for medium, _ in queue.files} == {
        f"media=Custom.4x{int(page.mediabox.height / 72)}in" for page in PdfReader(BytesIO(done.pdf)).pages
    }


@pytest.mark.parametrize(
    ("queue", "words", "taken"),
    [
        (Queue("printer desk disabled since"), "desk is paused; nothing was given to it. Start the queue and print again.", False),
        (Queue("Unknown", code=1), "There is no print queue desk any more. Choose another.", False),
        (Queue("", code=127), "This machine has no print queues. Save the PDF and print it elsewhere.", False),
        (Queue(lp="lp: Error - too long\nmore"), "desk refused it: lp: Error - too long.", False),
        (Queue(lp=""), "desk refused it: it did not say why.", False),
    ],
)  # fmt: skip
def test_what_became_of_it_is_told(wanted, queue, words, taken):
    done = make_paper(wanted(Paper.SLIPS), RESOURCES)
    told = print_paper(done, "desk", queue.spooler())
    assert (told.words, told.taken) == (words, taken)


def test_a_job_that_waits_is_taken(wanted):
    queue = Queue()
    queue.answers["-o"] = Ran(0, "desk-1 ada 1 x")
    told = print_paper(make_paper(wanted(Paper.SLIPS), RESOURCES), "desk", queue.spooler())
    assert (told.mark, told.taken) == ("note", True)


def test_the_queues_are_asked_for():
    assert print_papers.queue_names(Queue().spooler()) == ("desk", "shelf")


@pytest.fixture
def stored(sitting):
    take_in_shop(sitting, made.shop())
    take_in_orders(sitting, [made.order("1001"), made.order("1002")])
    return sitting


def test_printing_is_noted_is_not_undone_and_can_be_voided(stored, clock):
    print_papers.note_printed(stored, [1, 2], Paper.LABELS)
    assert set(print_papers.printed_at(stored, Paper.LABELS)) == {1, 2}
    assert print_papers.printed_at(stored, Paper.SLIPS) == {}
    with pytest.raises(Refused):
        undo(stored)
    assert print_papers.void_papers(stored, [2], Paper.LABELS) == 1
    assert print_papers.void_papers(stored, [2], Paper.LABELS) == 0
    assert set(print_papers.printed_at(stored, Paper.LABELS)) == {1}


def test_a_hand_over_sheet_is_of_no_piece(stored):
    print_papers.note_printed(stored, [1], Paper.HAND_OVER)
    print_papers.note_printed(stored, [], Paper.LABELS)
    assert print_papers.printed_at(stored, Paper.HAND_OVER) == {}
    assert print_papers.printed_at(stored, Paper.LABELS) == {}


def test_long_lists_of_references_are_cut():
    assert print_papers.in_one_line(["1", "2"]) == "1, 2"
    assert print_papers.in_one_line(list("1234567")) == "1, 2, 3, 4, 5 and 2 more"


def test_pages_are_pictures_of_the_asked_size(wanted):
    pages = open_pages(make_paper(wanted(Paper.SLIPS), RESOURCES).pdf)
    assert len(pages) == 5
    picture = pages.picture(0, 96)
    width, height = pages.sizes[0]
    assert (picture.width, picture.height) == (round(width * 96 / 72), round(height * 96 / 72))
    assert len(picture.rgb) == picture.stride * picture.height
    assert 0 < sum(value < 128 for value in picture.rgb) < len(picture.rgb) / 2
    with pytest.raises(IndexError):
        pages.picture(5, 96)
    pages.close()
    with pytest.raises(ValueError, match="no"):
        open_pages(b"no pdf at all")


def test_a_proof_may_run_beside_the_pictures(wanted):
    """PDFium knows no threads; without the lock this ends the process now and then."""
    done = make_paper(wanted(Paper.SLIPS), RESOURCES)
    pages, faults = open_pages(done.pdf), []

    def proof():
        from desk.paper.proof import codes_on_pages

        try:
            assert len(list(codes_on_pages(done.pdf))) == 5
        except BaseException as fault:  # noqa: BLE001 - told in the main thread
            faults.append(fault)

    thread = threading.Thread(target=proof)
    thread.start()
    while thread.is_alive():
        pages.picture(1, 96)
    thread.join()
    pages.close()
    assert faults == []


def test_nothing_chosen_for_a_hand_over_sheet(wanted):
    assert isinstance(make_paper(wanted(Paper.HAND_OVER, []), RESOURCES), Made)
