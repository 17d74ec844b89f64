import threading
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from desk.domain.status import PieceStatus
from desk.paper import proof
from desk.paper.proof import FaultKind, PageFault
from desk.session.papers.kinds import Paper
from desk.session.papers.making import LeftOut, MadePaper, PaperRequest, make_paper
from desk.session.papers.paper_settings import PageOrder, PaperChoice, PaperSettings, PrinterSettings
from desk.session.papers.pictures import open_pages
from desk.session.papers.printing import print_paper
from desk.session.papers.saving import save_paper
from desk.session.pile.batch import judge_batch
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
    return lambda paper, only=None: PaperRequest(paper, batch, terms, None if only is None else frozenset(only))


def texts(pdf):
    return [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]


def test_every_label_can_be_read_and_pieces_without_one_have_a_reason(wanted):
    done = make_paper(wanted(Paper.LABELS), RESOURCES)
    assert done.references == ("1001-1",)
    assert (done.pages, done.faults, done.failed) == (1, (), ())
    left = {one.reference: one.why for one in done.left_out}
    assert left["1002-1"] == "Label comes with the postage you buy online."
    assert left["1003-1"] == "Not weighed yet."
    assert left["1004-1"] == "The address is missing a city."
    assert set(left) == {"1002-1", "1003-1", "1004-1", "1005-1"}


def test_a_document_has_only_the_chosen_pieces(wanted):
    done = make_paper(wanted(Paper.SLIPS, ["1002-1"]), RESOURCES)
    assert done.references == ("1002-1",)
    assert done.left_out == ()
    assert "1002" in texts(done.pdf)[0]
    label = make_paper(wanted(Paper.LABELS, ["1001-1", "1003-1"]), RESOURCES)
    assert label.left_out == (LeftOut("1003-1", "Not weighed yet."),)


@pytest.mark.parametrize("paper", [Paper.LABELS, Paper.HAND_OVER])
def test_a_piece_set_aside_is_left_out(terms, paper):
    batch = judge_batch([made.case("0.7", number="1001", beside=PieceStatus.SET_ASIDE)], terms)
    done = make_paper(PaperRequest(paper, batch, terms), RESOURCES)
    assert done.left_out == (LeftOut("1001-1", "Marked set aside."),)


def test_a_piece_without_a_service_is_left_out_with_the_reason(terms):
    to_russia = made.abroad(country="RU", postal_code="125009")
    batch = judge_batch([made.case("5", "Padded", number="1001", address=to_russia)], terms)
    assert batch.verdicts[0].payment is None
    done = make_paper(PaperRequest(Paper.LABELS, batch, terms), RESOURCES)
    assert [one.reference for one in done.left_out] == ["1001-1"]
    assert "Russia" in done.left_out[0].why


def test_worksheets_cover_pieces_with_a_declaration(wanted):
    done = make_paper(wanted(Paper.KEYING_SHEETS), RESOURCES)
    assert done.references == ("1004-1", "1005-1")
    assert [one.reference for one in done.left_out] == ["1003-1"]


def test_the_hand_over_sheet_lists_ready_pieces(wanted):
    done = make_paper(wanted(Paper.HAND_OVER), RESOURCES)
    left = {one.reference: one.why for one in done.left_out}
    assert set(done.references) == {"1001-1", "1002-1", "1005-1"} - left.keys()
    assert "1001-1" in done.references
    assert (left["1003-1"], left["1004-1"]) == ("Not weighed yet.", "The address is missing a city.")


def test_an_empty_document_has_one_page_that_says_so(wanted):
    done = make_paper(wanted(Paper.LABELS, []), RESOURCES)
    assert (done.pages, done.references, done.left_out) == (1, (), ())
    assert "No labels to print." in texts(done.pdf)[0]


def test_progress_is_reported_and_canceling_leaves_nothing(wanted):
    heard = []
    make_paper(wanted(Paper.SLIPS), RESOURCES, lambda *done: heard.append(done))
    assert heard == [(1, 5), (2, 5), (3, 5), (4, 5), (5, 5)]
    assert make_paper(wanted(Paper.SLIPS), RESOURCES, canceled=lambda: True) is None
    asked = iter([False, True])  # while writing, then while proving
    assert make_paper(wanted(Paper.LABELS), RESOURCES, canceled=lambda: next(asked, True)) is None


def test_a_label_whose_address_has_unprintable_letters_is_left_out_with_them_named(terms):
    odd = replace(made.HOME, recipient="Ada \U0001f98a Vell")
    batch = judge_batch([made.case("0.7", address=odd)], terms)
    done = make_paper(PaperRequest(Paper.LABELS, batch, terms), RESOURCES)
    assert done.references == ()
    assert "label fonts can't print" in done.left_out[0].why


