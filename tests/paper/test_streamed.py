import tracemalloc
from io import BytesIO
from itertools import pairwise

import pypdf
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader

from desk.paper.keying.keying_sheet import write_keying_sheets
from desk.paper.label.label import write_labels
from desk.paper.press import Press
from desk.paper.slip import write_slips
from desk.paper.streamed import KEPT, StreamedCanvas
from tests.paper.made import ADA, FONTS, PRESS, keying, label, pages, pdf, slip

COUNT = 100


class Sink:
    """A file that keeps only its length."""

    def __init__(self):
        self.length = 0

    def write(self, part):
        self.length += len(part)


def labels(count):
    return (label(f"{number}", recipient=(f"BUYER {number}", *ADA[1:])) for number in range(1000, 1000 + count))


def peak(count):
    """Return the bytes taken at most while writing that many labels, without the file."""
    tracemalloc.start()
    write_labels(labels(count), Sink(), PRESS)
    found = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return found


@pytest.mark.parametrize(
    ("write", "contents"),
    [(write_labels, [label("1047"), label("1048")]), (write_slips, [slip()]), (write_keying_sheets, [keying(40)])],
)
def test_an_independent_reader_finds_every_object_where_the_table_says(write, contents):
    document = pdf(write, contents)
    reader = pypdf.PdfReader(BytesIO(document), strict=True)
    theirs = ["".join(page.extract_text().split()) for page in reader.pages]
    assert [sorted(text) for text in theirs] == [sorted("".join(page[2].split())) for page in pages(document)]
    table = document[document.index(b"xref\n") :].splitlines()[2:]
    for number, line in enumerate(table[1 : reader.trailer["/Size"]], 1):
        assert document[int(line[:10]) :].startswith(b"%d 0 obj\n" % number)


def test_a_page_is_in_the_file_before_the_next_is_drawn():
    sink, lengths = Sink(), []
    write_labels(labels(5), sink, Press(FONTS, progress=lambda _done: lengths.append(sink.length)))
    assert all(later - earlier > 500 for earlier, later in pairwise(lengths))


def test_memory_grows_by_little_more_than_the_records_for_the_proof():
    peak(3 * COUNT)  # fills the caches
    grown = (peak(3 * COUNT) - peak(COUNT)) / (2 * COUNT)
    assert grown < 2500  # bytes a label: 700 of records and some caches; a document kept until saved takes 10,000


def test_two_files_have_two_identities_and_one_file_has_one():
    ids = [pypdf.PdfReader(BytesIO(pdf(write_slips, [slip(order)]))).trailer["/ID"] for order in ("1", "1", "2")]
    assert ids[0] == ids[1]
    assert ids[0] != ids[2]


def test_a_page_with_an_image_is_refused_rather_than_printed_without_it():
    canvas = StreamedCanvas(BytesIO(), (288, 432))
    canvas.drawImage(ImageReader(Image.new("L", (4, 4))), 0, 0, 72, 72)
    with pytest.raises(NotImplementedError):
        canvas.showPage()


def test_more_texts_than_the_cache_holds_are_all_written():
    numbers = [f"n{number}" for number in range(KEPT + 5)]
    document = pdf(write_slips, [slip(items=tuple(numbers[at : at + 10])) for at in range(0, len(numbers), 10)])
    shown = " ".join(page[2] for page in pages(document)).split()
    assert set(numbers) <= set(shown)


def test_a_text_longer_than_one_part_of_its_font_keeps_every_character():
    every = [chr(code) for code in range(0x4E00, 0x4E00 + 600)]  # a part of an embedded font has 256 glyphs
    lines = tuple("".join(every[at : at + 20]) for at in range(0, 600, 20))
    document = pdf(write_slips, [slip(items=lines[at : at + 5]) for at in range(0, 30, 5)])
    shown = "".join(page[2] for page in pages(document))
    assert all(character in shown for character in every)
