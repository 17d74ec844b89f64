"""Short names of issues and reasons: headings on the bench, the Result column, filters, and refused services."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.finding import Code

_NAMES: Mapping[str, str] = {
    Code.BOX_PAYS_PARCEL: "box",
    Code.CARD_SIZE: "postcard size",
    Code.CELL_NOT_READ: "unreadable cell",
    Code.CHARGED_TOO_LITTLE: "shipping undercharged",
    Code.CHART_OUT_OF_DATE: "price list out of date",
    Code.CHEAPEST_OF: "cheapest",
    Code.CHOICE_UNSORTED: "unmatched shipping choice",
    Code.COLUMN_IGNORED: "column not read",
    Code.COLUMN_NOT_TAKEN: "column not read",
    Code.COLUMN_TWO_WAYS: "column reads two ways",
    Code.COVER_SHORT: "insurance too low",
    Code.DESTINATION_BARRED: "destination not allowed",
    Code.DIMENSIONAL_WEIGHT: "billed by size",
    Code.EU_DUTY: "EU duty",
    Code.FLAT_BY_SIZE: "large envelope",
    Code.FLAT_OVER_WEIGHT: "too heavy for a large envelope",
    Code.FORM_BY_SERVICE: "form",
    Code.FORM_BY_VALUE: "form",
    Code.FORM_BY_WEIGHT: "form",
    Code.FORM_EDGE: "at the form limit",
    Code.FORM_NOT_NEEDED: "no form needed",
    Code.GIFT_WAS_PAID: "paid order as gift",
    Code.GOODS_IN_LETTER_ABROAD: "goods in letter abroad",
    Code.HAND_TO_CLERK: "to a clerk",
    Code.HAZARD_ABROAD: "hazard, going abroad",
    Code.HAZARD_SURFACE_ONLY: "hazard: ground only",
    Code.HEAVIER_THAN_CONTENTS: "heavier than expected",
    Code.HS_MISSING: "HS code missing",
    Code.HS_NOT_IN_EDITION: "HS code out of date",
    Code.ITN_MALFORMED: "invalid ITN",
    Code.KIND_OVERRULED: "mailer differs from its kind",
    Code.LATIN_LINE_MISSING: "Latin letters missing",
    Code.LETTERS_NOT_PRINTABLE: "can't print some letters",
    Code.LETTER_BY_SIZE: "letter",
    Code.LETTER_OVER_WEIGHT: "too heavy for a letter",
    Code.LIGHTER_THAN_CONTENTS: "lighter than expected",
    Code.LIMIT_UNTESTED: "limit not checked",
    Code.LINE_DOUBTFUL: "may not be goods",
    Code.LINE_NEGATIVE: "negative line",
    Code.LINE_RETURNED: "returned item",
    Code.LINE_ZERO: "quantity of 0",
    Code.LIST_ENDS: "price list ends",
    Code.LIST_IN_OTHER_MONEY: "list in another currency",
    Code.MEDIA_DOUBTFUL: "media price in doubt",
    Code.NEAR_A_STEP: "close to a limit",
    Code.NET_OVER_GROSS: "net over gross weight",
    Code.NOT_AMONG_CHOICES: "not what the buyer chose",
    Code.NOT_IN_POLICY: "not one of your services",
    Code.NOT_ITS_SHAPE: "wrong shape",
    Code.NOT_MACHINABLE: "nonmachinable",
    Code.NO_ROLLS: "not for rolls",
    Code.NO_WEIGHT: "not weighed",
    Code.ORDER_TWO_VALUES: "two values in one order",
    Code.OTHER_SIDE: "other kind of destination",
    Code.OVER_INCLUDED_COVER: "not fully insured",
    Code.OVER_SERVICE_LIMIT: "over a service's limit",
    Code.OWN_LIST_DAMAGED: "price list damaged",
    Code.PAID_NOT_COUNTED: "payment not counted",
    Code.PARCEL_BY_SIZE: "parcel",
    Code.POSTAL_CODE_MENDED: "postal code corrected",
    Code.POSTAL_CODE_ODD: "postal code doesn't fit",
    Code.PRODUCT_UNKNOWN: "unknown product",
    Code.RATE_OLD: "old exchange rate",
    Code.RESTRICTED_BY_AIR: "not by air",
    Code.ROW_USED: "price",
    Code.SAME_DOOR: "same address",
    Code.SIZE_NOT_KNOWN: "size unknown",
    Code.STAMP_ASKED: "asks for stamps",
    Code.STATUS_UNSORTED: "new order status",
    Code.STIFF_FLAT: "rigid large envelope",
    Code.STIFF_LETTER_OVER_WEIGHT: "rigid and heavy",
    Code.SURCHARGE_ADDED: "surcharge",
    Code.SURFACE_ONLY: "ground only",
    Code.SWAPPED_WITH: "may be swapped",
    Code.TAX_ID_MALFORMED: "invalid tax number",
    Code.TAX_ID_MISSING: "tax number missing",
    Code.TOTAL_DIFFERS: "order total differs",
    Code.TUBE_PAYS_PARCEL: "tube",
    Code.UNDER_SIZE: "too small",
    Code.UNEVEN_FLAT: "lumpy large envelope",
    Code.VALUE_NOT_COMPARED: "exchange rate missing",
    Code.VALUE_ZERO: "value of zero",
    Code.WEIGHED_AFTER_PAID: "weighed after payment",
    Code.WORDS_TOO_LONG: "description too long",
    Code.WORDS_TOO_VAGUE: "description too vague",
    Code.ZONE_ESTIMATED: "zone is an estimate",
    Code.ZONE_UNKNOWN: "no zone found",
}


def issue_name(code: str) -> str:
    """Return the short name of an issue or reason: `heavier than expected`; the words of the code where none is set."""
    return _NAMES.get(code) or code.replace("-", " ")


def issue_heading(code: str) -> str:
    """Return the short name as a heading: `Heavier than expected`."""
    name = issue_name(code)
    return name[:1].upper() + name[1:]
