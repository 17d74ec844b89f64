"""Where the amount paid differs from the estimate: by service, zone and list, with the likely causes."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from desk.domain.money import Money, zero


class Reason(StrEnum):
    """What may explain a difference, in the order in which causes are named."""

    BOUGHT_AS = "bought as another service"
    BOUGHT_AS_UNKNOWN = "bought as a service we don't know"
    REFUNDED = "refunded by the carrier"
    NEWER_LIST = "price of a newer list"
    OLDER_LIST = "price of an older list"
    ZONE_OFF = "zone off by one"
    MORE_WEIGHT = "one weight step more"
    LESS_WEIGHT = "one weight step less"
    SIZE = "size measured differently"
    SIZE_FEE = "fee for size or shape"
    PRICE_OF_SERVICE = "price of another service"
    OLD_LIST = "price list may be out of date"
    UNKNOWN = "no reason found"


_ORDER = {reason: place for place, reason in enumerate(Reason)}


@dataclass(frozen=True, slots=True)
class Cause:
    """A reason, and which one: a service's id or name, the first day of a list, or a zone; empty where there is only one."""

    reason: Reason
    which: str = ""


@dataclass(frozen=True, slots=True)
class PaidPiece:
    """One piece with both amounts, and what may explain the difference.

    `named` holds what the paid amounts themselves say: another service than the estimated one, or a refund. `one_change`
    holds what the piece would have cost with one thing changed. `list_until` is the last day of its price list.
    """

    reference: str
    service: str
    zone: str
    list_name: str
    mailed_on: date
    estimated: Money
    paid: Money
    list_until: date | None = None
    named: tuple[Cause, ...] = ()
    one_change: tuple[tuple[Cause, Money], ...] = ()

    @property
    def difference(self) -> Money:
        """Return paid less estimated; below zero when it cost less."""
        return self.paid - self.estimated

    def differs_by(self, more_than: Money) -> bool:
        """Return True when paid and estimated differ by more than a sum, either way."""
        return differ(self.paid.minor, self.estimated.minor, more_than)

    @property
    def causes(self) -> tuple[Cause, ...]:
        """Return the service named, and what matches the amount to the cent, the likeliest first; else an old list."""
        fitting = dict.fromkeys(cause for cause, price in self.one_change if price == self.paid)
        if self.named or fitting:
            return (*self.named, *sorted(fitting, key=lambda cause: _ORDER[cause.reason]))
        is_old = self.list_until is not None and self.mailed_on > self.list_until
        return (Cause(Reason.OLD_LIST),) if is_old else ()


def differ(paid: int, estimated: int, more_than: Money) -> bool:
    """Return True when two amounts in minor units differ by more than a sum, either way."""
    return abs(paid - estimated) > more_than.minor


@dataclass(frozen=True, slots=True)
class DifferenceGroup:
    """Pieces of one service, zone and list whose paid amount differs, and the causes that explain most of them."""

    service: str
    zone: str
    list_name: str
    causes: tuple[Cause, ...]
    pieces: tuple[PaidPiece, ...]

    @property
    def difference(self) -> Money:
        """Return the sum of the differences."""
        return sum((piece.difference for piece in self.pieces), zero(self.pieces[0].paid.currency))


def differences(pieces: Iterable[PaidPiece], more_than: Money) -> list[DifferenceGroup]:
    """Return the groups of pieces that differ by more than a sum, the largest amount first.

    If many pieces of one list differ by the same share, the list is probably old, whatever its last day.
    """
    groups: dict[tuple[str, str, str], list[PaidPiece]] = defaultdict(list)
    for piece in pieces:
        if piece.differs_by(more_than):
            groups[piece.service, piece.zone, piece.list_name].append(piece)
    groups_found = [DifferenceGroup(*key, _shared(some), tuple(some)) for key, some in groups.items()]
    return sorted(groups_found, key=lambda group: (-abs(group.difference.minor), group.service, group.zone))


def _shared(pieces: list[PaidPiece]) -> tuple[Cause, ...]:
    """Return the causes that explain the most pieces; all of them in a tie."""
    counted = Counter(cause for piece in pieces for cause in piece.causes)
    most, unexplained = max(counted.values(), default=0), sum(not piece.causes for piece in pieces)
    if most < unexplained:
        return (Cause(Reason.OLD_LIST if _one_share(pieces) else Reason.UNKNOWN),)
    best = [cause for cause, count in counted.items() if count == most]
    return tuple(sorted(best, key=lambda cause: _ORDER[cause.reason]))


def _one_share(pieces: list[PaidPiece]) -> bool:
    """Return True when several pieces differ by nearly the same share, which means that a whole list changed."""
    shares = [Decimal(piece.paid.minor) / piece.estimated.minor for piece in pieces if piece.estimated.minor]
    return len(shares) >= 3 and max(shares) - min(shares) <= Decimal("0.02")
