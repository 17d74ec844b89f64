"""The rough exchange rates that come with the program, for shops that have not entered their own."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal
from importlib.resources.abc import Traversable

from desk.domain.shop.shop import ExchangeRate


def read_rough_rates(file: Traversable) -> tuple[ExchangeRate, ...]:
    """Return the rates of a table `currency,usd,date,source,known_by`: dollars for one unit; ValueError for a bad cell."""
    rows = csv.DictReader(file.read_text(encoding="utf-8").splitlines())
    return tuple(
        ExchangeRate(row["currency"], "USD", Decimal(row["usd"]), date.fromisoformat(row["date"]), row["source"], True)
        for row in rows
    )
