"""Turn the rows of one order into an Order: order-level values, lines, and contradictions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from desk.domain.finding import Code, Finding, Severity, finding
from desk.domain.money import Money
from desk.domain.orders.customs_details import CATEGORY_WORDS, CustomsDetails
from desk.domain.orders.order import Charge, Order, OrderLine
from desk.domain.places.address import Address
from desk.domain.places.country import DOMESTIC_PLACES, HOME, Countries
from desk.intake.columns.amounts import NotRead, ReadsTwoWays, written_currency
from desk.intake.columns.formats import ColumnFormat
from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Row
from desk.intake.order_headers.words import header_meaning
from desk.intake.orders.addresses import split_address, split_city_line, with_house_number
from desk.intake.orders.cells import CellReader
from desk.intake.orders.counted_items import ItemCells, counted_items
from desk.intake.orders.order_lines import KnownProducts, LineCells, LineSums, OrderLineReader, cell_not_read, share_of
from desk.intake.orders.order_texts import AMOUNTS_START, LINE_STARTS, ONCE, OrderTexts, picker

LOST_ZERO = "common practice"  # no source: spreadsheets drop the leading zero of a five-digit ZIP code
CHARGES = {"tip": "Tip", "gift_wrap": "Gift wrap", "insurance": "Insurance"}
JOINED = frozenset({"buyer_note"})  # every text of an order is kept, one per line
LINE_LEVEL = frozenset(
    {"status", "shipped"}
)  # lists repeat these on each line; the first counts, and differences are not reported
LONGEST = {
    "recipient": 200, "first_name": 100, "last_name": 100, "company": 200, "address1": 100, "address2": 100, "address3": 100,
    "city_line": 200, "city": 100, "region": 100, "postal_code": 40, "email": 200, "phone": 60, "full_address": 600, "shipping_choice": 200,
    "status": 100,
}  # fmt: skip
LONGEST_ITEM, LONGEST_NOTE, LONGEST_KEPT = 500, 20_000, 2_000  # characters
LONGEST_NUMBER = 60
SHORT = min(*LONGEST.values(), LONGEST_ITEM)  # characters allowed in every field


@dataclass(frozen=True, slots=True)
class OrderTerms:
    """What reading one file's orders depends on. `summed` are amounts split over an order's rows.

    `country` is that of orders whose own is empty. `has_long_texts` is False when no cell exceeds any field's limit, so orders need no length check.
    """

    countries: Countries
    currency: str
    prefix: str = ""
    source: str = ""
    formats: Mapping[str, ColumnFormat] = field(default_factory=dict)
    summed: frozenset[str] = frozenset()
    products: KnownProducts = field(default_factory=KnownProducts)
    has_long_texts: bool = True
    country: str = ""
    item_cells: ItemCells = ItemCells.BY_CELL


@dataclass(frozen=True, slots=True)
class OrderAmounts:
    """The goods of an order and what is paid for them, with what could not be read of it."""

    goods: tuple[OrderLine, ...]
    paid: Money
    discount: Money
    charges: tuple[Charge, ...]
    customs: CustomsDetails
    findings: tuple[Finding, ...]


class OrderReader:
    """Reads the orders of one file. Anything unreadable becomes a finding of its order; reading continues."""

    def __init__(self, terms: OrderTerms, columns: Columns) -> None:
        self.terms, self.columns = terms, columns
        names = {name: columns.header[place] for name, place in columns.places.items()}
        self._names = names
        self._cells = CellReader(terms.countries, terms.formats)
        self._lines = OrderLineReader(self._cells, names, terms.products)
        self._pick, self._width = picker(columns, (*ONCE, *LineCells._fields)), len(columns.header)
        self._headed_currency = _headed_currency(columns)
        self._amounts: dict[tuple[int, tuple[str, ...]], OrderAmounts] = {}

    def order(self, number: str, rows: Sequence[Row]) -> Order:
        """Return the order on these rows."""
        findings: list[Finding] = []
        picked = [self._pick(row[1]) for row in rows]
        if len(rows) == 1:
            once = OrderTexts._make(picked[0][:LINE_STARTS])
        else:
            once = self._given_once([texts[:LINE_STARTS] for texts in picked], findings)
        lines = [LineCells._make(texts) for texts in (whole[LINE_STARTS:] for whole in picked) if any(texts)]
        if self.terms.has_long_texts:
            once = self._short_enough(once, findings)
            lines = [_short_item(line, findings) for line in lines]
        lines = [part for line in lines for part in counted_items(line, self.terms.products, self.terms.item_cells)]
        for _, cells in rows:
            if len(cells) > self._width and any(cells[self._width :]):
                findings.append(finding(Code.ROW_TOO_WIDE, width=self._width))
                break
        currency = self._currency(once, lines, findings)
        return self._built(number, once, self._lines.read(lines, currency), currency, findings)

    def _built(self, number: str, once: OrderTexts, sums: LineSums, currency: str, findings: list[Finding]) -> Order:
        address = self._address(once, findings)
        placed = self._placed(once, findings)
        key = (id(sums), once[AMOUNTS_START:])
        amounts = self._amounts.get(key)
        if amounts is None:
            amounts = self._amounts[key] = self._read_amounts(once, sums, currency)
        return Order(
            self.terms.prefix + number,
            address,
            amounts.goods,
            currency,
            amounts.paid,
            amounts.discount,
            once.shipping_choice,
            once.status,
            once.buyer_note,
            placed,
            self.terms.source,
            (*findings, *amounts.findings),
            amounts.charges,
            amounts.customs,
        )

    def _read_amounts(self, once: OrderTexts, sums: LineSums, currency: str) -> OrderAmounts:
        """Return what is paid for an order. Orders with the same lines and amounts share one of these."""
        findings: list[Finding] = []
        paid = self._amount("shipping_paid", once.shipping_paid, currency, findings) + sums.shipping
        discount = self._discount(once, sums, currency, findings) + sums.discount
        charges = tuple(self._charges(once, sums, currency, findings))
        findings += sums.findings
        if not sums.findings and not any(line.item or line.sku for line in sums.goods):
            findings.append(finding(Code.GOODS_MISSING))
        if once.total:
            self._check_total(once, sums, paid - discount, charges, findings)
        customs = self._customs(once, currency, findings)
        goods = tuple(sums.goods) or (OrderLine("", 1, Money(0, currency)),)
        return OrderAmounts(goods, Money(paid, currency), Money(discount, currency), charges, customs, tuple(findings))

    def _customs(self, once: OrderTexts, currency: str, findings: list[Finding]) -> CustomsDetails:
        """Return the file's customs details."""
        value = self._amount("customs_value", once.customs_value, currency, findings)
        return CustomsDetails(
            category=CATEGORY_WORDS.get(once.customs_category.casefold()),
            value=Money(value, currency) if value else None,
            itn=once.itn,
            buyer_tax_id=once.buyer_tax_id,
            ioss=once.ioss,
        )

    def _charges(self, once: OrderTexts, sums: LineSums, currency: str, findings: list[Finding]) -> Iterator[Charge]:
        yield from sums.charges
        for name, words in CHARGES.items():
            if name in self._names and (amount := self._amount(name, getattr(once, name), currency, findings)):
                yield Charge(words, Money(amount, currency))

    def _given_once(self, rows: Sequence[tuple[str, ...]], findings: list[Finding]) -> OrderTexts:
        """Return the first filled cell of each field; adds a finding for each field with two different ones."""
        texts = []
        for name, cells in zip(ONCE, zip(*rows, strict=True), strict=True):
            different = [text for text in dict.fromkeys(cells) if text]
            if name in self.terms.summed and any(cells):
                texts.append("\n".join(filter(None, cells)))
            elif name in JOINED:
                texts.append("\n".join(different))
            else:
                texts.append(different[0] if different else "")
                if len(different) > 1 and name not in LINE_LEVEL:
                    self._note_two_values(name, different, findings)
        return OrderTexts(*texts)

    def _note_two_values(self, name: str, texts: Sequence[str], findings: list[Finding]) -> None:
        meanings = {self._meaning(name, text) for text in texts}
        if len(meanings) > 1:
            column = self._names.get(name, name)
            findings.append(finding(Code.ORDER_TWO_VALUES, column=column, used=texts[0][:80], other=texts[1][:80]))

    def _meaning(self, name: str, text: str) -> object:
        """Return what makes two spellings equal: country names and codes, amounts and dates in two forms."""
        try:
            if name == "country":
                return self._cells.countries[text] or text
            if name == "placed":
                return self._cells.days[text]
            if name in ("shipping_paid", "discount", "tax", "total"):
                return self._cells.amounts(name, self.terms.currency)[text]
        except NotRead:
            pass
        return text

    def _short_enough(self, once: OrderTexts, findings: list[Finding]) -> OrderTexts:
        """Return the texts without absurdly long ones; adds a finding for every text over its limit."""
        if max(map(len, once)) <= SHORT:
            return once
        for name, text in zip(ONCE, once, strict=True):
            most = LONGEST_NOTE if name in JOINED else LONGEST.get(name, 200)
            if len(text) > most:
                is_absurd = (len(text) > LONGEST_KEPT and name not in JOINED) or len(text) > LONGEST_NOTE
                findings.append(_too_long(self._names.get(name, name), len(text), most, is_absurd))
                once = once._replace(**{name: ""}) if is_absurd else once
        return once

    def _currency(self, once: OrderTexts, lines: Sequence[LineCells], findings: list[Finding]) -> str:
        """Return the currency: its own column, else the one written with amounts, else the header's or the shop's."""
        if once.currency:
            try:
                return self._cells.currencies[once.currency]
            except NotRead as error:
                findings.append(cell_not_read(self._names["currency"], once.currency, error))
        for text in (*(line.unit_price or line.line_total for line in lines), once.total, once.shipping_paid):
            if not (text[:1] + text[-1:]).isdigit() and (code := written_currency(text)):
                return code
        return self._headed_currency or self.terms.currency

    def _amount(self, name: str, text: str, currency: str, findings: list[Finding]) -> int:
        """Return an order-level amount, or the sum over its rows, in minor units; 0 when unreadable."""
        if not text:
            return 0
        amounts = self._cells.amounts(name, currency)
        try:
            parts = text.split("\n") if name in self.terms.summed else [text]
            return _not_negative(sum(amounts[part].minor for part in parts))
        except NotRead as error:
            findings.append(cell_not_read(self._names[name], text, error))
            return 0

    def _discount(self, once: OrderTexts, sums: LineSums, currency: str, findings: list[Finding]) -> int:
        if not once.discount:
            return 0
        try:
            cell = self._cells.discounts("discount", currency)[once.discount]
        except NotRead as error:
            findings.append(cell_not_read(self._names["discount"], once.discount, error))
            return 0
        return cell.amount.minor + share_of(sums.goods_minor, cell.share)

    def _placed(self, once: OrderTexts, findings: list[Finding]) -> date | None:
        try:
            return self._cells.days[once.placed]
        except NotRead as error:
            if not isinstance(error, ReadsTwoWays):  # that is reported once, for the column
                issue = cell_not_read(self._names["placed"], once.placed, error)
                findings.append(Finding(issue.code, Severity.NOTE, issue.facts))
            return None

    def _check_total(
        self, once: OrderTexts, sums: LineSums, other: int, charges: Sequence[Charge], findings: list[Finding]
    ) -> None:
        """Add a finding unless the total is lines less discount, plus shipping and charges, with or without tax."""
        currency = sums.currency
        tax = self._amount("tax", once.tax, currency, findings) + sums.tax
        try:
            stated = self._cells.amounts("total", currency)[once.total]
        except NotRead as error:
            findings.append(cell_not_read(self._names["total"], once.total, error))
            return
        reckoned = sums.goods_minor + other + sum(charge.amount.minor for charge in charges)
        fitting = {base + extra for base in (reckoned, reckoned - sums.returned) for extra in (0, tax)}
        if stated.minor not in fitting and not any(issue.code is Code.CELL_NOT_READ for issue in findings):
            total = Money(reckoned + tax, currency).text()
            findings.append(finding(Code.TOTAL_DIFFERS, reckoned=total, stated=stated.text(), currency=currency))

    def _address(self, once: OrderTexts, findings: list[Finding]) -> Address:
        recipient = once.recipient or " ".join(filter(None, (once.first_name, once.last_name)))
        address1, address2, city, region = once.address1, once.address2, once.city, once.region
        postal_code, country = once.postal_code, once.country
        if once.full_address and not address1:
            split = split_address(once.full_address, self.terms.countries, country, bool(recipient))
            recipient, address1 = recipient or split.recipient, split.address1
            address2 = ", ".join(filter(None, (split.address2, address2)))
            city, region, postal_code = city or split.city, region or split.region, postal_code or split.postal_code
            country = country or split.country
        country = country or self.terms.country
        code = self._cells.countries[country]
        if once.city_line:
            city, region, postal_code = _city_line(once.city_line, code, city, region, postal_code)
        if code == HOME or code in DOMESTIC_PLACES:
            if code != HOME:
                code, region = HOME, code
            postal_code = _with_its_zero(postal_code, findings)
        if once.house_number:
            address1 = with_house_number(address1, once.house_number, code)
        if once.address3:
            address2 = ", ".join(filter(None, (address2, once.address3)))
        return Address(
            recipient,
            once.company,
            address1,
            address2,
            city,
            region,
            postal_code,
            code,
            once.email,
            once.phone,
            country,
        )


