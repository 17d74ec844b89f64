"""Sentences for reasons: why a decision is what it is, and why a service is out. Code -> (reason, nothing to do)."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.codes import Code

_REASONS = {
    Code.LETTER_BY_SIZE: "Letter: {length_in} \u00d7 {height_in} \u00d7 {thickness_in} in.",
    Code.FLAT_BY_SIZE: "Large envelope: {length_in} \u00d7 {height_in} \u00d7 {thickness_in} in.",
    Code.PARCEL_BY_SIZE: "Parcel: {length_in} \u00d7 {height_in} \u00d7 {thickness_in} in.",
    Code.CARD_SIZE: "Postcard size: no surcharge, whatever its proportions.",
    Code.LETTER_OVER_WEIGHT: "Over {limit} {unit}: a letter pays as a large envelope.",
    Code.STIFF_LETTER_OVER_WEIGHT: "Rigid or lumpy and over {limit} {unit}: a letter pays as a parcel.",
    Code.OVER_DIMENSIONAL_WEIGHT: "Billed by size as {pounds} {unit}, over the limit of {limit} {unit}.",
    Code.FLAT_OVER_WEIGHT: "Over {limit} {unit}: a large envelope pays as a parcel.",
    Code.TUBE_PAYS_PARCEL: "A tube pays as a parcel.",
    Code.BOX_PAYS_PARCEL: "A box pays as a parcel, however thin.",
    Code.NOT_RECTANGULAR: "Not rectangular: pays as a parcel.",
    Code.ROW_USED: "{service}: {price} {row}.",
    Code.SURCHARGE_ADDED: "{amount} added for {fee}.",
    Code.CHEAPEST_OF: "{following}",
    Code.DIMENSIONAL_WEIGHT: "Billed by size: {pounds} lb (divisor {divisor}).",
    Code.LABEL_WEIGHT_ADDED: "{grams} g added for the label that goes on after weighing.",
    Code.SURFACE_ONLY: "{goods}: by ground only.",
    Code.RESTRICTED_ALLOWED: "{goods}: allowed within limits. Check them.",
    Code.RESTRICTED_BY_AIR: "{goods} can't go by air.",
    Code.FORM_BY_SERVICE: "This service always uses this form.",
    Code.FORM_BY_VALUE: "Form chosen by value: {value} against a limit of {limit}.",
    Code.FORM_BY_WEIGHT: "Form chosen by weight: {limit}.",
    Code.FORM_NOT_NEEDED: "No customs form needed: {why}.",
    Code.LIMIT_UNTESTED: "The limit of {limit} wasn't checked: there is no exact rate for it.",
    Code.VALUE_IN_DOLLARS: "Converted from {currency} to {value} at the rate of {rate_on}.",
    Code.OUTSIDE_TAX_SCHEME: "Over the limit of that tax scheme, so your number is not used.",
    Code.DOCUMENTS_ONLY: "For documents only; this piece holds goods.",
    Code.UNDER_SIZE: "Smaller than the minimum size.",
    Code.OVER_WEIGHT: "Over the weight limit of {limit} {unit}.",
    Code.OVER_SIZE: "Over the size limit: {measure} {limit} in.",
    Code.OVER_CUBIC_FOOT: "Over 1 cubic foot.",
    Code.NO_ROLLS: "Not for rolls or tubes.",
    Code.OVER_VALUE: "Over the value limit of {limit}.",
    Code.SIZE_NOT_KNOWN: "Size unknown.",
    Code.NOT_ITS_SHAPE: "It counts as {shape}.",
    Code.NOT_TO_THAT_COUNTRY: "Not offered to {country}.",
    Code.COUNTRY_UNKNOWN: "Country unknown.",
    Code.NOT_IN_POLICY: "Not one of the services you use.",
    Code.NOT_AMONG_CHOICES: "Not what the buyer chose.",
    Code.ONLY_OWN_PACKAGING: "Only in the post's own packaging.",
    Code.OTHER_SIDE: "Not for this destination.",
    Code.MILITARY_ONLY: "Only to military and diplomatic post offices.",
    Code.LIBRARY_ONLY: "Only from or to a library, school, museum or nonprofit.",
    Code.MEDIA_ONLY: "For books and other listed media only.",
    Code.NEEDS_TRACKING: "Your rules ask for tracking on this order.",
    Code.MAILER_ONLY_FOR: "This mailer can be used only for {service}.",
    Code.LIST_IN_OTHER_MONEY: "Its price list is in {currency}; your shop uses {shop}.",
    Code.NO_PRICE_LIST: "No price list for it.",
}
REASONS: Mapping[Code, tuple[str, str]] = {code: (text, "") for code, text in _REASONS.items()}
