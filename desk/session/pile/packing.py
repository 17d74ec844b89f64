"""Placement: the mailer and feel of a piece, and what to assume before you choose.

The usual mailer for the same contents comes first, then the last placement of them, then the mailer that the product
names or that was confirmed for it, then the smallest one that fits, which is a guess until you confirm it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from desk.domain.codes import Code
from desk.domain.length import Length, Size, inches
from desk.domain.orders.piece import Weighing
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.shop import Shop
from desk.domain.size_limits import CLERK_THICKNESS, LARGE_ENVELOPE, LETTER
from desk.domain.weight import Shown
from desk.session.pile.alike import Alike
from desk.session.verdict.case import Case
from desk.session.verdict.confirmed import guess_cause
from desk.session.verdict.default_mailer import family_of, smallest_that_fits, usual_mailer

# What you can tell by hand at a letter slot and a parcel slot: 1/4 in (DMM 101.1.1), 1/2 in (to a clerk when stamped,
# common practice, no source), 3/4 in (DMM 101.2.1). Anything thicker counts as an inch.
THICKNESSES = {
    "slot": LETTER[2],
    "half": CLERK_THICKNESS,
    "three quarters": LARGE_ENVELOPE[2],
    "thicker": inches("1"),
}
GUESS, CHOSEN = "the smallest that fits", "chosen"


@dataclass(frozen=True, slots=True)
class Placement:
    """Mailer by name, outside size, rigid, lumpy; None: not given. `why` says in words where the mailer comes from."""

    mailer: str = ""
    size: Size | None = None
    stiff: bool | None = None
    uneven: bool | None = None
    why: str = ""
    guessed: bool = False
    is_chosen: bool = False  # you chose the mailer

    def weighing(self, shown: Shown) -> Weighing:
        """Return a weighing of a piece packed this way."""
        return Weighing(shown, self.mailer, self.size, self.stiff, self.uneven, mailer_guessed=self.guessed)

    @property
    def thickness(self) -> str:
        """Which of `THICKNESSES` was chosen; empty: none."""
        sides = self.size.sides() if self.size else None
        return next((name for name, each in THICKNESSES.items() if sides and sides[2] == each), "")

    def in_mailer(self, mailer: Mailer) -> Placement:
        """Return the placement in another mailer; a chosen thickness is kept."""
        size = self.size and mailer.size and _with_thickness(mailer.size, self.size.sides()[2])
        return replace(self, mailer=mailer.name, size=size, why=CHOSEN, guessed=False, is_chosen=True)

    def as_thick(self, name: str, mailer: Mailer | None) -> Placement:
        """Return the placement with that thickness; the same again means the mailer's own. Unchanged without a size."""
        if mailer is None or mailer.size is None:
            return self
        if self.thickness == name:
            return replace(self, size=None)
        return replace(self, size=_with_thickness(mailer.size, max(THICKNESSES[name], _least(name, mailer))))


def placement_for(case: Case, piece_id: int, alike: Alike, shop: Shop) -> Placement:
    """Return the known or assumed placement: chosen for this piece, else for the same contents, else what just fits."""
    if case.weighing is not None:
        is_confirmed = guess_cause(family_of(case.order, shop), case.weighing.mailer) in alike.confirmed
        is_open = not is_confirmed and Code.MAILER_GUESSED not in case.answered
        is_guess = case.weighing.mailer_guessed and not case.mailer and is_open
        return replace(_of(case.weighing), mailer=case.mailer_name, guessed=is_guess, why=GUESS if is_guess else "")
    assumed = _assumed(case, piece_id, alike, shop)
    chosen = shop.mailer(case.mailer) if case.mailer else None
    if chosen is not None and chosen.name != assumed.mailer:
        return assumed.in_mailer(chosen)
    return replace(assumed, why=CHOSEN, guessed=False, is_chosen=True) if chosen else assumed


def _assumed(case: Case, piece_id: int, alike: Alike, shop: Shop) -> Placement:
    """Return the placement of the same contents, without their thickness; a guess stays a guess until confirmed."""
    family, confirmed = family_of(case.order, shop), alike.confirmed
    before = alike.last_weighed(piece_id)
    usual = alike.usual(piece_id) if shop.policy.learn_weights else None
    if usual is not None and (mailer := shop.mailer(usual.name)) is not None:
        last = before.weighing if before is not None and before.mailer_name == mailer.name else None
        return replace(_of(last) if last else Placement(), mailer=mailer.name, size=None, why=usual.words)
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
    """Return the thickness for a name, at least the mailer's own when that is over an inch."""
    return mailer.size.sides()[2] if name == "thicker" and mailer.size else Length(Decimal(0))


def _with_thickness(size: Size, thickness: Length) -> Size:
    longest, middle, shortest = size.sides()
    if size.thickness == shortest:
        return replace(size, thickness=thickness)
    return Size(longest, middle, thickness)


def _of(weighing: Weighing) -> Placement:
    return Placement(weighing.mailer, weighing.size, weighing.stiff, weighing.uneven)
