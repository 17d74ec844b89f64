"""Each paper as a person last looked at it: pictures of its first page, with a tolerance for other drawing libraries.

After an intended change, run with PAPERS_SEEN=1, look at the pictures, and commit the new files.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any  # arrays of numbers

import numpy as np
import pytest
from PIL import Image

from desk.paper.label.label import write_labels
from desk.paper.proof import pages_in_dots
from tests.golden.test_papers import PAPERS
from tests.paper.made import PRESS, label, pdf

HERE = Path(__file__).parent / "pictures"
DPI = 100
BLOCK = 5  # dots: a twentieth of an inch
MOST_INK = 0.3  # share of a block's dots by which it may differ
MOST_BLOCKS = 0.0002  # share of the blocks of a page that may differ by more: one on a label


def dots(document: bytes) -> Any:
    """Return the first page as an array of black dots."""
    page = next(pages_in_dots(document, DPI))
    return np.frombuffer(page.data, np.uint8).reshape(page.height, page.stride)[:, : page.width] < 128


def differing(seen: Any, approved: Any) -> float:
    """Return the share of blocks that clearly differ in ink, leaving out small shifts within a block."""
    if seen.shape != approved.shape:
        return 1.0
    high, wide = (size // BLOCK * BLOCK for size in seen.shape)

    def ink(page: Any) -> Any:
        return page[:high, :wide].reshape(high // BLOCK, BLOCK, wide // BLOCK, BLOCK).mean(axis=(1, 3))

    return float((abs(ink(seen) - ink(approved)) > MOST_INK).mean())


@pytest.mark.parametrize("name", PAPERS)
def test_the_first_page_equals_the_approved_picture(name: str) -> None:
    write, contents, press = PAPERS[name]
    seen, file = dots(pdf(write, contents, press)), HERE / f"{name}.png"
    if os.environ.get("PAPERS_SEEN"):
        HERE.mkdir(exist_ok=True)
        Image.fromarray(~seen).convert("1").save(file, optimize=True)
    assert differing(seen, np.asarray(Image.open(file).convert("1")) == 0) <= MOST_BLOCKS


@pytest.mark.parametrize(
    "other",
    [
        label(stamps=((2, "Forever"),)),
        label(billable="3 oz"),
        label("1048"),
        label(letter=True),
    ],
    ids=["stamps", "ounces", "number", "form"],
)
def test_another_label_is_outside_the_tolerance(other: Any) -> None:
    one, another = (dots(pdf(write_labels, [content], PRESS)) for content in (label(), other))
    assert differing(another, one) > MOST_BLOCKS


@pytest.mark.parametrize(("down", "is_seen"), [(1, False), (2, True)])
def test_a_page_shifted_by_two_hundredths_of_an_inch_is_noticed(down: int, is_seen: bool) -> None:
    page = dots(pdf(write_labels, [label()], PRESS))
    assert (differing(np.roll(page, down, axis=0), page) > MOST_BLOCKS) is is_seen
