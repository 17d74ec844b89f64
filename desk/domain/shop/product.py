"""Product: what the shop sells, with what the post and customs need to know of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from desk.domain.length import Length
from desk.domain.weight import Weight


class Restriction(StrEnum):
    """Why the mail may refuse it (Publication 52)."""

    MAGNET = "magnet"
    BATTERY = "battery"
    FLAMMABLE = "flammable"
    AEROSOL = "aerosol"


@dataclass(frozen=True, slots=True)
class Product:
    """A product.

    `hs` is six or more digits of `hs_edition`; `origin` an ISO 3166 code; `document` is unsold writing. `usual_mailer`
    names the mailer that one of it goes in.
    """

    sku: str
    name: str
    unit_weight: Weight | None = None
    customs_words: str = ""
    hs: str = ""
    hs_edition: str = "HS 2022"
    origin: str = ""
    stiff: bool = False
    length: Length | None = None
    width: Length | None = None
    thickness: Length | None = None
    document: bool = False
    media: bool = False
    restricted: tuple[Restriction, ...] = ()
    usual_mailer: str = ""
    no_goods: bool = False  # a line such as gift wrap or a tip: never weighed or declared

    @property
    def key(self) -> str:
        """Return what tells products apart: the SKU, else the name."""
        return self.sku or self.name

    @property
    def is_media_doubtful(self) -> bool:
        """True when it is marked for the media price and its HS code or words say it holds nothing to read.

        Heading 4820 is stationery to write in; media mail is reading matter only (DMM 273.3.1).
        """
        words = f"{self.name} {self.customs_words}".casefold().split()
        return self.media and (self.hs.startswith("4820") or "blank" in words)
