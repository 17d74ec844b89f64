"""Addresses of any length are printed completely, apart and inside their label, or refused before printing."""

import os
from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from desk.paper.fonts import clean
from desk.paper.label.address_block import AddressTooLong
from desk.paper.label.label import address_fits, write_labels
from desk.paper.press import Press
from tests.paper.made import FONTS, STOCK, label, pages, pdf, proved

EXAMPLES = int(os.environ.get("ADDRESSES", "40"))  # 10,000 by hand: see resources/handbook/figures.md
LATIN = st.text("ABCDEFGHIJ QRSTUVW.'ÄÉÑØ1234567890", min_size=1, max_size=70)
SCRIPTS = st.sampled_from(
    (
        "山田花子 東京都",
        "محمد عبد الله 45",
        "שרה (דירה 3)",
        "श्री अर्जुन 12",
        "คุณน้ำผึ้ง",
        "ნინო ბერიძე",
        "홍길동 12",
        "улица Ленина 7",
    )
)
LINES = st.lists(st.one_of(LATIN, SCRIPTS, st.text("W", min_size=20, max_size=200)), min_size=1, max_size=8)
STOCKS = st.sampled_from([STOCK["roll-4x6"], STOCK["roll-4x2"], STOCK["roll-100x150"], STOCK["letter"]])


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(LINES, STOCKS, st.booleans(), st.integers(0, 4))
def test_an_address_is_printed_completely_or_refused_before_printing(lines, stock, letter, stamps):
    recipient = tuple(line for line in (clean(one).strip() for one in lines) if line)
    content = label(recipient=recipient or ("A",), letter=letter, stamps=((stamps, "Forever"),) if stamps else ())
    press = Press(FONTS, stock=stock)
    if not address_fits(content, press):
        try:
            pdf(write_labels, [content], press)
        except AddressTooLong:
            return
        raise AssertionError("refused before, and yet it was drawn")
    records, found = proved(write_labels, [content], press)
    assert found.faults == (), (recipient, found.faults)
    assert len(records) == 1
    text = "".join(pages(pdf(write_labels, [content], press))[0][2].split())
    if all(line.isascii() for line in recipient):  # the test's reader mixes the order of scripts
        assert "".join("".join(recipient).split()) in text or all("".join(line.split()) in text for line in recipient)


def test_a_name_of_200_characters_is_refused_or_printed_in_full():
    content = label(recipient=("W" * 200, "DULUTH MN  55804"))
    for press in (Press(FONTS), Press(FONTS, stock=STOCK["roll-4x2"])):
        if address_fits(content, press):
            text = pages(pdf(write_labels, [content], press))[0][2]
            assert text.count("W") == 200
    assert not address_fits(replace(content, recipient=("W" * 200,) * 4), Press(FONTS))
