"""Find the price of one piece and the total of a line by arithmetic: price times quantity is the total."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from desk.intake.columns.amounts import NotRead, count, money
from desk.intake.columns.samples import Samples
from desk.intake.order_headers.rules import candidates
from desk.intake.order_headers.words import header_meaning

_CENTS = "USD"  # any currency with two decimals; both columns of a pair are read alike
_PRICES = frozenset({"price", "each-price", "selling", "list", "sales"})  # words for what a buyer pays
_PLAIN_TOTALS = ({"total"}, {"amount"})  # alone, the total of a line or of an order


def price_and_line_total(
    header: Sequence[str], samples: Samples, places: dict[str, int], free: Iterable[int]
) -> dict[str, int]:
    """Return the columns of `unit_price` and `line_total` when just one pair of columns multiplies in every row.

    A row with more than one piece has to be among them: of one piece, both are the same. A column called just "total"
    shows the price, but stays a question: it may be the order's.
    """
    if "quantity" not in places:
        return {}
    columns = list(free)
    prices = [places["unit_price"]] if "unit_price" in places else _prices(header, columns)
    totals = [places["line_total"]] if "line_total" in places else _called(header, columns, "line_total")
    named = {*totals}
    totals += [p for p in columns if header_meaning(header[p]).concepts in _PLAIN_TOTALS and p not in named]
    pairs = [
        (price, total)
        for price in prices
        for total in totals
        if price != total and _multiply(samples, price, places["quantity"], total)
    ]
    if len(pairs) != 1:
        return {}
    price, total = pairs[0]
    return {"unit_price": price, "line_total": total} if total in named else {"unit_price": price}


def _prices(header: Sequence[str], columns: Sequence[int]) -> list[int]:
    """Return the columns that may be `unit_price`; one called a cost is the maker's own beside another kind of price."""
    asked = [place for place in columns if header_meaning(header[place]).concepts & _PRICES]
    prices = _called(header, columns, "unit_price")
    return [place for place in prices if not asked or "cost" not in header_meaning(header[place]).concepts]


def _called(header: Sequence[str], columns: Sequence[int], name: str) -> list[int]:
    return [place for place in columns if any(one.field == name for one in candidates(header[place]))]


def _multiply(samples: Samples, price: int, quantity: int, total: int) -> bool:
    """Return whether price times quantity is the total in every row that has all three, and one has several pieces."""
    cells = samples.cells
    rows = {row for row in zip(cells[price], cells[quantity], cells[total], strict=True) if all(row)}
    try:
        read = [(_minor(each), count(pieces), _minor(whole)) for each, pieces, whole in rows]
    except NotRead:
        return False
    return any(pieces > 1 and each for each, pieces, _ in read) and all(
        each * pieces == whole for each, pieces, whole in read
    )


def _minor(text: str) -> Decimal:
    """Return an amount without its currency, in minor units."""
    bare = text.strip().strip("$€£").strip()
    return Decimal(money(bare, _CENTS).minor)
