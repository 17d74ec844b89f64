"""What to charge, in sentences: how sure it is, flat or table, and shipping for free."""

from __future__ import annotations

from desk.domain.money import Money
from desk.session.money.charging import ABROAD, FreeShipping, GroupAdvice
from desk.session.words.figures import amount_words, counted

COVERED = 0.9


def basis_words(one: GroupAdvice) -> str:
    """Return what the advice is based on: the shop's own orders, or its catalog and a spread of zones."""
    if one.products is None:
        some = "" if one.repriced == one.orders else f"{one.repriced} "
        now = f" ({some}at today's prices)" if one.repriced else ""
        return f"{counted(one.orders, 'order')}{now}: "
    own = f"Only {counted(one.orders, 'order')}" if one.orders else "No orders"
    products = f"{one.products} of your products" if one.products > 1 else "one of your products"
    places = "several countries" if one.advice.group == ABROAD else "near and far zones"
    return f"{own} so far, so this is an estimate: {products}, mailed to {places}. "


def charge_words(one: GroupAdvice) -> str:
    """Return the charge that covers 9 in 10 and the one that breaks even."""
    covering, even = amount_words(one.advice.covering(COVERED)), amount_words(one.advice.break_even)
    packages = "orders" if one.products is None else "packages"
    return f"{basis_words(one)}{covering} covers 9 in 10 {packages}, and {even} breaks even."


def sure_words(one: GroupAdvice) -> str:
    """Return how sure the charge that covers 9 in 10 is."""
    if one.products is not None:
        return "From 30 orders on, your own orders replace this estimate."
    if not one.advice.is_enough:
        return "Fewer than 30 orders, so this is only a rough guide."
    interval = one.advice.covering_interval(COVERED)
    low, high = (amount_words(Money(minor, one.advice.currency)) for minor in (interval.low, interval.high))
    return f"With other orders like these, 9 in 10 would be covered by {low} to {high}."


def ways_words(one: GroupAdvice) -> str:
    """Return whether a flat charge is enough, and by how much costs differ from it and from a table."""
    ways = one.ways
    if len(ways.rows) < 2:
        return "A flat charge is enough: all are of one kind."
    flat, table = amount_words(ways.flat_off), amount_words(ways.table_off)
    off = f"Your costs differ from a flat charge by {flat} on average, and from a table by {table}."
    thin = " Some of its rows have fewer than 5 orders." if ways.is_thin and one.products is None else ""
    return f"A table of charges fits better. {off}{thin}" if ways.table_is_better else f"A flat charge is enough. {off}"


def free_words(free: FreeShipping | None) -> str:
    """Return what to add to prices to ship free for the same money; empty where nothing was mailed."""
    if free is None:
        return ""
    item = f", or {amount_words(free.per_item)} to each item" if free.per_item else ""
    return f"To ship free for the same money, add {amount_words(free.per_order)} to each order{item}."


def ways_rows(one: GroupAdvice) -> list[tuple[str, ...]]:
    """Return the rows of the table of charges, and the flat charge last."""
    rows = [(row.group, str(len(row.costs)), *_charges(row.break_even, row.covering(COVERED))) for row in one.ways.rows]
    flat = ("flat", str(len(one.advice.costs)), *_charges(one.ways.flat, one.advice.covering(COVERED)))
    return [*rows, flat]


def _charges(even: Money, covering: Money) -> tuple[str, str]:
    return amount_words(even), amount_words(covering)
