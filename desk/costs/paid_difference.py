"""Where what was really paid differs from the estimate: by service, zone and list, with the likely reason."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from desk.domain.money import Money, zero


class Reason(StrEnum):
    """Why a piece may have cost other than estimated; the most likely first."""

    OLD_LIST = "price list older than the mailing date"
    ZONE_OFF = "zone off by one"
    NEXT_WEIGHT = "one weight step more"
    DIMENSIONS = "size counted more than weight"
    OTHER_SERVICE = "another service was bought"
    UNKNOWN = "no reason found"


@dataclass(frozen=True, slots=True)
class PaidPiece:
    """One piece with both amounts, and what tells the reasons apart.

    `neighbors` are the list's prices one zone nearer and farther, `next_weight` the next weight step's, `dimensional`
    the price at its dimensional weight; each None where there is none. `list_until` is the last day of the price list.
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
    dimensional: Money | None = None

    @property
    def difference(self) -> Money:
        """Paid less estimated; below zero when it cost less."""
        return self.paid - self.estimated


@dataclass(frozen=True, slots=True)
class DifferenceGroup:
    """Pieces of one service, zone and list whose paid amount differs, with the reason most of them share."""

    service: str
    zone: str
    list_name: str
    reason: Reason
    pieces: tuple[PaidPiece, ...]

    @property
    def difference(self) -> Money:
        """The differences added up."""
        return sum((piece.difference for piece in self.pieces), zero(self.pieces[0].paid.currency))


def reason_for(piece: PaidPiece) -> Reason:
    """Return the likeliest reason why a piece cost other than estimated."""
    if piece.paid_service and piece.paid_service != piece.service:
        return Reason.OTHER_SERVICE
    if piece.dimensional is not None and piece.paid == piece.dimensional != piece.estimated:
        return Reason.DIMENSIONS
    if piece.next_weight is not None and piece.paid == piece.next_weight:
        return Reason.NEXT_WEIGHT
    if piece.paid in piece.neighbors:
        return Reason.ZONE_OFF
    if piece.list_until is not None and piece.mailed_on > piece.list_until:
        return Reason.OLD_LIST
    return Reason.UNKNOWN


def differences(pieces: Iterable[PaidPiece], more_than: Money) -> list[DifferenceGroup]:
    """Return the groups whose pieces differ by more than a sum, the largest in money first.

    Many pieces of one list that all differ by the same share point to an old list, whatever its last day says.
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
    """True when several pieces were all off by nearly the same share: a whole list has moved."""
    shares = [Decimal(piece.paid.minor) / piece.estimated.minor for piece in pieces if piece.estimated.minor]
    return len(shares) >= 3 and max(shares) - min(shares) <= Decimal("0.02")