@pytest.mark.parametrize("paper", Paper)
def test_a_page_that_fails_its_check_is_left_out_with_the_reason(wanted, paper, monkeypatch):
    real = proof.prove

    def failing(pdf, records, dpi, canceled):
        found = real(pdf, records, dpi, canceled)
        faults = [
            PageFault(number, tuple(record.references), FaultKind.UNREAD, "1001-1")
            for number, record in enumerate(records)
            if "1001-1" in record.references or (paper is Paper.HAND_OVER and number == 0)
        ]
        return replace(found, faults=tuple(faults))

    monkeypatch.setattr(proof, "prove", failing)
    done = make_paper(wanted(paper), RESOURCES)
    why = "Failed its check before printing. Its code 1001-1 can't be read back."
    if paper is Paper.HAND_OVER:  # one sheet of all pieces: it is not printed at all
        assert done.faults == (why,)
        assert print_paper(done, "desk").words == f"Not printed. {why}"
    elif paper is Paper.KEYING_SHEETS:  # 1001 is domestic and has none
        assert (done.failed, done.faults) == ((), ())
    else:
        assert (done.failed, done.faults) == ((LeftOut("1001-1", why),), ())
        assert "1001-1" not in done.references


@pytest.mark.parametrize(
    ("order", "expected"),
    [
        (PageOrder.PILE, ["1001-1", "1002-1", "1003-1", "1004-1", "1005-1"]),
        (PageOrder.REVERSE, ["1005-1", "1004-1", "1003-1", "1002-1", "1001-1"]),
        (PageOrder.MAILER, ["1003-1", "1001-1", "1004-1", "1002-1", "1005-1"]),
        (PageOrder.DESTINATION, ["1001-1", "1002-1", "1003-1", "1004-1", "1005-1"]),
    ],
)
def test_pages_are_in_the_order_chosen_for_the_document(wanted, order, expected):
    settings = PaperSettings(choices={"slips": PaperChoice(order=order)})
    done = make_paper(replace(wanted(Paper.SLIPS), settings=settings), RESOURCES)
    assert list(done.references) == expected


def test_a_document_is_laid_out_for_the_stock_of_its_printer(wanted):
    printers = (PrinterSettings("desk", "letter", 300),)
    settings = PaperSettings(printers, {"slips": PaperChoice("desk"), "labels": PaperChoice("desk", "roll-4x2")})
    slips = make_paper(replace(wanted(Paper.SLIPS), settings=settings), RESOURCES)
    labels = make_paper(replace(wanted(Paper.LABELS), settings=settings), RESOURCES)
    assert (slips.size, slips.pages, labels.size) == ((612, 792), 1, (288, 144))
    assert make_paper(wanted(Paper.HAND_OVER), RESOURCES).size == (288, 432)


def test_an_address_with_no_room_on_its_label_is_left_out_with_the_reason(terms):
    many = replace(
        made.HOME,
        recipient="WIDE WORDS WWWWWWWWW WWWWW ONE IN AN ADDRESS",
        company="WIDE WORDS WWWWWWWWW WWWWW TWO IN AN ADDRESS",
        address1="WIDE WORDS WWWWWWWWW WWWWW THREE IN AN ADDRESS",
        address2="WIDE WORDS WWWWWWWWW WWWWW FOUR IN AN ADDRESS",
    )
    batch = judge_batch([made.case("1.7", address=many)], terms)
    settings = PaperSettings(choices={"labels": PaperChoice(stock="roll-4x2")})
    done = make_paper(PaperRequest(Paper.LABELS, batch, terms, None, settings), RESOURCES)
    assert done.references == ()
    assert "too long for its label" in done.left_out[0].why
    assert make_paper(PaperRequest(Paper.LABELS, batch, terms), RESOURCES).references == ("1001-1",)


def test_a_document_is_saved_completely_and_replaces_an_older_file(wanted, tmp_path):
    done = make_paper(wanted(Paper.SLIPS), RESOURCES)
    file = save_paper(done, tmp_path / "new folder" / "slips.pdf")
    assert file.read_bytes() == done.pdf
    assert save_paper(replace(done, pdf=b"%PDF"), file).read_bytes() == b"%PDF"
    assert [each.name for each in file.parent.iterdir()] == ["slips.pdf"]
    with pytest.raises(FileExistsError):
        save_paper(done, file / "below a file.pdf")


def test_previews_have_the_requested_size(wanted):
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


def test_checking_may_run_while_previews_are_drawn(wanted):
    """PDFium knows no threads; without the lock this ends the process now and then."""
    done = make_paper(wanted(Paper.SLIPS), RESOURCES)
    pages, faults = open_pages(done.pdf), []

    def proof():
        from tests.paper.codes import codes_on_pages

        try:
            assert len(list(codes_on_pages(done.pdf))) == 5
        except BaseException as fault:  # noqa: BLE001 - raised in the main thread
            faults.append(fault)

    thread = threading.Thread(target=proof)
    thread.start()
    while thread.is_alive():
        pages.picture(1, 96)
    thread.join()
    pages.close()
    assert faults == []


def test_a_hand_over_sheet_without_chosen_pieces_is_empty(wanted):
    assert isinstance(make_paper(wanted(Paper.HAND_OVER, []), RESOURCES), MadePaper)


def test_an_unweighed_piece_is_left_out_and_printed_ones_are_not(terms):
    batch = judge_batch([made.case("0.7", number="1001"), made.case(None, number="1002")], terms)
    done = make_paper(PaperRequest(Paper.LABELS, batch, terms), ROOT / "resources")
    assert [(one.reference, one.why) for one in done.left_out] == [("1002-1", "Not weighed yet.")]
