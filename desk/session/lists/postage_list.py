"""The list of postage to buy online: ready pieces with everything to type in, and why others are left out."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

from desk.domain.exact import short
from desk.domain.status import PieceStatus, is_open
from desk.domain.weight import POUND_G, pounds_and_ounces
from desk.domain.whole_file import write_whole
from desk.session.contents.tables import Cell, table_bytes
from desk.session.pile.batch import Batch
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.sentences import sentence
from desk.session.words.services import extra_words
from desk.session.words.statuses import status_name

THOUSANDTH = Decimal("0.001")
ADDRESS = ("recipient", "company", "address1", "address2", "city", "region", "postal_code", "country", "email", "phone")
COLUMNS = (
    "reference", *ADDRESS, "length_in", "width_in", "thickness_in", "pounds", "ounces", "dimensional_lb", "service",
    "value", "currency", "contents", "hs", "customs_reference", "extras",
)  # fmt: skip
LEFT_OUT_COLUMNS = ("order", "piece", "reference", "recipient", "service", "status", "reason")


def postage_rows(batch: Batch, terms: Terms) -> list[list[Cell]]:
    """Return the rows of postage-list.csv: ready pieces whose postage is bought online, with actual weight and size."""
    return [
        _row(verdict, terms)
        for verdict in batch.verdicts
        if _is_bought(verdict) and verdict.status is PieceStatus.READY
    ]


def left_out_rows(batch: Batch) -> list[list[Cell]]:
    """Return the rows of left-out.csv: pieces that may need postage bought online but are not listed, with why."""
    rows: list[list[Cell]] = []
    for verdict in batch.verdicts:
        is_open_question = verdict.payment is None
        if verdict.status is PieceStatus.READY or not (_is_bought(verdict) or is_open_question):
            continue
        key, address = verdict.case.key, verdict.case.order.address
        named = address.recipient or address.company
        service = verdict.offer.service if verdict.offer else ""
        rows.append([key.order, key.piece, key.reference, named, service, str(verdict.status), _why(verdict)])
    return rows


def save_postage_list(batch: Batch, terms: Terms, file: Path) -> int:
    """Write the list as a CSV file, whole or not at all, and return its number of pieces. OSError when it fails."""
    rows = postage_rows(batch, terms)
    write_whole(file, table_bytes(COLUMNS, rows))
    return len(rows)


def _is_bought(verdict: Verdict) -> bool:
    return verdict.payment is Payment.ONLINE and verdict.offer is not None


def _row(verdict: Verdict, terms: Terms) -> list[Cell]:
    order, key = verdict.case.order, verdict.case.key
    assert verdict.offer is not None
    declared = verdict.declaration
    return [
        key.reference,
        *(getattr(order.address, name) for name in ADDRESS),
        *_size(verdict),
        *_weight(verdict, terms),
        _dimensional(verdict),
        verdict.offer.service,
        order.goods_value.amount,
        order.goods_value.currency,
        "; ".join(_contents(verdict, terms)),
        "; ".join(_codes(verdict, terms)),
        key.reference if declared and declared.has_form else "",
        "; ".join(extra_words(code) for code in verdict.extras_sold),
    ]


def _size(verdict: Verdict) -> list[Cell]:
    size = verdict.contents.size
    if size is None:
        return [None, None, None]
    return [side.inches().quantize(THOUSANDTH).normalize() for side in (size.length, size.width, size.thickness)]


def _weight(verdict: Verdict, terms: Terms) -> list[Cell]:
    """Return pounds and ounces as mailed: the scale reading plus the label added afterwards."""
    assert verdict.case.weighing is not None
    gross = verdict.case.weighing.shown.weight + terms.shop.policy.label_weight
    pounds, ounces = pounds_and_ounces(gross, THOUSANDTH)
    return [pounds, ounces.normalize()]


def _dimensional(verdict: Verdict) -> Cell:
    """Return the dimensional weight in whole pounds where the piece is billed by its size; else empty."""
    assert verdict.offer is not None
    billed = verdict.offer.billable
    return Decimal(short(billed.weight.grams / POUND_G)) if billed.dimensional else None


def _contents(verdict: Verdict, terms: Terms) -> Iterator[str]:
    """Return the contents, with customs descriptions where the shop has them."""
    for line in verdict.case.order.lines:
        product = terms.shop.product_for(line)
        yield f"{line.quantity} x {product.customs_words if product and product.customs_words else line.item}"


def _codes(verdict: Verdict, terms: Terms) -> Iterator[str]:
    products = (terms.shop.product_for(line) for line in verdict.case.order.lines)
    yield from dict.fromkeys(product.hs for product in products if product is not None and product.hs)


def _why(verdict: Verdict) -> str:
    """Return every open issue as a sentence; without one, the status says why."""
    answered, beside = verdict.case.answered, verdict.case.beside
    issues = [one for one in verdict.findings if is_open(one, answered)] if beside is None else []
    return " ".join(sentence(one) for one in issues) or f"{status_name(verdict.status).capitalize()}."
