"""Product: what the shop sells, with what the post and customs need to know about it."""

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
    """A product the shop sells.

    `hs` is six or more digits of `hs_edition`; `origin` an ISO 3166 code; `document` means correspondence, not goods.
    `usual_mailer` names the mailer for one of it.
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
    no_goods: bool = False  # not goods but a line such as gift wrap or a tip: never weighed or declared

    @property
    def key(self) -> str:
        """Return what identifies a product: the SKU, else the name."""
        return self.sku or self.name

    @property
    def is_media_doubtful(self) -> bool:
        """Return True when it is marked for the media price but its HS code or words suggest blank stationery.

        Heading 4820 is stationery to write in; the media price is for reading matter only (DMM 273.3.1).
        """
        words = f"{self.name} {self.customs_words}".casefold().split()
        return self.media and (self.hs.startswith("4820") or "blank" in words)
