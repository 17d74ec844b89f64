"""Data for a firm sheet: one certificate of mailing for all untracked letters of a hand-over."""

from __future__ import annotations

from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.money import Money, zero
from desk.domain.status import PieceStatus
from desk.domain.whole_file import write_whole
from desk.rates.extras import FIRM_SHEET, LEAST_ON_SHEET, priced_extras
from desk.session.contents.tables import Cell, table_bytes
from desk.session.pile.batch import Batch
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words, number_in_words, pieces_in_words

ADDRESS = ("recipient", "company", "address1", "address2", "city", "region", "postal_code", "country")
COLUMNS = ("reference", *ADDRESS, "service", "postage", "fee")


def firm_sheet_rows(batch: Batch, terms: Terms) -> list[list[Cell]]:
    """Return a row for each ready or labeled piece without tracking: its address, its postage, and the sheet's fee.

    Empty when there are too few for a sheet.
    """
    rows = [_row(verdict, terms) for verdict in batch.verdicts if _is_listed(verdict)]
    return rows if len(rows) >= LEAST_ON_SHEET else []


def save_firm_sheet(batch: Batch, terms: Terms, file: Path) -> str:
    """Write the data as CSV and return a sentence with the count and the price. Refused below the least for a sheet.

    OSError when it can't be written.
    """
    rows = firm_sheet_rows(batch, terms)
    if not rows:
        ready = sum(_is_listed(verdict) for verdict in batch.verdicts)
        are_ready = f"{number_in_words(ready)} {'is' if ready == 1 else 'are'} ready"
        raise Refused(f"A firm sheet needs at least {LEAST_ON_SHEET} untracked packages; {are_ready}.")
    write_whole(file, table_bytes(COLUMNS, rows))
    fees = [fee for verdict in batch.verdicts if _is_listed(verdict) if (fee := _fee(verdict, terms)) is not None]
    total = sum(fees, zero("USD"))
    cost = (
        f"Certificates cost {amount_words(total)}" if len(fees) == len(rows) else "Your price list has no fee for some"
    )
    return f"Saved {pieces_in_words(len(rows))} for a firm sheet: {file}. {cost}."


def _is_listed(verdict: Verdict) -> bool:
    going = verdict.status in (PieceStatus.READY, PieceStatus.LABELED) and not verdict.customs_open
    return going and verdict.offer is not None and not verdict.offer.facts.tracked


def _fee(verdict: Verdict, terms: Terms) -> Money | None:
    assert verdict.offer is not None
    value = verdict.case.order.goods_value
    return priced_extras((FIRM_SHEET,), verdict.offer.facts, value, terms.price_rules)[0].price


def _row(verdict: Verdict, terms: Terms) -> list[Cell]:
    address, fee = verdict.case.order.address, _fee(verdict, terms)
    assert verdict.offer is not None
    return [
        verdict.case.key.reference,
        *(getattr(address, name) for name in ADDRESS),
        verdict.offer.service,
        verdict.offer.price.amount,
        fee.amount if fee else None,
    ]
