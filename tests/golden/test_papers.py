"""Each paper as last approved by a person: words, positions, codes.

After an intended change, run with PAPERS_SEEN=1, look at the papers, and commit the new files.
"""

import os
from pathlib import Path

import pytest

from desk.paper.hand_over import write_hand_over
from desk.paper.keying.keying_sheet import write_keying_sheets
from desk.paper.label.label import write_labels
from desk.paper.label.label_content import PostageMark
from desk.paper.packing_slip import write_packing_slips
from desk.paper.press import Press
from desk.paper.slip import write_slips
from tests.paper.codes import codes_on_pages
from tests.paper.made import (
    FONTS,
    LONG,
    PRESS,
    SENDER,
    STOCK,
    hand_over,
    keying,
    label,
    packing,
    pages,
    pdf,
    places,
    slip,
)

HERE = Path(__file__).parent
FOREIGN = ("山田花子 (3)", "שרה לוי 12", "श्री अर्जुन", "PARIS", "FRANCE")
LABELS = [
    label(),
    label(letter=True),
    label(letter=True, envelope=(9.5, 4.125)),
    label("ORD-2026-0000123", payment=PostageMark.COUNTER, billable="15.999 oz", service_words="Ground parcel"),
    label("ORD-2026-0000123", payment=PostageMark.COUNTER, letter=True),
    label(stamps=((1, "Forever"), (4, "additional ounce"))),
    label(stamps=((30, "$0.05"),), letter=True, sender=(*SENDER, "UNITED STATES")),
    label("7", payment=PostageMark.METERED, recipient=FOREIGN),
]
LETTER = Press(FONTS, stock=STOCK["letter"])
PAPERS = {
    "labels": (write_labels, LABELS, PRESS),
    "labels-4x2": (write_labels, LABELS, Press(FONTS, stock=STOCK["roll-4x2"])),
    "slips": (write_slips, [slip(), slip(LONG, billable="", status="Needs a check")], PRESS),
    "slips-on-letter": (write_slips, [slip(), slip(LONG, billable="", status="Needs a check")], LETTER),
    "packing-slips": (write_packing_slips, [packing()], PRESS),
    "keying-sheets": (write_keying_sheets, [keying(), keying(20)], LETTER),
    "keying-sheets-4x6": (write_keying_sheets, [keying()], PRESS),
    "hand-over": (
        write_hand_over,
        hand_over(3, 40, signature="43 pieces received", notes=("Prices of July 12, 2026.",)),
        LETTER,
    ),
}


@pytest.mark.parametrize("name", PAPERS)
def test_texts_of_each_paper_equal_the_approved_ones(name):
    write, contents, press = PAPERS[name]
    seen = described(pdf(write, contents, press))
    file = HERE / f"{name}.txt"
    if os.environ.get("PAPERS_SEEN"):
        file.write_text(seen, encoding="utf-8")
    assert seen == file.read_text(encoding="utf-8")


def described(document):
    """Return one line per text: left and bottom in whole points, then the words; the code at the end of each page."""
    lines = []
    for number, (page, codes) in enumerate(zip(pages(document), codes_on_pages(document), strict=True)):
        lines.append(f"page {page[0]:.0f} x {page[1]:.0f}")
        lines += [f"{left:4.0f} {low:4.0f} {words}" for left, low, _, _, words in places(document, number)]
        lines.append("code " + " ".join(codes))
    return "\n".join(lines) + "\n"
