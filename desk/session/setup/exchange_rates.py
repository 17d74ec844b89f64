"""The shop's exchange rates: dollars for one unit of another currency, each with its date and source."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from desk.domain.exact import plain
from desk.domain.exchange import STALE_AFTER_DAYS, converted
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.shop import ExchangeRate, Shop, usual_policy
from desk.intake.columns.currencies import CURRENCIES
from desk.session.setup.change_shop import FieldFault
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms
from desk.session.words.figures import day_in_words, measure
from desk.session.words.typed_numbers import number_typed
from desk.store.tables import shop as shelf

DOLLARS, DRAWING_RIGHTS = "USD", "XDR"
FINEST = Decimal("0.000001")
LARGEST = Decimal(1_000_000)
# A rate further from the usual one than this factor is upside down, or has a misplaced decimal point: common
# practice, no source. A drawing right was worth 0.9 to 1.7 dollars since 1980 (from memory).
FARTHEST, FARTHEST_RIGHTS = Decimal(5), Decimal("1.5")
USUAL_RIGHTS = Decimal("1.37276")  # dollars on April 21, 2026: the IMF's table, in print


@dataclass(frozen=True, slots=True)
class RateRow:
    """A rate as Setup shows it. `is_own`: the shop entered it; `is_old`: more than 30 days old on the mailing date."""

    currency: str
    rate: str  # as the locale writes it
    on: date
    source: str
    is_own: bool
    is_old: bool

    @property
    def texts(self) -> dict[str, str]:
        """Return the values of the fields."""
        return {"currency": self.currency, "rate": self.rate, "date": self.on.isoformat(), "source": self.source}

    @property
    def remark(self) -> str:
        """Return whose rate it is, and whether it is old."""
        whose = "yours" if self.is_own else "approximate, comes with the program"
        return f"{whose}, over {STALE_AFTER_DAYS} days old" if self.is_old else whose


def rate_rows(terms: Terms) -> tuple[RateRow, ...]:
    """Return the rates in use by currency: the shop's own, and rough ones for the rest."""
    currencies = sorted({code for rate in terms.rates for code in (rate.from_currency, rate.to_currency)} - {DOLLARS})
    own = {code for rate in terms.shop.rates for code in (rate.from_currency, rate.to_currency)}
    rows = []
    for currency in currencies:
        there = converted(Money.of(1, currency), DOLLARS, terms.rates)
        if there is not None and there.rate_on is not None:
            is_old = (terms.on - there.rate_on).days > STALE_AFTER_DAYS
            figure = plain(there.amount.quantize(FINEST)) if there.amount >= FINEST else plain(there.amount)
            source = " and ".join(dict.fromkeys(rate.source for rate in there.rates if rate.source))
            rows.append(RateRow(currency, measure(figure), there.rate_on, source, currency in own, is_old))
    return tuple(sorted(rows, key=lambda row: not row.is_own))


def save_rate(sitting: Sitting, values: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Use a rate from now on, as one step; without a date it is today's. With a fault nothing is saved."""
    typed = {name: str(value).strip() for name, value in values.items()}
    currency, rate, on = typed.get("currency", "").upper(), _rate(typed.get("rate", "")), _day(typed, sitting.on)
    faults = []
    if currency == DOLLARS or currency not in {*CURRENCIES, DRAWING_RIGHTS}:
        faults.append(FieldFault("currency", "Expected a currency code other than USD, such as EUR."))
    if rate is None:
        faults.append(FieldFault("rate", measure("Expected dollars for one unit, such as 1.1172.")))
    elif (usual := _usual(sitting, currency)) and not _is_near(rate, usual, currency):
        faults.append(FieldFault("rate", f"Expected dollars for {currency} 1: usually about {measure(plain(usual))}."))
    if on is None:
        faults.append(FieldFault("date", f"Expected a date up to {day_in_words(sitting.on)}, such as 2026-11-25."))
    if faults or rate is None or on is None:
        return tuple(faults)
    fresh = ExchangeRate(currency, DOLLARS, rate, on, typed.get("source", ""))
    _replace(sitting, currency, (fresh,), f"Exchange rate saved: {currency}")
    return ()


def remove_rate(sitting: Sitting, currency: str) -> None:
    """Remove the shop's own rate for a currency, as one step; a rough one replaces it where there is one."""
    _replace(sitting, currency, (), f"Exchange rate removed: {currency}")


def _without(rates: Sequence[ExchangeRate], currency: str) -> tuple[ExchangeRate, ...]:
    return tuple(rate for rate in rates if {rate.from_currency, rate.to_currency} != {currency, DOLLARS})


def _rate(text: str) -> Decimal | None:
    try:
        rate = number_typed(text)
    except ValueError:
        return None
    return rate if 0 < rate <= LARGEST else None


def _usual(sitting: Sitting, currency: str) -> Decimal | None:
    """Return what one unit is usually worth in dollars; None where no rate comes with the program."""
    if currency == DRAWING_RIGHTS:
        return USUAL_RIGHTS
    rough = converted(Money.of(1, currency), DOLLARS, sitting.rulebook.rates) if currency in CURRENCIES else None
    return None if rough is None else rough.amount


def _is_near(rate: Decimal, usual: Decimal, currency: str) -> bool:
    most = FARTHEST_RIGHTS if currency == DRAWING_RIGHTS else FARTHEST
    return usual / most <= rate <= usual * most


def _day(typed: Mapping[str, str], today: date) -> date | None:
    if not typed.get("date"):
        return today
    try:
        day = date.fromisoformat(typed["date"])
    except ValueError:
        return None
    return day if day <= today else None


def _replace(sitting: Sitting, currency: str, fresh: tuple[ExchangeRate, ...], step: str) -> None:
    """Replace the rates of one currency, leaving those another bench has saved meanwhile."""
    with sitting.store.act(step) as tx:
        shop = shelf.load(tx.conn) or Shop(Address(), usual_policy())
        shelf.save(tx, replace(shop, rates=(*_without(shop.rates, currency), *fresh)))
    sitting.announce(sitting.store.last_changes)
