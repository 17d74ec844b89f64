"""The tables of a batch: pieces, findings, declarations, and postage to buy online.

Rows hold text as `str` and numbers as `Decimal` or `int`; `write_table` escapes text that begins like a formula and
leaves numbers alone.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from io import StringIO
from typing import TextIO

from desk.customs.declaration import Declaration
from desk.domain.finding import REPORTED_ONCE, Finding, Severity
from desk.domain.money import Money
from desk.domain.weight import Weight, WeightUnit
from desk.session.contents.declared_fields import dollars_from, in_dollars, sender_name_of
from desk.session.pile.batch import Batch
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import some_of
from desk.session.words.sentences import sentence, way_out

Cell = str | Decimal | int | None
# What spreadsheet programs may read as the beginning of a formula, also in full width, behind characters that no one
# sees, and behind a separator that starts a new cell where lists are separated by semicolons.
_FORMULA = re.compile(
    "[\\s;,|\u00ad\u180e\u200b-\u200f\u2028-\u202f\u2060-\u206f\ufeff]*[=+\\-@\uff1d\uff0b\uff0d\uff20]|[\t\r]"
)
THOUSANDTH = Decimal("0.001")
ONE_OUNCE = Weight.of(1, WeightUnit.OUNCE)

PIECE_COLUMNS = (
    "order piece recipient destination mailer gross_g gross_oz billable billable_unit shape machinable service zone "
    "postage currency stamps extra_postage materials charged refund margin declaration stands findings "
    "overpaid extras extras_price"
).split()
FINDING_COLUMNS = "order piece code severity message fix source".split()
DECLARATION_COLUMNS = (
    "order piece form category line description quantity net_g value currency hs origin "
    "net_from value_usd gross_g export seller_tax_number buyer_tax_number if_undeliverable license certificate invoice "
    "insured_value sender_first_name sender_last_name sender_phone sender_email recipient_phone recipient_email open_issues "
    "value_usd_from"
).split()


def write_table(out: TextIO, columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """Write one CSV table with its header."""
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([_safe(cell) for cell in row] for row in rows)


def table_bytes(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Return a CSV table with its header, as the content of a file."""
    text = StringIO(newline="")
    write_table(text, columns, rows)
    return text.getvalue().encode()


def piece_row(verdict: Verdict, currency: str) -> list[Cell]:
    """Return one row of pieces.csv."""
    case, quoted, offer = verdict.case, verdict.quote, verdict.offer
    weight = case.weighing.shown.weight if case.weighing else None
    shape = quoted.shape if quoted else None
    return [
        case.key.order,
        case.key.piece,
        case.order.address.recipient or case.order.address.company,
        case.order.address.country,
        case.mailer_name or (verdict.contents.mailer.name if verdict.contents.mailer else ""),
        weight.grams.quantize(THOUSANDTH) if weight else None,
        weight.ounces().quantize(THOUSANDTH) if weight else None,
        offer.billable.figure if offer else None,
        offer.billable.unit if offer else "",
        shape.shape if shape else "",
        {True: "yes", False: "no", None: ""}[shape.machinable if shape else None],
        offer.service if offer else "",
        offer.key if offer else "",
        *_money_cells(verdict, currency),
        verdict.declaration.form if verdict.declaration else "none",
        str(verdict.status),
        ";".join(dict.fromkeys(issue.code for issue in reported(verdict.findings))),
        verdict.money.overpaid.amount if verdict.money and verdict.stamps else None,
        ";".join(verdict.extras_sold),
        verdict.extras_price.amount if verdict.extras_sold else None,
    ]


def _money_cells(verdict: Verdict, currency: str) -> list[Cell]:
    """Return the cells from postage to margin. Shipping paid is known before weighing; a margin needs a postage."""
    offer, money = verdict.offer, verdict.money
    extra = extra_postage(verdict)
    return [
        verdict.postage.amount if verdict.postage is not None else None,
        currency,
        verdict.stamps.words() if verdict.stamps else "",
        extra.amount if extra is not None else None,
        money.materials.amount if money else None,
        verdict.charged.amount,
        money.refund.amount if money and offer else None,
        money.margin.amount if money and offer else None,
    ]


