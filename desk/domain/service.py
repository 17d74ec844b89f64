"""Service: what one way of mailing is, whatever it costs."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from desk.domain.money import Money

COMMON_GIRTH = Decimal(108)  # inches, length plus girth (DMM 101.3.2)


class PostedAs(StrEnum):
    """The shape a service is made for."""

    LETTER = "letter"
    POSTCARD = "postcard"
    FLAT = "flat"
    PARCEL = "parcel"


class PaidBy(StrEnum):
    """How its postage is paid: in a fixed way, or as the shop pays letters or parcels."""

    STAMPS = "stamps"
    METER = "meter"
    AS_LETTERS = "as letters"
    AS_PARCELS = "as parcels"


class PriceLevel(StrEnum):
    """Which of two published prices a service pays; `ANY` where there is only one."""

    ANY = ""
    COUNTER = "counter"
    ONLINE = "online"


class FormRule(StrEnum):
    """How its customs form is found: by value and weight, or as the service asks."""

    LETTER_POST = "letter post"
    PACKET = "packet"
    FLAT_RATE = "flat rate"
    CN23 = "CN23"


class PackageRule(StrEnum):
    """Which measurements a service sets for its parcels besides length plus girth."""

    NONE = ""
    SMALL_PACKET = "small packet"
    CUBIC = "cubic"


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """The facts of one service, read from its price list's folder.

    `takes` names what it is kept for: `documents` (no goods), `media`, `library`, or nothing for all mail.
    `packaging` is the post's own packaging that it needs. `girth_limit` is length plus girth in inches. `cover` is
    the insurance that its price includes.
    """

    id: str
    posted_as: PostedAs = PostedAs.PARCEL
    abroad: bool = False
    tracked: bool = True
    paid_by: PaidBy = PaidBy.AS_PARCELS
    price_level: PriceLevel = PriceLevel.ANY
    surface_only: bool = False
    takes: str = ""
    packaging: str = ""
    form: FormRule = FormRule.LETTER_POST
    measured_as: PackageRule = PackageRule.NONE
    girth_limit: Decimal = COMMON_GIRTH
    cover: Money | None = None

    @property
    def documents_only(self) -> bool:
        """True when it takes no goods."""
        return self.takes == "documents"

    @property
    def one_ounce_letter(self) -> bool:
        """True for the domestic letter that stamps pay ounce by ounce."""
        return self.posted_as is PostedAs.LETTER and self.paid_by is PaidBy.STAMPS and not self.abroad
