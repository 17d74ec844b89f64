"""Invented orders, and ten formats in which shops export them, with the same orders in each file."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

from tests.intake.tables import delimited, ods, xlsx

Table = list[list[Any]]
# fmt: off


@dataclass(frozen=True)
class Line:
    """One line of an order."""

    item: str
    sku: str
    variant: str
    quantity: int
    price: Decimal


@dataclass(frozen=True)
class Source:
    """An intended order, before export. `house` is the house number in `street`."""

    number: str
    placed: date
    first: str
    last: str
    company: str
    house: str
    street: str
    second: str
    city: str
    region: str
    postal_code: str
    country: str
    email: str
    phone: str
    note: str
    shipping: Decimal
    discount: Decimal
    lines: tuple[Line, ...] = field(default=())

    @property
    def name(self) -> str:
        return f"{self.first} {self.last}"

    @property
    def goods(self) -> Decimal:
        return sum((line.price * line.quantity for line in self.lines), Decimal(0))

    @property
    def total(self) -> Decimal:
        return self.goods - self.discount + self.shipping


HOMES = [
    ("Ink Lane", "Bend", "OR", "97701"), ("Folio Street", "Bath", "ME", "04530"), ("Quire Road", "Salem", "MA", "01970"),
    ("Vellum Way", "Dover", "DE", "19901"), ("Gilt Avenue", "Austin", "TX", "78701"),
]
GOODS = [
    ("Pocket notebook", "NB-1", ("blue", "red", "")), ("Pen tray, oak", "PT-2", ("",)), ('Bookmark "Fern"', "BM-3", ("silk", "linen")),
    ("Letterpress card", "LC-4", ("",)), ("Ruler 12\"", "RU-5", ("",)),
]
NOTES = ["", "", "Please leave it with the neighbor", "A gift: no invoice, please", "Ring twice;\nthe bell is quiet"]


def orders(count: int = 60, notes: bool = True) -> list[Source]:
    """Return the same invented orders on every call."""
    chance = random.Random(20261129)
    found = []
    for place in range(count):
        street, city, region, code = chance.choice(HOMES)
        lines = []
        for item, sku, variants in chance.sample(GOODS, chance.choice((1, 1, 2, 3))):
            price = Decimal(chance.choice((450, 1200, 2050, 125099, 999))) / 100
            lines.append(Line(item, sku, chance.choice(variants), chance.choice((1, 1, 2, 5)), price))
        found.append(
            Source(
                f"{4100 + place}", date(2026, 1, 1) + timedelta(days=chance.randrange(320)),
                chance.choice(("Ada", "Zoë", "Bo", "Mary Ann")), chance.choice(("Finch", "Müller", "O'Reed", "de la Cour")),
                chance.choice(("", "", "Reed & Sons")), f"{chance.randrange(1, 990)}", street, chance.choice(("", "Apt 3", "Floor 2, left")),
                city, region, code, "US", f"buyer{place}@mail.example", chance.choice(("", "555-0101", "555-0142")),
                chance.choice(NOTES) if notes else "", Decimal(chance.choice((0, 450, 1250))) / 100,
                Decimal(chance.choice((0, 0, 150, 300))) / 100, tuple(lines),
            )
        )
    return found


def money(amount: Decimal) -> str:
    return f"{amount:.2f}"


def comma(amount: Decimal) -> str:
    """Return the amount as written in Germany: 1.250,99."""
    return f"{amount:,.2f}".replace(",", "x").replace(".", ",").replace("x", ".")


def each_line(found: Sequence[Source]) -> Iterator[tuple[Source, Line]]:
    return ((order, line) for order in found for line in order.lines)


def snake_case() -> bytes:
    head = "order_id order_date ship_to_name ship_to_company ship_to_street_1 ship_to_street_2 ship_to_city ship_to_state ship_to_zip ship_to_country item_name item_sku item_variant item_quantity item_price shipping_paid discount_amount buyer_email buyer_phone buyer_note".split()
    rows: Table = [
        [o.number, o.placed.isoformat(), o.name, o.company, f"{o.house} {o.street}", o.second, o.city, o.region, o.postal_code, o.country,
         x.item, x.sku, x.variant, x.quantity, money(x.price), money(o.shipping), money(o.discount), o.email, o.phone, o.note]
        for o, x in each_line(orders())
    ]
    return delimited([head, *[[str(cell) for cell in row] for row in rows]]).encode()


def all_caps() -> bytes:
    """Words run together with capitals, semicolons, decimal commas, day first with a time, in a Western encoding."""
    head = "ORDERNUMBER ORDERDATE CUSTOMERNAME ADDRESSLINE1 ADDRESSLINE2 CITY STATE POSTALCODE COUNTRY PRODUCTNAME PRODUCTCODE QUANTITYORDERED PRICEEACH SHIPPINGPAID ORDERLINENUMBER QUARTER".split()
    rows = [
        [o.number, f"{o.placed.day}/{o.placed.month}/{o.placed.year} 0:00", o.name, f"{o.house} {o.street}", o.second, o.city, o.region,
         o.postal_code, "USA", x.item, x.sku, str(x.quantity), comma(x.price), comma(o.shipping), str(o.lines.index(x) + 1), "4"]
        for o, x in each_line(orders())
    ]
    return delimited([head, *rows], ";").encode("cp1252")


def camel_workbook() -> bytes:
    """A workbook with number and date cells; first and last name in separate columns."""
    head = "orderNumber orderedAt firstName lastName companyName addressLine1 addressLine2 city stateCode postalCode countryCode productTitle productSku quantity unitPrice shippingCost".split()
    rows: Table = [
        [int(o.number), datetime.combine(o.placed, time(9, 30)), o.first, o.last, o.company, f"{o.house} {o.street}", o.second, o.city, o.region,
         int(o.postal_code), o.country, x.item, x.sku, x.quantity, float(x.price), float(o.shipping)]
        for o, x in each_line(orders())
    ]
    return xlsx([head, *rows])


def german_ods() -> bytes:
    """German headers, with separate columns for house number, city and postal code."""
    head = "Bestellnummer Bestelldatum Empfänger Firma Straße Hausnummer Adresszusatz PLZ/Ort Bundesland Land Artikelbezeichnung Artikelnummer Menge Einzelpreis Versandkosten Bemerkung".split()
    rows = [
        [o.number, f"{o.placed:%d.%m.%Y}", o.name, o.company, o.street, o.house, o.second, f"{o.postal_code} {o.city}", o.region, "USA",
         x.item, x.sku, str(x.quantity), f"{comma(x.price)} USD", f"{comma(o.shipping)} USD", o.note.replace("\n", " ")]
        for o, x in each_line(orders())
    ]
    return ods([head, *rows])


def whole_address() -> bytes:
    """The whole address in one cell of several lines, separated by tabs."""
    head = [
        "Order #",
        "Order Date",
        "Full Name",
        "Shipping Address",
        "Item",
        "SKU",
        "Qty",
        "Unit Price",
        "Delivery Charge",
        "Customer Note",
    ]
    rows = []
    for o, x in each_line(orders()):
        street = "\n".join(filter(None, (f"{o.house} {o.street}", o.second)))
        text = f"{street}\n{o.city}, {o.region} {o.postal_code}\nUnited States"
        rows.append([f"#{o.number}", f"{o.placed:%B} {o.placed.day}, {o.placed.year}", o.name, text, x.item, x.sku, str(x.quantity),
                     f"${x.price:,.2f}", f"${o.shipping:,.2f}", o.note])
    return delimited([head, *rows], "\t").encode("utf-16")


def first_row_only() -> bytes:
    """Values given once are on the first row of an order; titles are above the header row."""
    head = ["Order no.", "Date placed", "Deliver to", "Street", "Unit", "Town", "State", "Postcode", "Country", "Goods", "Item code",
            "Pieces", "Price per piece", "Postage paid", "Order total", "Remarks"]
    rows = [["Orders of the fair"], ["printed", "2026-11-29"]]
    for o in orders():
        for place, x in enumerate(o.lines):
            once = [
                o.number,
                o.placed.isoformat(),
                o.name,
                f"{o.house} {o.street}",
                o.second,
                o.city,
                o.region,
                o.postal_code,
                "United States",
            ]
            end = [money(o.shipping), money(o.goods + o.shipping), o.note]
            line = [x.item, x.sku, str(x.quantity), money(x.price)]
            rows.append([*once, *line, *end] if place == 0 else [""] * 9 + line + [""] * 3)
    return delimited([*rows[:2], head, *rows[2:]]).encode("utf-8-sig")


def lines_that_are_no_goods() -> bytes:
    """Discount and postage are lines of the order, and the price is that of the whole line."""
    head = ["Invoice No", "Invoice date", "Client", "Address 1", "Address 2", "City", "State", "Zip", "Country", "Description", "Quantity",
            "Line total", "Invoice total"]
    rows = []
    for o in orders():
        once = [
            o.number,
            f"{o.placed:%d %b %Y}",
            o.name,
            f"{o.house} {o.street}",
            o.second,
            o.city,
            o.region,
            o.postal_code,
            "US",
        ]
        lines = [[x.item, str(x.quantity), money(x.price * x.quantity)] for x in o.lines]
        if o.discount:
            lines.append(["Discount: SPRING", "1", money(-o.discount)])
        lines.append(["Shipping", "1", money(o.shipping)])
        rows += [[*once, *line, money(o.total)] for line in lines]
    return delimited([head, *rows]).encode()


def french() -> bytes:
    head = ["Commande n°", "Date de commande", "Prénom", "Nom", "Société", "Rue et numéro", "Complément d'adresse", "Code postal", "Ville", "Région",
            "Pays", "Désignation", "Référence article", "Quantité", "Prix unitaire", "Frais de port", "Remise", "Message du client"]
    rows = [
        [o.number, f"{o.placed.day} {FRENCH[o.placed.month - 1]} {o.placed.year}", o.first, o.last, o.company, f"{o.house} {o.street}", o.second,
         o.postal_code, o.city, o.region, "US", x.item, x.sku, str(x.quantity), f"{x.price:.2f}".replace(".", ","),
         f"{o.shipping:.2f}".replace(".", ","), f"{o.discount:.2f}".replace(".", ","), o.note]
        for o, x in each_line(orders())
    ]
    return delimited([head, *rows], ";").encode("cp1252")


FRENCH = "janvier février mars avril mai juin juillet août septembre octobre novembre décembre".split()


def spanish_without_country() -> bytes:
    """No country column, postal codes without the leading zero, and a status for each order."""
    head = ["Nº de pedido", "Fecha", "Destinatario", "Dirección 1", "Dirección 2", "Ciudad", "Estado", "Código postal", "Artículo", "Referencia artículo",
            "Cantidad", "Precio unitario", "Gastos de envío", "Correo electrónico"]
    rows = [
        [o.number, o.placed.isoformat(), o.name, f"{o.house} {o.street}", o.second, o.city, o.region, o.postal_code.lstrip("0"), x.item, x.sku,
         str(x.quantity), money(x.price), money(o.shipping), o.email]
        for o, x in each_line(orders())
    ]
    return delimited([head, *rows], "|").encode()


def shares_per_line() -> bytes:
    """A discount on each line as a fraction, tax, and the order's total; billing and shipping address in one row."""
    head = ["Order ID", "Order Date", "Billing Name", "Billing Street", "Billing City", "Billing Zip", "Billing Country", "Shipping Name",
            "Shipping Street", "Shipping Address 2", "Shipping City", "Shipping State", "Shipping Zip", "Shipping Country", "Product Name",
            "Product SKU", "Qty", "Unit Price", "Line Discount", "Shipping Cost", "Tax", "Order Total"]
    rows = []
    for o in orders():
        tax = Decimal("1.07")
        total = sum(((x.price * x.quantity - share(x)) for x in o.lines), Decimal(0)) + o.shipping + tax
        rows += [
            [
                o.number, f"{o.placed.month}/{o.placed.day}/{o.placed.year}", "Di Sand", "9 Oak Road", "Salem", "97301", "US", o.name,
                f"{o.house} {o.street}", o.second, o.city, o.region, o.postal_code, "US", x.item, x.sku, str(x.quantity), money(x.price), "0.1",
                money(o.shipping), money(tax), money(total),
            ]
            for x in o.lines
        ]
    return delimited([head, *rows]).encode()


def share(line: Line) -> Decimal:
    """Return a tenth of a line, to the cent."""
    return (line.price * line.quantity * Decimal("0.1") + Decimal("0.0000001")).quantize(Decimal("0.01"))


SHAPES: dict[str, Callable[[], bytes]] = {
    "snake case": snake_case,
    "capitals run together": all_caps,
    "a workbook in camel case": camel_workbook,
    "a German ODS": german_ods,
    "a whole address in one cell": whole_address,
    "given on the first row only": first_row_only,
    "discount and postage as lines": lines_that_are_no_goods,
    "French": french,
    "Spanish, no country": spanish_without_country,
    "a share off each line": shares_per_line,
}
