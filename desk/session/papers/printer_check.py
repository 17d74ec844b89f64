"""The test page of a printer, made with its stock, resolution, offset and scale."""

from __future__ import annotations

from importlib.resources.abc import Traversable
from io import BytesIO
from typing import TYPE_CHECKING

from desk.session.papers.paper_settings import PaperSettings, PrinterSettings
from desk.session.papers.printing import PrintResult, print_pdf

if TYPE_CHECKING:
    from desk.paper.spool import Spooler

FILE_NAME = "printer-test.pdf"


def make_test_page(settings: PaperSettings, queue: str, resources: Traversable) -> bytes:
    """Return the PDF of a printer's test page."""
    from desk.paper.fonts import Fonts
    from desk.paper.press import Press
    from desk.paper.printer_test import PrinterTestContent, write_printer_test

    printer = settings.printer(queue)
    stock = settings.stock_named(printer.stock)
    press = Press(
        Fonts(resources / "fonts"),
        stock=stock,
        dpi=printer.dpi,
        calibration=printer.calibration,
        title="Printer test page",
    )
    out = BytesIO()
    write_printer_test(PrinterTestContent(queue or "Any printer", _in_words(printer, stock.words)), out, press)
    return out.getvalue()


def print_test_page(
    settings: PaperSettings, queue: str, resources: Traversable, spooler: Spooler | None = None
) -> PrintResult:
    """Print a printer's test page and return the result."""
    size = settings.stock_named(settings.printer(queue).stock).page
    return print_pdf(make_test_page(settings, queue, resources), FILE_NAME, size, queue, spooler)


def _in_words(printer: PrinterSettings, stock: str) -> str:
    return (
        f"{stock}, {printer.dpi} dots an inch, moved {printer.right_mm} mm right and {printer.up_mm} mm up, "
        f"{printer.scale_percent}%"
    )
