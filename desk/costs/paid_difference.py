"""Where the amount paid differs from the estimate: by service, zone and list, with the likely reason."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from desk.domain.money import Money, zero


class Reason(StrEnum):
    """Why a piece may have cost more or less than estimated, the likeliest first."""

    OLD_LIST = "price list older than the mailing date"
    ZONE_OFF = "zone off by one"
    NEXT_WEIGHT = "one weight step more"
    DIMENSIONS = "charged for a larger size"
    OTHER_SERVICE = "another service was bought"
    UNKNOWN = "no reason found"


@dataclass(frozen=True, slots=True)
class PaidPiece:
    """One piece with both amounts, and what distinguishes the reasons.

    `neighbors` are the list's prices one zone nearer and farther, `next_weight` the next weight step's, `dimensional`
    the prices it would have if its size were charged for; None or empty if there is none. `list_until` is the last day of the price list.
    """

    reference: str
    service: str
    zone: str
    list_name: str
    mailed_on: date
    estimated: Money
    paid: Money
    paid_service: str = ""
    list_until: date | None = None
    neighbors: tuple[Money, ...] = ()
    next_weight: Money | None = None
    dimensional: tuple[Money, ...] = ()

    @property
    def difference(self) -> Money:
        """Return paid less estimated; below zero when it cost less."""
        return self.paid - self.estimated


@dataclass(frozen=True, slots=True)
class DifferenceGroup:
    """Pieces of one service, zone and list whose paid amount differs, with the most common reason."""

    service: str
    zone: str
    list_name: str
    reason: Reason
    pieces: tuple[PaidPiece, ...]

    @property
    def difference(self) -> Money:
        """Return the sum of the differences."""
        return sum((piece.difference for piece in self.pieces), zero(self.pieces[0].paid.currency))


def reason_for(piece: PaidPiece) -> Reason:
    """Return the likeliest reason why a piece cost more or less than estimated."""
    if piece.paid_service and piece.paid_service != piece.service:
        return Reason.OTHER_SERVICE
    if piece.paid in piece.dimensional and piece.paid != piece.estimated:
        return Reason.DIMENSIONS
    if piece.next_weight is not None and piece.paid == piece.next_weight:
        return Reason.NEXT_WEIGHT
    if piece.paid in piece.neighbors:
        return Reason.ZONE_OFF
    if piece.list_until is not None and piece.mailed_on > piece.list_until:
        return Reason.OLD_LIST
    return Reason.UNKNOWN


def differences(pieces: Iterable[PaidPiece], more_than: Money) -> list[DifferenceGroup]:
    """Return the groups of pieces that differ by more than a sum, the largest amount first.

    If many pieces of one list differ by the same share, the list is probably old, whatever its last day.
    """
    groups: dict[tuple[str, str, str], list[PaidPiece]] = defaultdict(list)
    for piece in pieces:
        if abs(piece.difference.minor) > more_than.minor:
            groups[piece.service, piece.zone, piece.list_name].append(piece)
    found = [DifferenceGroup(*key, _shared_reason(some), tuple(some)) for key, some in groups.items()]
    return sorted(found, key=lambda group: (-abs(group.difference.minor), group.service, group.zone))


def _shared_reason(pieces: list[PaidPiece]) -> Reason:
    counted: dict[Reason, int] = defaultdict(int)
    for piece in pieces:
        counted[reason_for(piece)] += 1
    best = max(counted, key=lambda reason: (counted[reason], reason is not Reason.UNKNOWN))
    return Reason.OLD_LIST if best is Reason.UNKNOWN and _one_share(pieces) else best


def _one_share(pieces: list[PaidPiece]) -> bool:
    """Return True when several pieces differ by nearly the same share, which means that a whole list changed."""
    shares = [Decimal(piece.paid.minor) / piece.estimated.minor for piece in pieces if piece.estimated.minor]
    return len(shares) >= 3 and max(shares) - min(shares) <= Decimal("0.02")
