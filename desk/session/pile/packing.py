"""Placement: what a piece is put in and how it feels, and what to assume of it before anybody says so.

What the same contents were put in last comes first, then the smallest mailer that fits.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.length import Length, Size, inches
from desk.domain.mailer import Mailer, MailerKind
from desk.domain.piece import Weighing
from desk.domain.shop import Shop
from desk.domain.size_limits import CLERK_THICKNESS, LARGE_ENVELOPE, LETTER
from desk.session.pile.alike import Alike
from desk.session.verdict.case import Case

# What a finger can tell at a letter slot and a parcel slot: 1/4 in (DMM 101.1.1), 1/2 in (to a clerk when stamped,
# common practice, no source), 3/4 in (DMM 101.2.1). Anything thicker is kept as an inch.
THICKNESSES = {
    "slot": LETTER[2],
    "half": CLERK_THICKNESS,
    "three quarters": LARGE_ENVELOPE[2],
    "thicker": inches("1"),
}
GUESS = "the smallest that is thick enough"  # products have no length and width, so more is not known


@dataclass(frozen=True, slots=True)
class Placement:
    """Mailer by name, outside, stiffness, evenness; None: nobody said. `why` says where it comes from."""

    mailer: str = ""
    size: Size | None = None
    stiff: bool | None = None
    uneven: bool | None = None
    why: str = ""

    @property
    def thickness(self) -> str:
        """Which of `THICKNESSES` was said; empty: none of them."""
        sides = self.size.sides() if self.size else None
        return next((name for name, each in THICKNESSES.items() if sides and sides[2] == each), "")

    def in_mailer(self, mailer: Mailer) -> Placement:
        """The same in another mailer: a thickness that was said stays said."""
        size = self.size and mailer.size and _with_thickness(mailer.size, self.size.sides()[2])
        return replace(self, mailer=mailer.name, size=size, why="chosen")

    def as_thick(self, name: str, mailer: Mailer | None) -> Placement:
        """As thick as that name says; said again: as the mailer is. Unchanged when its mailer has no size."""
        if mailer is None or mailer.size is None:
            return self
        if self.thickness == name:
            return replace(self, size=None)
        return replace(self, size=_with_thickness(mailer.size, max(THICKNESSES[name], _least(name, mailer))))


def placement_for(case: Case, piece_id: int, alike: Alike, shop: Shop) -> Placement:
    """What is known or to be assumed: what was said of this piece, of the same contents last, or what just fits."""
    before = alike.last_weighed(piece_id)
    if case.weighing is not None:
        is_guess = before is None and not case.mailer and _guessed(case, shop) == case.mailer_name
        return replace(_of(case.weighing), mailer=case.mailer_name, why=GUESS if is_guess else "")
    assumed = Placement()
    if before is not None and before.weighing is not None:
        assumed = replace(_of(before.weighing), mailer=before.mailer_name, why=f"as {before.key.order}")
    elif guessed := _guessed(case, shop):
        assumed = Placement(guessed, why=GUESS)
    chosen = shop.mailer(case.mailer) if case.mailer else None
    if chosen is not None and chosen.name != assumed.mailer:
        return assumed.in_mailer(chosen)
    return replace(assumed, why="chosen") if chosen else assumed


def _guessed(case: Case, shop: Shop) -> str:
    """The mailer nobody named and no like piece was in; empty for an order in several pieces, and when none is."""
    fits = smallest_that_fits(case, shop) if case.pieces_in_order == 1 else None
    return fits.name if fits else ""


def smallest_that_fits(case: Case, shop: Shop) -> Mailer | None:
    """The mailer of least volume that is as thick as the contents together; a product with no thickness counts as thin.

    Reused mailers, cards, and packaging bound to a service are never assumed.
    """
    thick = _thickness(case, shop)
    fitting = [mailer for mailer in _ordinary(shop.mailers) if mailer.size and thick <= mailer.size.sides()[2]]
    return min(fitting, key=_volume, default=None)


def _ordinary(mailers: Iterable[Mailer]) -> Iterable[Mailer]:
    return (each for each in mailers if not each.reused and not each.only_service and each.kind is not MailerKind.CARD)


def _thickness(case: Case, shop: Shop) -> Length:
    whole = Length(Decimal(0))
    for line in case.order.lines:
        product = shop.product_for(line)
        if product is not None and product.thickness is not None:
            whole += product.thickness * line.quantity
    return whole


def _volume(mailer: Mailer) -> Decimal:
    return mailer.size.cubic_inches() if mailer.size else Decimal(0)


def _least(name: str, mailer: Mailer) -> Length:
    """A mailer that is thicker than an inch by itself is as thick as it is."""
    return mailer.size.sides()[2] if name == "thicker" and mailer.size else Length(Decimal(0))


def _with_thickness(size: Size, thickness: Length) -> Size:
    longest, middle, shortest = size.sides()
    if size.thickness == shortest:
        return replace(size, thickness=thickness)
    return Size(longest, middle, thickness)


def _of(weighing: Weighing) -> Placement:
    return Placement(weighing.mailer, weighing.size, weighing.stiff, weighing.uneven)
