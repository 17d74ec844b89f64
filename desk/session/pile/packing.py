"""Placement: what a piece is put in and how it feels, and what to assume of it before anybody says so.

What the same contents were put in last comes first, then the mailer the product names or that was confirmed for it,
then the smallest one that fits, which is a guess until somebody confirms it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.length import Length, Size, inches
from desk.domain.orders.piece import Weighing
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.shop import Shop
from desk.domain.size_limits import CLERK_THICKNESS, LARGE_ENVELOPE, LETTER
from desk.domain.weight import Shown
from desk.session.pile.alike import Alike
from desk.session.verdict.case import Case
from desk.session.verdict.confirmed import guess_cause
from desk.session.verdict.fitting import family_of, smallest_that_fits, usual_mailer

# What a finger can tell at a letter slot and a parcel slot: 1/4 in (DMM 101.1.1), 1/2 in (to a clerk when stamped,
# common practice, no source), 3/4 in (DMM 101.2.1). Anything thicker is kept as an inch.
THICKNESSES = {
    "slot": LETTER[2],
    "half": CLERK_THICKNESS,
    "three quarters": LARGE_ENVELOPE[2],
    "thicker": inches("1"),
}
GUESS = "the smallest that fits"


@dataclass(frozen=True, slots=True)
class Placement:
    """Mailer by name, outside, stiffness, evenness; None: not given. `why` says where it comes from."""

    mailer: str = ""
    size: Size | None = None
    stiff: bool | None = None
    uneven: bool | None = None
    why: str = ""
    guessed: bool = False

    def weighing(self, shown: Shown) -> Weighing:
        """Return the weighing of a piece packed like this."""
        return Weighing(shown, self.mailer, self.size, self.stiff, self.uneven, mailer_guessed=self.guessed)

    @property
    def is_chosen(self) -> bool:
        """Whether a person chose the mailer."""
        return self.why == "chosen"

    @property
    def thickness(self) -> str:
        """Which of `THICKNESSES` was said; empty: none of them."""
        sides = self.size.sides() if self.size else None
        return next((name for name, each in THICKNESSES.items() if sides and sides[2] == each), "")

    def in_mailer(self, mailer: Mailer) -> Placement:
        """The same in another mailer: a thickness that was said stays said."""
        size = self.size and mailer.size and _with_thickness(mailer.size, self.size.sides()[2])
        return replace(self, mailer=mailer.name, size=size, why="chosen", guessed=False)

    def as_thick(self, name: str, mailer: Mailer | None) -> Placement:
        """As thick as that name says; said again: as the mailer is. Unchanged when its mailer has no size."""
        if mailer is None or mailer.size is None:
            return self
        if self.thickness == name:
            return replace(self, size=None)
        return replace(self, size=_with_thickness(mailer.size, max(THICKNESSES[name], _least(name, mailer))))


def placement_for(case: Case, piece_id: int, alike: Alike, shop: Shop) -> Placement:
    """Return what is known or to be assumed: what was said of this piece, else of its contents, else what just fits."""
    if case.weighing is not None:
        is_guess = case.weighing.mailer_guessed and not case.mailer
        return replace(_of(case.weighing), mailer=case.mailer_name, guessed=is_guess, why=GUESS if is_guess else "")
    assumed = _assumed(case, alike.last_weighed(piece_id), alike, shop)
    chosen = shop.mailer(case.mailer) if case.mailer else None
    if chosen is not None and chosen.name != assumed.mailer:
        return assumed.in_mailer(chosen)
    return replace(assumed, guessed=False, why="chosen") if chosen else assumed


def _assumed(case: Case, before: Case | None, alike: Alike, shop: Shop) -> Placement:
    """What the same contents went in, without the thickness of that piece; a guess stays one until it is confirmed."""
    family, confirmed = family_of(case.order, shop), alike.confirmed
    if before is not None and before.weighing is not None:
        guessed = before.weighing.mailer_guessed and not before.mailer
        open_guess = guessed and guess_cause(family, before.mailer_name) not in confirmed
        like = replace(_of(before.weighing), mailer=before.mailer_name, size=None)
        return replace(like, guessed=open_guess, why=GUESS if open_guess else f"as {before.key.order}")
    if case.pieces_in_order > 1:
        return Placement()
    if named := usual_mailer(case.order, shop):
        return Placement(named.name, why="usual")
    if known := next((one for one in shop.mailers if guess_cause(family, one.name) in confirmed), None):
        return Placement(known.name, why="confirmed before")
    fits = smallest_that_fits(case.order, shop)
    return Placement(fits.name, why=GUESS, guessed=True) if fits else Placement()


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