def _city_line(text: str, country: str, city: str, region: str, postal_code: str) -> tuple[str, str, str]:
    """Return city, region, and postal code from one cell; values with their own column win."""
    split = split_city_line(text, country)
    return city or split.city, region or split.region, postal_code or split.postal_code


def _not_negative(amount: int) -> int:
    if amount < 0:
        raise NotRead("an amount of 0.00 or more")
    return amount


def _headed_currency(columns: Columns) -> str:
    """Return the currency that the headers of amounts name, if they all name the same; a dollar sign names none."""
    named = {header_meaning(columns.header[place]).currency for place in columns.places.values()} - {"", "$"}
    return named.pop() if len(named) == 1 else ""


def _short_item(line: LineCells, findings: list[Finding]) -> LineCells:
    if len(line.item) <= LONGEST_ITEM and len(line.sku) <= LONGEST_ITEM and len(line.variant) <= LONGEST_ITEM:
        return line
    for name in ("item", "sku", "variant"):
        text: str = getattr(line, name)
        if len(text) > LONGEST_ITEM:
            is_absurd = len(text) > LONGEST_KEPT
            findings.append(_too_long(name, len(text), LONGEST_ITEM, is_absurd))
            line = line._replace(**{name: ""}) if is_absurd else line
    return line


def _too_long(column: str, length: int, most: int, is_absurd: bool) -> Finding:
    severity = Severity.STOP if is_absurd else Severity.LOOK
    return finding(Code.TEXT_TOO_LONG, severity=severity, column=column, length=length, most=most)


def _with_its_zero(postal_code: str, findings: list[Finding]) -> str:
    """Return a four-digit US code with its lost leading zero, and add a note; other codes unchanged."""
    if len(postal_code) != 4 or not (postal_code.isascii() and postal_code.isdigit()):
        return postal_code
    corrected = "0" + postal_code
    findings.append(finding(Code.POSTAL_CODE_MENDED, LOST_ZERO, typed=postal_code, corrected=corrected))
    return corrected
