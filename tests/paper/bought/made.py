"""Label-like PDFs made for tests: eight invented layouts, none copied from a real one."""

from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from reportlab.graphics.barcode import code128
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from desk.domain.orders.check_digits import tracking_digit
from desk.paper.fonts import Fonts

FONTS = Fonts(Path(__file__).parents[3] / "resources" / "fonts")
LAYOUTS = ("plain", "frame", "upper", "lower", "two-up", "side-by-side", "turned", "picture")
LABEL, LETTER, LYING = (288.0, 432.0), (612.0, 792.0), (792.0, 612.0)


@dataclass(frozen=True)
class Parcel:
    """One invented label: the texts on it. Empty texts are omitted."""

    name: str
    street: str
    city: str
    postal_code: str
    reference: str = ""
    weight: str = ""
    number: int = 0
    code: str = ""

    @property
    def tracking(self):
        """Return twenty-two digits with their check digit, invented and never issued."""
        body = f"9999{self.number:017d}"
        return f"{body}{tracking_digit(body)}"


def write_labels_like(parcels, layout):
    """Return a PDF with a label for each parcel, in one of the layouts."""
    out = BytesIO()
    size = {"two-up": LETTER, "side-by-side": LYING}.get(layout, LABEL)
    canvas = Canvas(out, pagesize=size, invariant=1)
    many = {"two-up": 2, "side-by-side": 2}.get(layout, 1)
    for first in range(0, len(parcels), many):
        for place, parcel in enumerate(parcels[first : first + many]):
            x, y = {"two-up": (162, 400 - 390 * place), "side-by-side": (50 + 390 * place, 90)}.get(layout, (0, 0))
            high = 370 if layout == "two-up" else 432
            canvas.saveState()
            canvas.translate(x, y)
            if layout == "picture":
                canvas.drawImage(_picture(parcel), 0, 0, 288, 432)
            else:
                _draw(canvas, parcel, layout, high)
            canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return _turned(out.getvalue()) if layout == "turned" else out.getvalue()


def _draw(canvas, parcel, layout, high):

    def write(x, y, words, size):
        line = canvas.beginText(x, y)
        for run in FONTS.runs(words):
            line.setFont(run.face, size)
            line.textOut(run.shaped(size))
        canvas.drawText(line)

    low = {"upper": high - 190, "lower": 150}.get(layout, high - 160)
    if layout in ("frame", "two-up", "side-by-side"):
        canvas.rect(14, 34, 260, high - 66)
    if layout != "lower":
        write(22, high - 60, "FROM A BINDERY, 1 SORREL ST, DULUTH MN 55802", 7)
    lines = [parcel.name, parcel.street, f"{parcel.city} {parcel.postal_code}"]
    if layout == "lower":
        lines = [line.title() for line in lines]
    for row, line in enumerate(lines):
        write(40, low - 15 * row, line, 12)
    facts = [f"REF {parcel.reference}" if parcel.reference else "", parcel.weight]
    write(22, low - 64, "   ".join(filter(None, facts)), 9)
    code = code128.Code128(parcel.code or parcel.tracking, barHeight=44, barWidth=3 * 72 / 203)
    code.drawOn(canvas, 16, 62)
    write(40, 48, " ".join(parcel.tracking[at : at + 4] for at in range(0, 22, 4)), 8)


def _picture(parcel):
    """Return the label as an image only."""
    import pypdfium2

    out = BytesIO()
    canvas = Canvas(out, pagesize=LABEL, invariant=1)
    _draw(canvas, parcel, "plain", 432)
    canvas.showPage()
    canvas.save()
    document = pypdfium2.PdfDocument(out.getvalue())
    picture = document[0].render(scale=203 / 72, grayscale=True).to_pil()
    document.close()
    return ImageReader(picture)


def _turned(document):
    import pypdfium2

    opened, out = pypdfium2.PdfDocument(document), BytesIO()
    for number in range(len(opened)):
        opened[number].set_rotation((90, 180, 270)[number % 3])
    opened.save(out)
    opened.close()
    return out.getvalue()
