"""Placing labels again: cropped and turned, never scaled, with no dark dot or quiet zone under our number."""

from io import BytesIO

import numpy as np
import pytest
from reportlab.pdfgen.canvas import Canvas

from desk.paper.bought.reading import CannotRead, LabelToPlace, lay_out, read_labels
from desk.paper.proof import pages_in_dots
from tests.paper.bought.made import LAYOUTS, Parcel, write_labels_like
from tests.paper.codes import codes_on_pages
from tests.paper.made import FOLDER, STOCK, as_array, pages

ROLL = STOCK["roll-4x6"].page
PARCELS = [Parcel(f"BUYER {n}", f"{n} QUILL ROW", "BEND OR", "97701", f"{2000 + n}-1", "2 lb", n) for n in range(3)]


def placed(tmp_path, content, size=ROLL, words="2000-1 · 2 lb"):
    """Return the outcome for the labels of a PDF, the pages written, and what was read."""
    file, out = tmp_path / "in.pdf", tmp_path / "out.pdf"
    file.write_bytes(content)
    labels = read_labels(file)
    wanted = [LabelToPlace(one.file, one.page, one.region, words) for one in labels]
    return lay_out(wanted, out, size, FOLDER), out, labels


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_gives_a_page_with_its_barcode_and_our_number(tmp_path, layout):
    became, out, labels = placed(tmp_path, write_labels_like(PARCELS, layout))
    assert [one.number_on for one in became] == ["margin"] * 3
    found = pages(out.read_bytes())
    assert [page[:2] for page in found] == [ROLL] * 3
    for (_, _, text), codes, parcel in zip(found, codes_on_pages(out), PARCELS, strict=True):
        assert parcel.tracking in codes
        assert "2000-1" in text
    assert len(labels) == 3


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_label_keeps_every_dot_and_stays_clear_of_our_number(tmp_path, layout):
    content = write_labels_like(PARCELS, layout)
    _, out, _ = placed(tmp_path, content, words=" ")  # the same labels without our number
    before = [as_array(dots) < 128 for dots in pages_in_dots(out)]
    _, out, _ = placed(tmp_path, content)
    after = [as_array(dots) < 128 for dots in pages_in_dots(out)]
    clear = round(0.125 * 203) - 2  # the post's own margin for its codes; from memory
    assert len(before) == len(PARCELS)
    for old, new in zip(before, after, strict=True):
        assert not (old & ~new).any()  # our number covers nothing
        ours = np.argwhere(new & ~old)
        assert len(ours) > 100
        (top, left), (bottom, right) = ours.min(axis=0), ours.max(axis=0)
        around = old[max(0, top - clear) : bottom + clear, max(0, left - clear) : right + clear]
        assert not around.any()


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_label_keeps_its_exact_size(tmp_path, layout):
    """Ink measured in width and height before and after: a label may be turned, never scaled."""
    content = write_labels_like(PARCELS[:1], layout)
    _, out, _ = placed(tmp_path, content, words=" ")
    (before,) = [as_array(dots) < 128 for dots in pages_in_dots(tmp_path / "in.pdf")]
    (after,) = [as_array(dots) < 128 for dots in pages_in_dots(out)]
    sides = [sorted(np.ptp(np.argwhere(one), axis=0)) for one in (before, after)]
    assert np.abs(np.subtract(*sides)).max() <= 1


def full_of_ink():
    out = BytesIO()
    canvas = Canvas(out, pagesize=(288, 432))
    for x in range(0, 288, 12):
        canvas.line(x, 0, x, 432)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def test_without_a_free_margin_the_number_is_on_a_following_slip(tmp_path):
    became, out, _ = placed(tmp_path, full_of_ink())
    assert (became[0].number_on, became[0].pages) == ("slip", (0, 1))
    assert "2000-1 · 2 lb" in pages(out.read_bytes())[1][2]


@pytest.mark.parametrize(("size", "how"), [((288, 432), "margin"), ((432, 288), "margin"), ((288, 429), "nothing")])
def test_a_label_is_rotated_to_fit_and_left_out_when_it_does_not(tmp_path, size, how):
    became, _, _ = placed(tmp_path, write_labels_like(PARCELS[:1], "plain"), size)
    assert became[0].number_on == how
    assert (became[0].pages == ()) is (how == "nothing")


def test_a_pdf_that_cannot_be_written_gives_a_sentence(tmp_path):
    file = tmp_path / "in.pdf"
    file.write_bytes(write_labels_like(PARCELS[:1], "plain"))
    (label,) = read_labels(file)
    with pytest.raises(CannotRead, match="The labels "):
        lay_out([LabelToPlace(label.file, 0, label.region, "1")], tmp_path / "no folder" / "out.pdf", ROLL, FOLDER)
