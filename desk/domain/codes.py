"""The codes of findings and reasons: how serious each is, and its facts.

Codes are a contract with every reader of `findings.csv`: they are added, never renamed. Their sentences are in
`desk.session.words.sentences`.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Self

from desk.domain.severity import Severity

_SIZES = "length_in height_in thickness_in"
_RATE = "rate_on? rate_age_days? rate_stale?"  # how old an exchange rate is, where one was used
_STEP = "limit limit_unit lower higher currency lower_service higher_service form shown unit division"

STOP, LOOK, NOTE, FINE = Severity


class Code(StrEnum):
    """A code with its usual severity and the names of its facts; `?` marks an optional fact."""

    severity: Severity
    required: frozenset[str]
    facts: frozenset[str]

    def __new__(cls, text: str, severity: Severity = FINE, facts: str = "") -> Self:
        """Make a member from its text, severity and facts."""
        member = str.__new__(cls, text)
        member._value_ = text
        member.severity = severity
        member.required = frozenset(name for name in facts.split() if not name.endswith("?"))
        member.facts = frozenset(name.removesuffix("?") for name in facts.split())
        return member

    # Can't be mailed like this.
    ADDRESS_INCOMPLETE = "address-incomplete", STOP, "missing country_typed"
    ADDRESS_TOO_LONG = "address-too-long", STOP, "part longest length"
    CONTENTS_UNKNOWN = "contents-unknown", STOP, "pieces listed?"
    DESTINATION_BARRED = "destination-barred", STOP, "country why"
    GOODS_IN_LETTER_ABROAD = "goods-in-letter-abroad", STOP, "country? why? service?"
    NEEDS_EXPORT_FILING = "needs-export-filing", STOP, "hs value limit currency"
    NET_OVER_GROSS = "net-over-gross", STOP, "net_g gross_g"
    NO_SERVICE = "no-service", STOP, "tried because"
    RESTRICTED_GOODS = "restricted-goods", STOP, "goods where"
    TOO_SMALL = "too-small", STOP, _SIZES
    VALUE_NOT_COMPARED = "value-not-compared", STOP, "limit currency valued_in"

    # To check before it goes.
    BUYER_ID_MISSING = "buyer-id-missing", LOOK, "kind country"
    CHOICE_UNSORTED = "choice-unsorted", LOOK, "choice"
    CELL_NOT_READ = "cell-not-read", LOOK, "column found expected"
    COLUMN_TWO_WAYS = "column-two-ways", LOOK, "file header count example lines readings mapping"
    COVER_SHORT = "cover-short", LOOK, "value cover currency cover_currency service?"
    DESTINATION_SUSPENDED = "destination-suspended", LOOK, "country service extent alert_on alert_age_days"
    EXTRA_NOT_SOLD = "extra-not-sold", LOOK, "bought service"
    FEE_UNCLEAR = "fee-unclear", LOOK, "service lower higher currency fees older_list"
    FIRM_SHEET_SHORT = "firm-sheet-short", LOOK, "pieces least"
    FORM_MAY_BE_NEEDED = "form-may-be-needed", LOOK, "place military"
    GOODS_MISSING = "goods-missing", LOOK
    HAZARD_ABROAD = "hazard-abroad", LOOK, "product goods country"
    HAZARD_NOT_MARKED = "hazard-not-marked", LOOK, "product hs goods"
    HAZARD_SURFACE_ONLY = "hazard-surface-only", LOOK, "product goods"
    HEAVIER_THAN_CONTENTS = "heavier-than-contents", LOOK, "expected_g shown_g excess_g unit? cause? items?"
    GIFT_WAS_PAID = "gift-was-paid", LOOK, "value currency"
    ITN_MALFORMED = "itn-malformed", LOOK, "why typed"
    REASON_MISSING = "reason-missing", LOOK
    HS_MISSING = "hs-missing", LOOK, "item hs why edition"
    HS_NOT_IN_EDITION = "hs-not-in-edition", LOOK, "item hs why edition"
    LATIN_LINE_MISSING = "latin-line-missing", LOOK, "missing country"
    LETTERS_NOT_PRINTABLE = "letters-not-printable", LOOK, "letters"
    LIGHTER_THAN_CONTENTS = "lighter-than-contents", LOOK, "expected_g shown_g missing_g unit? cause? items?"
    LINE_DOUBTFUL = "line-doubtful", LOOK, "item"
    LINE_NEGATIVE = "line-negative", LOOK, "item amount currency?"
    LINE_RETURNED = "line-returned", LOOK, "item quantity"
    LINE_TOTAL_DIFFERS = "line-total-differs", LOOK, "item reckoned found currency?"
    LINE_ZERO = "line-zero", LOOK, "item"
    MAILER_GUESSED = "mailer-guessed", LOOK, "mailer family"
    MAILER_TOO_SMALL = "mailer-too-small", LOOK, "product contents_in outside_in measure?"
    MAILER_UNKNOWN = "mailer-unknown", LOOK, "mailer"
    MEDIA_DOUBTFUL = "media-doubtful", LOOK, "items"
    NOT_ENOUGH_STAMPS = "not-enough-stamps", LOOK, "pieces would_do"
    NO_ORDER = "no-order", LOOK, "order status?"
    NO_WEIGHT = "no-weight", LOOK
    ORDER_TWO_VALUES = "order-two-values", LOOK, "column used other"
    ORIGIN_MISSING = "origin-missing", LOOK, "item"
    OWN_LIST_DAMAGED = "own-list-damaged", LOOK, "fault"
    POSTAL_CODE_ODD = "postal-code-odd", LOOK, "postal_code country region why"
    PRODUCT_UNKNOWN = "product-unknown", LOOK, "items"
    ROW_TOO_WIDE = "row-too-wide", LOOK, "width"
    SIZE_MISSING = "size-missing", LOOK
    STAMPS_REQUESTED = "stamps-requested", LOOK, "refund service postage currency"
    STATUS_UNSORTED = "status-unsorted", LOOK, "status"
    SWAPPED_WITH = "swapped-with", LOOK, "other cause?"
    TAX_ID_MALFORMED = "tax-id-malformed", LOOK, "kind why typed"
    TEXT_TOO_LONG = "text-too-long", LOOK, "column length most"
    TOO_CLOSE_TO_CALL = "too-close-to-call", LOOK, _STEP
    TOTAL_DIFFERS = "total-differs", LOOK, "reckoned stated currency"
    VALUE_ZERO = "value-zero", LOOK, "item"
    WEIGHED_AFTER_PAID = "weighed-after-paid", LOOK, "stays came"
    WEIGHED_TWICE = "weighed-twice", LOOK, "first then"
    WORDS_TOO_VAGUE = "words-too-vague", LOOK, "item words why longest add"
    ZONE_UNKNOWN = "zone-unknown", LOOK, "origin destination"

    # Good to know.
    ADDRESSES_SPLIT = "addresses-split", NOTE, "file header example read"
    CHARGED_TOO_LITTLE = "charged-too-little", NOTE, "charged spent currency"
    CHART_OUT_OF_DATE = "chart-out-of-date", NOTE, "chart until effective"
    COLUMN_IGNORED = "column-ignored", NOTE, "header file examples"
    COLUMN_NOT_TAKEN = "column-not-taken", NOTE, "header file field examples"
    DESTINATION_CHECKED = "destination-checked", NOTE, "country checked_on alert_on"
    DESTINATIONS_OLD = "destinations-old", NOTE, "what country list_on list_age_days"
    EU_DUTY = "eu-duty", NOTE, f"codes each amount currency tested limit limit_currency {_RATE}"
    FORM_EDGE = "form-edge", NOTE, "limit currency"
    EDITED_BY_HAND = "edited-by-hand", NOTE, "fields"
    HAND_TO_CLERK = "hand-to-clerk", NOTE, "heavy thick weight_oz thickness_in"
    IMPORT_CHARGES = "import-charges", NOTE, f"country limit limit_currency counting? {_RATE}"
    ITEMS_SPLIT = "items-split", NOTE, "file header example read"
    KIND_OVERRULED = "kind-overruled", NOTE, "mailer kind by_hand?"
    LINES_SIDE_BY_SIDE = "lines-side-by-side", NOTE, "file headers"
    LIST_ENDS = "list-ends", NOTE, "service chart what last? unit? older?"
    NEAR_A_STEP = "near-a-step", NOTE, _STEP
    NOT_MACHINABLE = "not-machinable", NOTE, "trait"
    ORDERS_SHIPPED = "orders-shipped", NOTE, "file status count"
    OVER_INCLUDED_COVER = "over-included-cover", NOTE, "value cover currency cover_currency"
    OVER_ONE_OUNCE = "over-one-ounce", NOTE, "weight_oz over_oz extra currency"
    OVER_SERVICE_LIMIT = "over-service-limit", NOTE, "service limit unit currency? measure? value? kind? pounds?"
    PAID_NOT_COUNTED = "paid-not-counted", NOTE, "paid paid_in"
    POSTAL_CODE_MENDED = "postal-code-mended", NOTE, "typed corrected country?"
    RATE_OLD = "rate-old", NOTE, "rate rate_on rate_age_days"
    STAMP_NOT_POSSIBLE = "stamp-not-possible", NOTE, "service"
    STAMPS_OVERPAID = "stamps-overpaid", NOTE, "overpaid currency"
    STIFF_FLAT = "stiff-flat", NOTE
    TAX_ID_MISSING = "tax-id-missing", NOTE, f"kind country of limit? limit_currency? {_RATE}"
    TOO_THICK_FOR_LETTER = "too-thick-for-letter", NOTE, _SIZES
    UNEVEN_FLAT = "uneven-flat", NOTE
    UNTRACKED = "untracked", NOTE, "service"
    WORDS_TOO_LONG = "words-too-long", NOTE, "item words why longest"
    ZONE_ESTIMATED = "zone-estimated", NOTE, "zone edition military"

    # Reasons: why a decision was made, and why a service is ruled out.
    BOX_PAYS_PARCEL = "box-pays-parcel", FINE
    CARD_SIZE = "card-size", FINE
    CHEAPEST_OF = "cheapest-of", FINE, "count next_service next_price currency"
    COUNTRY_UNKNOWN = "country-unknown", FINE
    DIMENSIONAL_WEIGHT = "dimensional-weight", FINE, "pounds divisor"
    DOCUMENTS_ONLY = "documents-only", FINE
    FLAT_BY_SIZE = "flat-by-size", FINE, _SIZES
    FLAT_OVER_WEIGHT = "flat-over-weight", FINE, "limit unit"
    FORM_BY_SERVICE = "form-by-service", FINE, "service"
    FORM_BY_VALUE = "form-by-value", FINE, "value limit currency service? rule?"
    FORM_BY_WEIGHT = "form-by-weight", FINE, "limit"
    FORM_NOT_NEEDED = "form-not-needed", FINE, "why"
    LABEL_WEIGHT_ADDED = "label-weight-added", FINE, "grams"
    LETTER_BY_SIZE = "letter-by-size", FINE, _SIZES
    LETTER_OVER_WEIGHT = "letter-over-weight", FINE, "limit unit"
    LIBRARY_ONLY = "library-only", FINE
    MILITARY_ONLY = "military-only", FINE
    LIMIT_UNTESTED = "limit-untested", FINE, f"limit limit_currency kind? country? {_RATE}"
    LIST_IN_OTHER_MONEY = "list-in-other-money", FINE, "currency shop"
    MAILER_ONLY_FOR = "mailer-only-for", FINE, "service"
    MEDIA_ONLY = "media-only", FINE
    NEEDS_TRACKING = "needs-tracking", FINE, "up_to value"
    NOT_AMONG_CHOICES = "not-among-choices", FINE
    NOT_IN_POLICY = "not-in-policy", FINE
    NOT_ITS_SHAPE = "not-its-shape", FINE, "shape"
    NOT_RECTANGULAR = "not-rectangular", FINE
    NOT_TO_THAT_COUNTRY = "not-to-that-country", FINE, "country"
    NO_PRICE_LIST = "no-price-list", FINE
    ONLY_OWN_PACKAGING = "only-own-packaging", FINE
    OTHER_SIDE = "other-side", FINE
    OUTSIDE_TAX_SCHEME = "outside-tax-scheme", FINE, f"limit limit_currency kind country {_RATE}"
    NO_ROLLS = "no-rolls", FINE
    OVER_CUBIC_FOOT = "over-cubic-foot", FINE
    OVER_DIMENSIONAL_WEIGHT = "over-dimensional-weight", FINE, "limit unit pounds"
    OVER_SIZE = "over-size", FINE, "limit measure"
    OVER_VALUE = "over-value", FINE, "limit currency"
    OVER_WEIGHT = "over-weight", FINE, "limit unit"
    PARCEL_BY_SIZE = "parcel-by-size", FINE, _SIZES
    RESTRICTED_ALLOWED = "restricted-allowed", FINE, "goods"
    RESTRICTED_BY_AIR = "restricted-by-air", FINE, "goods"
    ROW_USED = "row-used", FINE, "service chart effective up_to unit keyed_by key price currency"
    SAME_DOOR = "same-door", FINE, "orders saved currency?"
    SIZE_NOT_KNOWN = "size-not-known", FINE
    STAMP_ASKED = "stamp-asked", FINE, "order note"
    STIFF_LETTER_OVER_WEIGHT = "stiff-letter-over-weight", FINE, "limit unit"
    SURCHARGE_ADDED = "surcharge-added", FINE, "fee amount currency"
    SURFACE_ONLY = "surface-only", FINE, "goods"
    TUBE_PAYS_PARCEL = "tube-pays-parcel", FINE
    UNDER_SIZE = "under-size", FINE, "limit? measure?"
    VALUE_IN_DOLLARS = "value-in-dollars", FINE, "value currency rate_on rate_age_days rate_stale"


# Issues with what is declared, or with whether it may go at all. While one is open, the declaration is not complete.
DECLARED = frozenset(
    {
        Code.ADDRESS_INCOMPLETE,
        Code.BUYER_ID_MISSING,
        Code.CONTENTS_UNKNOWN,
        Code.DESTINATION_BARRED,
        Code.DESTINATION_SUSPENDED,
        Code.FORM_MAY_BE_NEEDED,
        Code.GIFT_WAS_PAID,
        Code.GOODS_IN_LETTER_ABROAD,
        Code.HAZARD_ABROAD,
        Code.HS_MISSING,
        Code.HS_NOT_IN_EDITION,
        Code.ITN_MALFORMED,
        Code.LATIN_LINE_MISSING,
        Code.NEEDS_EXPORT_FILING,
        Code.NET_OVER_GROSS,
        Code.ORIGIN_MISSING,
        Code.POSTAL_CODE_ODD,
        Code.PRODUCT_UNKNOWN,
        Code.REASON_MISSING,
        Code.RESTRICTED_GOODS,
        Code.TAX_ID_MALFORMED,
        Code.VALUE_NOT_COMPARED,
        Code.VALUE_ZERO,
        Code.WORDS_TOO_VAGUE,
    }
)

# Not answerable: with one of these a declaration is incomplete or false, or an extra is not sold.
FIXED = frozenset(
    {
        Code.EXTRA_NOT_SOLD,
        Code.GIFT_WAS_PAID,
        Code.HS_MISSING,
        Code.HS_NOT_IN_EDITION,
        Code.ITN_MALFORMED,
        Code.ORIGIN_MISSING,
        Code.REASON_MISSING,
        Code.VALUE_ZERO,
        Code.WORDS_TOO_VAGUE,
    }
)
