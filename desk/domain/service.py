"""Service: the facts of one way of mailing, apart from its price."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from desk.domain.money import Money

COMMON_GIRTH = Decimal(108)  # inches, length plus girth (DMM 101.3.2)


class PostedAs(StrEnum):
    """The shape a service is for."""

    LETTER = "letter"
    POSTCARD = "postcard"
    FLAT = "flat"
    PARCEL = "parcel"


class PaidBy(StrEnum):
    """How its postage is paid: in a fixed way, or the way the shop pays letters or parcels."""

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
    """How its customs form is chosen: by value and weight, or by the service."""

    LETTER_POST = "letter post"
    PACKET = "packet"
    FLAT_RATE = "flat rate"
    CN23 = "CN23"


class PackageRule(StrEnum):
    """Which measurements a service requires of parcels besides length plus girth."""

    NONE = ""
    SMALL_PACKET = "small packet"
    CUBIC = "cubic"


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """The facts of one service, read from its price list's folder.

    `takes` says what it is only for: `documents` (no goods), `media`, `library`, `military` (mail to military and
    diplomatic post offices); empty for all mail. `packaging` is the post's own packaging that it requires. `girth_limit` is length plus girth in inches. `cover` is the insurance
    included in its price. `names` are what lists of paid postage call it.
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
    names: tuple[str, ...] = ()

    @property
    def documents_only(self) -> bool:
        """Return True when it takes no goods."""
        return self.takes == "documents"

    @property
    def one_ounce_letter(self) -> bool:
        """Return True for the domestic letter paid with stamps ounce by ounce."""
        return self.posted_as is PostedAs.LETTER and self.paid_by is PaidBy.STAMPS and not self.abroad
