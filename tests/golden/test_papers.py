"""Each paper as it stood when a person last looked at it and found it good: words, places, codes.

After a change that is meant, run with PAPERS_SEEN=1, look at the papers, and commit the new files.
"""

import os
from pathlib import Path

import pytest

from desk.paper.hand_over import write_hand_over
from desk.paper.keying_sheet import write_keying_sheets
from desk.paper.label import write_labels
from desk.paper.label_content import Payment, StampMark
from desk.paper.proof import codes_on_pages
from desk.paper.slip import write_slips
from tests.paper.made import LONG, SENDER, hand_over, keying, label, pages, pdf, places, slip

HERE = Path(__file__).parent
FOREIGN = ("山田花子 (3)", "שרה לוי 12", "श्री अर्जुन", "PARIS", "FRANCE")
LABELS = [
    label(),
    label(letter=True),
    label("ORD-2026-0000123", payment=Payment.COUNTER, billable="15.999 oz", service_words="parcel, at the counter"),
    label("ORD-2026-0000123", payment=Payment.COUNTER, letter=True),
    label(stamps=(StampMark("additional ounce", "+1"),) * 12),
    label(stamps=(StampMark("face", "5¢"),) * 30, letter=True, sender=(*SENDER, "UNITED STATES")),
    label("7", payment=Payment.METERED, recipient=FOREIGN),
]
PAPERS = {
    "labels": (write_labels, LABELS),
    "slips": (write_slips, [slip(), slip(LONG, billable="to weigh", stands="needs a look")]),
    "keying-sheets": (write_keying_sheets, [keying(), keying(20)]),
    "hand-over": (
        write_hand_over,
        hand_over(3, 40, signature="handed over by, date", notes=("Prices of 2026-07-12.",)),
    ),
}


@pytest.mark.parametrize("name", PAPERS)
def test_paper_stands_as_it_was_seen(name):
    write, contents = PAPERS[name]
    seen = described(pdf(write, contents))
    file = HERE / f"{name}.txt"
    if os.environ.get("PAPERS_SEEN"):
        file.write_text(seen, encoding="utf-8")
    assert seen == file.read_text(encoding="utf-8")


def described(document):
    """One line a text: left and bottom edge in whole points, then the words; the code at the end of each page."""
    lines = []
    for number, (page, codes) in enumerate(zip(pages(document), codes_on_pages(document), strict=True)):
        lines.append(f"page {page[0]:.0f} x {page[1]:.0f}")
        lines += [f"{left:4.0f} {low:4.0f} {words}" for left, low, _, _, words in places(document, number)]
        lines.append("code " + " ".join(codes))
    return "\n".join(lines) + "\n"
