"""Money: whole minor units and an ISO 4217 code. No floats, no silent conversion between currencies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from desk.domain.exact import exact

# Decimals other than two, ISO 4217 (list as of 2026, from babel's copy).
DECIMALS = {
    **dict.fromkeys(("BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF").split(), 0),
    **dict.fromkeys(("BHD IQD JOD KWD LYD OMR TND").split(), 3),
}


class CurrencyMismatch(ValueError):
    """Two different currencies in one operation; the program never converts automatically."""


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in minor units (cents) of one currency."""

    minor: int
    currency: str = "USD"

    @classmethod
    def of(cls, amount: Decimal | str | int, currency: str = "USD") -> Money:
        """Return money from major units. Raises ValueError for too many decimals for the currency, or an invalid
        number.
        """
        scaled = exact(amount).scaleb(decimals_of(currency))
        if scaled != scaled.to_integral_value():
            raise ValueError(f"not an amount of {currency}: {amount!r}")
        return cls(int(scaled), currency)

    def __add__(self, other: Money) -> Money:
        return Money(self.minor + self._same(other), self.currency)

    def __sub__(self, other: Money) -> Money:
        return Money(self.minor - self._same(other), self.currency)

    def __neg__(self) -> Money:
        return Money(-self.minor, self.currency)

    def __mul__(self, count: int) -> Money:
        return Money(self.minor * count, self.currency)

    def __lt__(self, other: Money) -> bool:
        return self.minor < self._same(other)

    def __le__(self, other: Money) -> bool:
        return self.minor <= self._same(other)

    def __bool__(self) -> bool:
        return self.minor != 0

    @property
    def amount(self) -> Decimal:
        """Return the amount in major units, with the currency's decimals."""
        return Decimal(self.minor).scaleb(-decimals_of(self.currency))

    def text(self) -> str:
        """Return the amount as a plain decimal with the currency's decimals: `0.82`, `-1.50`, `1200` for yen."""
        return f"{self.amount:f}"

    def shared(self, parts: int) -> Money:
        """Return one part of the amount, to the nearest minor unit, half up (what one mailer of a pack costs)."""
        return Money(int((Decimal(self.minor) / parts).quantize(Decimal(1), ROUND_HALF_UP)), self.currency)

    def _same(self, other: Money) -> int:
        if self.currency != other.currency:
            raise CurrencyMismatch(f"{self.currency} against {other.currency}")
        return other.minor


def decimals_of(currency: str) -> int:
    """Return how many decimals the currency has (two unless ISO 4217 says otherwise)."""
    return DECIMALS.get(currency, 2)


def zero(currency: str = "USD") -> Money:
    """Return zero in that currency."""
    return Money(0, currency)


def shared_out(total: Money, weights: Sequence[Money]) -> tuple[Money, ...]:
    """Return the total divided in proportion to the weights, by largest remainder, so that the parts add up exactly.

    Equal remainders go to the earlier line. If the weights add up to zero, every part is zero.
    """
    whole = sum(weight.minor for weight in weights)
    if whole <= 0:
        return tuple(zero(total.currency) for _ in weights)
    parts = [total.minor * weight.minor // whole for weight in weights]
    by_remainder = sorted(range(len(weights)), key=lambda at: -(total.minor * weights[at].minor % whole))
    for at in by_remainder[: total.minor - sum(parts)]:
        parts[at] += 1
    return tuple(Money(part, total.currency) for part in parts)
