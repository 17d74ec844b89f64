"""Header rows with the correct answer, and plausible cells for each column."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from desk.intake.columns.samples import Samples
from desk.intake.order_headers.match import OrderColumns, match_order_headers
from desk.tables.faults_found import FaultsFound

FILES = (
    "header_rows.txt",
    "header_rows_second.txt",
    "header_rows_third.txt",
    "header_rows_fourth.txt",
    "header_rows_fifth.txt",
    "header_rows_sixth.txt",
)
CELLS = {
    "order": ("1001", "1002", "1003"),
    "placed": ("2026-11-20", "2026-11-21", "2026-11-22"),
    "recipient": ("Ada Finch", "Bo Reed", "Cy Bell"),
    "first_name": ("Ada", "Bo", "Cy"),
    "last_name": ("Finch", "Reed", "Bell"),
    "company": ("", "Reed & Sons", ""),
    "full_address": (
        "12 Ink Lane, Bend, OR 97701, United States",
        "5 Quire Street, Bath, ME 04530, United States",
        "Rue X 3, 75001 Paris, France",
    ),
    "address1": ("12 Ink Lane", "5 Quire Street", "Rue X 3"),
    "house_number": ("12", "5", "3b"),
    "address2": ("Apt 3", "", "Floor 2"),
    "address3": ("", "", "Building C"),
    "city_line": ("97701 Bend", "04530 Bath", "75001 Paris"),
    "city": ("Bend", "Bath", "Paris"),
    "region": ("OR", "ME", ""),
    "postal_code": ("97701", "04530", "75001"),
    "country": ("US", "US", "France"),
    "email": ("ada@mail.example", "bo@mail.example", "cy@mail.example"),
    "phone": ("555-0101", "555-0102", "555-0103"),
    "item": ("Notebook", "Pen tray", "Bookmark"),
    "sku": ("NB-1", "PT-2", "BM-3"),
    "variant": ("blue", "", "red"),
    "quantity": ("1", "2", "1"),
    "unit_price": ("12.50", "9.00", "4.00"),
    "line_total": ("12.50", "18.00", "4.00"),
    "line_discount": ("0.00", "1.00", "0.00"),
    "currency": ("USD", "USD", "EUR"),
    "shipping_paid": ("4.50", "4.50", "15.00"),
    "shipping_choice": ("Standard", "Standard", "Express"),
    "discount": ("0.00", "1.50", "0.00"),
    "tax": ("0.00", "1.20", "0.00"),
    "tip": ("0.00", "2.00", "0.00"),
    "gift_wrap": ("0.00", "3.00", "0.00"),
    "insurance": ("0.00", "1.75", "0.00"),
    "total": ("17.00", "21.00", "19.00"),
    "status": ("paid", "paid", "open"),
    "shipped": ("unfulfilled", "", "unfulfilled"),
    "buyer_note": ("", "Please leave it with the neighbor", "Happy birthday to you"),
    "-name": ("Di Sand", "Ed Moss", "Flo Kay"),
    "-id": ("4411", "4412", "4413"),
    "-date": ("2026-12-01", "2026-12-02", "2026-12-03"),
    "-amount": ("12.50", "18.00", "4.00"),
    "-text": ("alpha", "beta", "gamma"),
    "-street": ("9 Folio Road", "8 Folio Road", "7 Folio Road"),
    "-city": ("Salem", "Dover", "Lyon"),
    "-zip": ("97301", "03820", "69001"),
    "-status": ("paid", "paid", "authorized"),
    "-count": ("1", "2", "3"),
    "-yes": ("yes", "no", "yes"),
    "-salutation": ("Ms.", "Mr.", "Dr."),
    "-carrier": ("Quick Courier", "Quick Courier", "Quick Courier"),
    "-percent": ("20", "7", "20"),
    "-taxid": ("B12345674", "", "A58818501"),
    "-email": ("di@mail.example", "ed@mail.example", "flo@mail.example"),
}


@dataclass(frozen=True)
class HeaderRow:
    """A header row with the field of each column; a name with a dash is not one of our fields."""

    language: str
    header: tuple[str, ...]
    answers: tuple[str, ...]

    def matched(self) -> OrderColumns:
        """Return the program's answer, with plausible cells below the header."""
        rows = list(zip(*(CELLS[answer] for answer in self.answers), strict=True))
        header = tuple(f"{name} [2]" if name in self.header[:at] else name for at, name in enumerate(self.header))
        return match_order_headers(header, Samples(rows, len(header)), {}, (), FaultsFound("rows"), 1)


def header_rows() -> list[HeaderRow]:
    """Return all header rows, in the order of the file."""
    found, language = [], ""
    lines = (line for name in FILES for line in Path(__file__).with_name(name).read_text("utf-8").splitlines())
    for line in lines:
        if line.startswith("["):
            language = line.strip("[]")
        elif line and not line.startswith("#"):
            pairs = [pair.rsplit("=", 1) for pair in line.split("; ")]
            found.append(HeaderRow(language, tuple(name for name, _ in pairs), tuple(answer for _, answer in pairs)))
    return found


def judged(row: HeaderRow) -> tuple[list[str], list[str], list[str]]:
    """Count the columns read correctly, asked about, and read wrongly."""
    used = {place: name for name, place in row.matched().columns.places.items()}
    right, asked, wrong = [], [], []
    for place, (header, answer) in enumerate(zip(row.header, row.answers, strict=True)):
        got = used.get(place, "")
        if answer.startswith("-"):
            (wrong if got else right).append(f"{header} -> {got}")
        elif got == answer:
            right.append(header)
        else:
            (wrong if got else asked).append(f"{header} ({answer}) -> {got}")
    return right, asked, wrong
