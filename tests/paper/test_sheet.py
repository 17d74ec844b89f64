from io import BytesIO

import pytest

from desk.paper.press import Press, start
from desk.paper.sheet import SheetWriter
from tests.paper.made import FONTS, STOCK, pages, places


def opened(stock="letter"):
    """Return a sheet whose heading is the page number, and its byte stream."""
    out = BytesIO()

    def head(sheet):
        sheet.ink.left(sheet.left, sheet.y - 10, f"head {sheet.page}", 10)
        sheet.y -= 20

    sheet = SheetWriter(start(out, Press(FONTS, stock=STOCK[stock])), head)
    sheet.open()
    return sheet, out


def closed(sheet, out):
    sheet.close()
    sheet.document.finish()
    return out.getvalue()


def test_text_continues_on_the_next_page_with_the_heading_on_each():
    sheet, out = opened()
    for number in range(120):
        sheet.write(f"line {number}", 10)
    texts = [page[2] for page in pages(closed(sheet, out))]
    assert sheet.page == len(texts) == 3
    for number, text in enumerate(texts, 1):
        assert text.startswith(f"head {number}")
    joined = "\n".join(texts).split("\n")
    assert [line for line in joined if line.startswith("line")] == [f"line {number}" for number in range(120)]


@pytest.mark.parametrize("stock", ["letter", "a4", "roll-4x6", "roll-100x150"])
def test_nothing_is_written_below_the_floor_or_beyond_the_margins(stock):
    sheet, out = opened(stock)
    for _ in range(20):
        sheet.write("words that need more than one line " * 8, 11)
    document = closed(sheet, out)
    for number in range(len(pages(document))):
        written = places(document, number)
        assert written
        for left, bottom, right, _, _ in written:
            assert left >= sheet.left - 1
            assert right <= sheet.right + 1
            assert bottom >= sheet.floor - 4


def test_a_block_that_must_stay_together_moves_to_the_next_page():
    sheet, _ = opened()
    assert not sheet.need(100)
    assert (sheet.page, sheet.need(sheet.y)) == (1, True)
    assert sheet.page == 2


def test_a_heading_is_never_alone_at_the_foot():
    sheet, out = opened()
    sheet.y = sheet.floor + 51
    sheet.heading("What is in it")
    assert sheet.page == 2
    assert "What is in it" in pages(closed(sheet, out))[1][2]
    sheet, _ = opened()
    sheet.y = sheet.floor + 53
    sheet.heading("What is in it")
    assert sheet.page == 1
