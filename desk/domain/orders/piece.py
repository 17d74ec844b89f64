"""Piece: one physical thing on the scale, with one label; and its recorded weighing."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.length import Size
from desk.domain.weight import Shown


@dataclass(frozen=True, slots=True)
class Weighing:
    """What was recorded at the scale: the reading, and what was given about mailer, size and feel.

    None means not given: size then defaults to the mailer's, stiff to mailer or products, uneven to no. `earlier` is
    another reading of the same piece that this one replaced in the same file or session. `mailer_guessed` means that
    the mailer was assumed and is not confirmed. `copied_from` is the reference of the piece weighed instead; empty: it
    was on the scale itself.
    """

    shown: Shown
    mailer: str = ""
    size: Size | None = None
    stiff: bool | None = None
    uneven: bool | None = None
    earlier: Shown | None = None
    copied_from: str = ""
    mailer_guessed: bool = False


@dataclass(frozen=True, slots=True)
class PieceKey:
    """Order number and piece number, counted from 1. `reference` is what codes and tables hold."""

    order: str
    piece: int = 1

    @property
    def reference(self) -> str:
        """Return `order-piece`, as on customs and postage lists."""
        return f"{self.order}-{self.piece}"

    def number_among(self, pieces_in_order: int) -> str:
        """Return what people call it: the order number, with the piece number when its order ships in several."""
        return self.order if pieces_in_order == 1 and self.piece == 1 else self.reference
