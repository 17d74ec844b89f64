"""Ledger: every amount of money that a package earned or cost, one row each. Corrections are new rows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from desk.domain.money import Money


class Entry(StrEnum):
    """What an amount is for. The value is its word in files."""

    SHIPPING_PAID = "shipping paid"
    POSTAGE_ESTIMATED = "postage, estimated"
    POSTAGE_PAID = "postage, paid"
    STAMPS_OVER = "stamps beyond the postage"
    STAMP_PRICE = "stamps bought at another price"
    ADJUSTMENT = "carrier adjustment"
    CARRIER_REFUND = "carrier refund"
    MATERIALS = "materials"
    BUYER_REFUND = "refund to the buyer"
    CLAIM_PAID = "claim paid by the carrier"


class GroupBy(StrEnum):
    """What sums of the ledger are grouped by. A batch is what was handed over in one step."""

    DAY = "day"
    BATCH = "batch"
    MONTH = "month"
    YEAR = "year"
    COUNTRY = "destination"
    STATE = "state"
    SERVICE = "service"
    ORDER = "order"
    PACKAGE = "package"


REPLACED = "replaced by what was paid"  # why an estimate is taken back once the amount paid is entered
POSTAGE = frozenset(
    {
        Entry.POSTAGE_ESTIMATED,
        Entry.POSTAGE_PAID,
        Entry.STAMPS_OVER,
        Entry.STAMP_PRICE,
        Entry.ADJUSTMENT,
        Entry.CARRIER_REFUND,
    }
)
PAID = frozenset({Entry.POSTAGE_PAID, Entry.ADJUSTMENT, Entry.CARRIER_REFUND})  # add up to what postage cost in the end


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerRow:
    """One amount: above zero if earned, below if spent, so that the sum of all rows is the margin.

    `reference` is the piece's order and number; `country` is an ISO 3166 code, `state` only for domestic mail.
    """

    entry: Entry
    amount: Money
    mailed_on: date
    piece_id: int
    order: str
    reference: str
    service: str = ""
    zone: str = ""
    price_list: str = ""
    country: str = ""
    state: str = ""
    why: str = ""
