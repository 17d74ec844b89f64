"""Findings about an order list as a whole: columns not read or read two ways, and orders left out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from desk.domain.finding import Code, Finding, Severity, finding
from desk.intake.order_headers.rules import PERSON, PLACE
from desk.intake.orders.addresses import SplitAddress
from desk.intake.orders.order_list import OrdersFile

# The parts of an address in the order in which they are listed.
_PARTS = {
    "recipient": "recipient", "address1": "street", "address2": "second line", "city": "city", "region": "state",
    "postal_code": "ZIP or postal code", "country": "country",
}  # fmt: skip
HARMFUL = (
    PERSON | PLACE | {"buyer_note"}
)  # a column that may be one of these is a look: without it a package may go astray


def list_findings(file: str, read: OrdersFile) -> Iterator[Finding]:
    """Yield the findings of one list, those that can cost a package first."""
    for question in read.questions:
        yield finding(
            Code.COLUMN_TWO_WAYS,
            file=file,
            header=question.header,
            count=question.count,
            example=question.values[0],
            lines=", ".join(map(str, question.lines)),
            readings=" or ".join(question.readings.values()),
            mapping=question.mapping_line,
        )
    for example in read.splits[:1]:
        header = read.matched.columns.name("full_address")
        yield finding(
            Code.ADDRESSES_SPLIT,
            file=file,
            header=header,
            example=one_line(example.text),
            read=split_words(example.parts),
        )
    for cell in read.several[:1]:
        header = read.matched.columns.name("item")
        yield finding(
            Code.ITEMS_SPLIT, file=file, header=header, example=one_line(cell.text), read=items_words(cell.items)
        )
    if read.sheet.side_by_side:
        yield finding(Code.LINES_SIDE_BY_SIDE, file=file, headers=", ".join(read.sheet.side_by_side))
    for offer in read.matched.suggestions:
        yield finding(
            Code.COLUMN_NOT_TAKEN,
            severity=Severity.LOOK if offer.ours in HARMFUL else None,
            header=offer.header,
            file=file,
            field=offer.ours,
            examples=", ".join(offer.values),
        )
    for one in read.matched.ignored:
        yield finding(
            Code.COLUMN_IGNORED,
            severity=Severity.LOOK if one.looks_like in ("address", "name", "goods", "note") else None,
            header=one.header,
            file=file,
            examples=", ".join(one.values),
        )
    for status, count in sorted(Counter(status for _, status in read.shipped).items()):
        yield finding(Code.ORDERS_SHIPPED, file=file, status=status, count=count)


def split_words(parts: SplitAddress) -> str:
    """Return the parts of a split address, with the name of each; missing ones are named."""
    named = [f"{words} {getattr(parts, name)}" for name, words in _PARTS.items() if getattr(parts, name)]
    missing = [_PARTS[name] for name in ("address1", "city", "postal_code", "country") if not getattr(parts, name)]
    return ", ".join([*named, *(f"no {words}" for words in missing)])


def items_words(items: Sequence[tuple[str, str]]) -> str:
    """Return counted items as lines of an order: "2 × Notebook, 1 × Pen"."""
    return ", ".join(f"{count} × {item}" for count, item in items)


def one_line(text: str) -> str:
    """Return a text on one line, with commas where it had line breaks."""
    return ", ".join(part.strip(" ,") for part in text.splitlines() if part.strip())
