"""Contents and helpers for the tests of papers: an invented bindery and invented buyers."""

from io import BytesIO
from pathlib import Path

import pypdfium2

from desk.paper.dots import Grid
from desk.paper.fonts import Fonts
from desk.paper.hand_over import HandOverContent, HandOverGroup, HandOverRow
from desk.paper.ink import Ink
from desk.paper.keying.keying_content import KeyingLine, KeyingSheetContent
from desk.paper.label.label_content import LabelContent
from desk.paper.packing_slip import PackingLine, PackingSlipContent
from desk.paper.press import Press
from desk.paper.proof import prove
from desk.paper.slip import SlipContent
from desk.paper.stock import STOCKS

FOLDER = Path(__file__).parents[2] / "resources" / "fonts"
FONTS = Fonts(FOLDER)
PRESS = Press(FONTS)
STOCK = {stock.id: stock for stock in STOCKS}
SENDER = ("Sorrel Street Bindery", "PO Box 99017", "Duluth MN 55802")
ADA = ("ADA QUIST", "KESTREL HOUSE", "41 GLUEPOT RD APT 3", "DULUTH MN  55804")
LONG = "112-3456789-1234567"


def label(order="1047", **changes):
    facts = {
        "order": order,
        "reference": f"{order}-1",
        "piece_of": "piece 1 of 1",
        "billable": "2 oz",
        "service_words": "Letter, stamped",
        "weighed": "weighed 1.3 oz",
        "sender": SENDER,
        "recipient": ADA,
        "stamps": ((1, "Forever"), (1, "additional ounce")),
        "remarks": ("DO NOT BEND",),
    }
    return LabelContent(**(facts | changes))


def slip(order="1047", **changes):
    facts = {
        "order": order,
        "reference": f"{order}-1",
        "piece_of": "piece 1 of 1",
        "billable": "2 oz",
        "status": "Ready",
        "recipient_short": "Ada Quist, Duluth MN",
        "items": ("2 × Pocket notebook, blue", "1 × Folder A5, marbled", "1 × Linen bookmark"),
        "mailer": "Rigid 6 × 8",
        "marks": ("GIFT", "DO NOT BEND"),
    }
    return SlipContent(**(facts | changes))


def packing(order="1047", lines=2, **changes):
    facts = {
        "order": order,
        "reference": f"{order}-1",
        "package_of": "",
        "sender": SENDER,
        "recipient": ADA,
        "lines": tuple(
            PackingLine(quantity=str(number), item=f"Pocket notebook {number}, blue", price="$18.00")
            for number in range(1, lines + 1)
        ),
        "sums": (("Items", "$36.00"), ("Shipping", "$4.00"), ("Total", "$40.00")),
        "date": "July 3, 2026",
        "thanks": "Thank you for your order!",
    }
    return PackingSlipContent(**(facts | changes))


def goods(number=1, **changes):
    facts = {
        "description": f"handmade paper notebook {number}",
        "quantity": str(number),
        "net_kg": "0.120",
        "net_lb_oz": "0 lb 4.2 oz",
        "value": "18.00",
        "hs": "4820.10",
        "origin": "US",
    }
    return KeyingLine(**(facts | changes))


def keying(lines=2, **changes):
    facts = {
        "order": "1052",
        "reference": "1052-1",
        "title": "piece 1 of 1, First-class package",
        "form": "CN 22",
        "category": "sale of goods",
        "sender": (*SENDER, "UNITED STATES"),
        "recipient": ("MAX MUSTER", "MUSTERSTRASSE 1", "10115 BERLIN", "GERMANY"),
        "lines": lines if isinstance(lines, tuple) else tuple(goods(number) for number in range(1, lines + 1)),
        "total_value": "36.00 USD",
        "total_net_lb_oz": "0 lb 8.4 oz",
        "total_net_kg": "0.240",
        "gross_lb_oz": "0 lb 11.3 oz",
        "gross_kg": "0.320",
        "sender_email": "bindery@sorrel.example",
        "recipient_phone": "+49 30 555 0100",
        "export_citation": "NOEEI 30.37(a)",
        "tax_id": "IOSS, ends in 123",
        "findings": ("The description is too vague.",),
        "cautions": ("The declaration is a legal statement by the sender.",),
    }
    return KeyingSheetContent(**(facts | changes))


def row(which, **changes):
    facts = {
        "reference": f"{which}-1",
        "number": str(which),
        "recipient": f"Buyer {which}",
        "place": "Duluth MN",
        "billable": "1 oz",
        "postage": "0.78",
    }
    return HandOverRow(**(facts | changes))


def hand_over(*counts, **changes):
    groups = tuple(
        HandOverGroup(
            heading=f"Group {place}",
            rows=tuple(row(1000 * place + number) for number in range(count)),
            total=f"{count} pieces",
        )
        for place, count in enumerate(counts, 1)
    )
    facts = {"title": "Hand-over", "date": "Wednesday 2026-07-15", "groups": groups, "total": f"{sum(counts)} pieces"}
    return HandOverContent(**(facts | changes))


def pdf(write, contents, press=PRESS):
    """Return the bytes written by a writer of papers."""
    out = BytesIO()
    write(contents, out, press)
    return out.getvalue()


def pages(document):
    """Return width, height and text of each page."""
    found = []
    opened = pypdfium2.PdfDocument(document)
    for number in range(len(opened)):
        page = opened[number]
        text = page.get_textpage()
        found.append((*page.get_size(), text.get_text_bounded().replace("\r\n", "\n")))
        text.close()
        page.close()
    opened.close()
    return found


def places(document, number=0):
    """Return each text drawn on a page as (left, bottom, right, top, words), in points, measured on the ink."""
    opened = pypdfium2.PdfDocument(document)
    page = opened[number]
    text = page.get_textpage()
    drawn = page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT], textpage=text)
    found = [(*each.get_bounds(), " ".join(each.extract().split())) for each in drawn]
    text.close()
    page.close()
    opened.close()
    return found


def proved(write, contents, press=PRESS, dpi=203):
    """Return the pages of a writer of papers, and their proof."""
    out = BytesIO()
    pages_of = write(contents, out, press)
    return pages_of, prove(out.getvalue(), pages_of, dpi)


def ink_on(out, size=(288, 432), dpi=203):
    """Return an empty page to write on."""
    from desk.paper.streamed import StreamedCanvas

    return Ink(StreamedCanvas(out, size), FONTS, Grid(dpi), size)


def as_array(dots):
    """Return the pixels of a page as rows of 0 (black) and 255 (white)."""
    import numpy as np

    return np.frombuffer(dots.data, np.uint8).reshape(dots.height, dots.stride)[:, : dots.width]
