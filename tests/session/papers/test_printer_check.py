import pypdfium2
import pytest

from desk.paper.spool import CommandResult, Spooler
from desk.session.papers.paper_settings import PaperSettings, PrinterSettings
from desk.session.papers.printer_check import make_test_page, print_test_page
from tests.conftest import ROOT

RESOURCES = ROOT / "resources"


def text(pdf):
    document = pypdfium2.PdfDocument(pdf)
    page = document[0].get_textpage()
    found = page.get_text_bounded()
    page.close()
    document.close()
    return found


def test_the_page_names_the_printer_and_its_settings():
    settings = PaperSettings((PrinterSettings("desk", "roll-4x6", 300),))
    found = text(make_test_page(settings, "desk", RESOURCES))
    assert "desk" in found
    assert "300 dots an inch" in found
    assert "Any printer" in text(make_test_page(settings, "", RESOURCES))


@pytest.mark.parametrize(("code", "taken"), [(0, True), (1, False)])
def test_the_page_is_printed_on_the_loaded_stock(code, taken):
    asked = []

    def run(words):
        asked.append(words)
        return CommandResult(code, "request id is desk-1 (1 file(s))" if words[0] == "lp" else "")

    settings = PaperSettings((PrinterSettings("desk", "roll-4x2"),))
    result = print_test_page(settings, "desk", RESOURCES, Spooler(run, lambda _s: None, 0.2, 0.1))
    assert result.taken is taken
    assert any("media=Custom.4x2in" in words for words in asked) is taken
