"""Mailer: the empty envelope, bag or box a piece is sent in."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from desk.domain.length import Size
from desk.domain.money import Money, zero
from desk.domain.weight import Weight


class MailerKind(StrEnum):
    """What a mailer is, as the shop file spells it."""

    ENVELOPE = "envelope"
    FLAT = "flat"
    PADDED = "padded"
    RIGID = "rigid"
    APPAREL = "apparel"
    BOX = "box"
    TUBE = "tube"
    CARD = "card"

    @property
    def is_stiff(self) -> bool:
        """Return True for a rigid kind (DMM 101.2.3)."""
        return self is MailerKind.RIGID

    @property
    def is_paper(self) -> bool:
        """Return False for a kind whose outside is not paper (DMM 101.1.2b)."""
        return self is not MailerKind.APPAREL


@dataclass(frozen=True, slots=True)
class Mailer:
    """A kind of mailer in stock. `paper` is false when its outside is not paper (needed by DMM 101.1.2b)."""

    name: str
    kind: MailerKind
    size: Size | None = None
    tare: Weight | None = None
    pack_price: Money | None = None
    pack_count: int = 1
    stiff: bool = False
    reused: bool = False
    paper: bool = True
    only_service: str = ""

    @property
    def overrules_kind(self) -> bool:
        """Return True when it is set to flexible, or to paper outside, contrary to its kind."""
        return (self.kind.is_stiff and not self.stiff) or (self.paper and not self.kind.is_paper)

    def cost(self, currency: str) -> Money:
        """Return the cost of one, to the cent; a reused one costs nothing."""
        if self.reused or self.pack_price is None:
            return zero(currency)
        return self.pack_price.shared(self.pack_count)