def extra_postage(verdict: Verdict) -> Money | None:
    """Return what a stamped letter costs beyond one 1-oz stamp; None for anything else."""
    offer = verdict.offer
    if offer is None or not offer.facts.one_ounce_letter:
        return None
    one_ounce = offer.chart.row(ONE_OUNCE, offer.key)
    return offer.price - one_ounce.price if one_ounce else None


def reported(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings to report: everything except plain reasons."""
    return [issue for issue in findings if issue.severity is not Severity.FINE]


def finding_rows(batch: Batch, apart: Sequence[tuple[str, int | None, Finding]]) -> list[list[Cell]]:
    """Return the rows of findings.csv: those about the batch (no order), then pieces, then weights without an order."""
    rows: list[list[Cell]] = [_finding_row("", None, one.found, one.pieces) for one in batch.shared]
    for verdict in batch.verdicts:
        key = verdict.case.key
        own = (issue for issue in reported(verdict.findings) if issue.code not in REPORTED_ONCE)
        rows += [_finding_row(key.order, key.piece, issue) for issue in own]
    return rows + [_finding_row(order, piece, issue) for order, piece, issue in apart]


def _finding_row(order: str, piece: int | None, issue: Finding, about: Sequence[str] = ()) -> list[Cell]:
    words = f"{sentence(issue)} {some_of(about)}".rstrip()
    return [order, piece, issue.code, str(issue.severity), words, way_out(issue), issue.source]


def declaration_rows(batch: Batch, terms: Terms) -> list[list[Cell]]:
    """Return the rows of declarations.csv, one for each line of each declaration."""
    rows: list[list[Cell]] = []
    for verdict in batch.verdicts:
        declared, key = verdict.declaration, verdict.case.key
        if declared is None or not declared.has_form:
            continue
        head: list[Cell] = [key.order, key.piece, declared.form, declared.category]
        rest = _of_declaration(verdict, declared, terms)
        for number, line in enumerate(declared.lines, 1):
            value, dollars = line.value, in_dollars(line.value, terms)
            goods: list[Cell] = [number, line.description, line.quantity, line.net_g, value.amount, value.currency]
            net_from = "" if line.net_g is None else "learned" if line.net_is_learned else "typed"
            usd = dollars.amount if dollars is not None else None
            rows.append([*head, *goods, line.hs, line.origin, net_from, usd, *rest, dollars_from(value, terms)])
    return rows


def _of_declaration(verdict: Verdict, declared: Declaration, terms: Terms) -> list[Cell]:
    """Return the cells that are the same for every line, from `gross_g` on."""
    details, shop, address = verdict.case.order.customs, terms.shop, verdict.case.order.address
    name, insured = sender_name_of(shop), details.insured_value
    return [
        declared.gross.grams.quantize(THOUSANDTH) if declared.gross is not None else None,
        declared.export,
        declared.reference,
        details.buyer_tax_id,
        details.if_undeliverable.value,
        details.license,
        details.certificate,
        details.invoice,
        insured.amount if insured is not None else None,
        name.first,
        name.last,
        shop.sender.phone,
        shop.sender.email,
        address.phone,
        address.email,
        ";".join(dict.fromkeys(issue.code for issue in verdict.customs_open)),
    ]


def begins_like_formula(text: str) -> bool:
    """Return whether a spreadsheet program may read a text as a formula."""
    return _FORMULA.match(text) is not None


def _safe(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        text = cell.replace("\r\n", "\n").replace("\r", "\n")  # a lone carriage return would end a row for some readers
        return "'" + text if begins_like_formula(cell) else text
    return f"{cell:f}" if isinstance(cell, Decimal) else str(cell)
