"""Sentences about postage: shape, weight, zone, price, stamps. Code -> (issue, what to do)."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.codes import Code

POST: Mapping[Code, tuple[str, str]] = {
    Code.NO_SERVICE: (
        "No service can carry it ({tried}).",
        "Repack it, or press V to choose another service. Setup > Rules lists those you use.",
    ),
    Code.TOO_SMALL: (
        "Too small to mail: {length_in} \u00d7 {height_in} \u00d7 {thickness_in} in.",
        "Put it in something at least 5 \u00d7 3 1/2 in and {thinnest} in thick.",
    ),
    Code.RESTRICTED_GOODS: (
        "It holds {goods}, which can't be mailed {where}.",
        "Take them out, or ask the post before you mail it.",
    ),
    Code.HAZARD_SURFACE_ONLY: (
        "{product} holds {goods}, which can travel by ground only.",
        "Check its safety data sheet, mark the package, and confirm it once.",
    ),
    Code.HAZARD_NOT_MARKED: (
        "{product} has an HS code for {goods} ({hs}) but is not marked that way.",
        "Mark it in Setup > Products, or confirm once that it is safe to mail.",
    ),
    Code.HAZARD_ABROAD: (
        "{product} holds {goods}, allowed to {country} only within a limit: {limit}.",
        "Check it against the post's rules and those of {country}, then confirm. You are asked once for each product.",
    ),
    Code.MEDIA_DOUBTFUL: (
        "{items} may not qualify for the books and listed media price.",
        "Use it only for reading matter and listed media. If that is what it holds, confirm it's right.",
    ),
    Code.TOO_CLOSE_TO_CALL: (
        (
            "Too close to call. Your scale reads in steps of {division} {unit}, so this could be just over or just "
            "under {limit} {limit_unit}. We used the higher price."
        ),
        "Weigh it on a finer scale, or weigh ten of the same and divide (DMM 133.1.3).",
    ),
    Code.NEAR_A_STEP: (
        "Close to {limit} {limit_unit}: {differs}.",
        "Check the scale with coins if it matters.",
    ),
    Code.SIZE_MISSING: (
        "Size unknown, so it is priced as a parcel.",
        "Choose the mailer or enter the size.",
    ),
    Code.ZONE_UNKNOWN: (
        "No zone found from {origin} to {destination}.",
        "{todo}",
    ),
    Code.ZONE_ESTIMATED: (
        "Military address: zone {zone} is an estimate.",
        "Check the price, or import the post's zone chart for your own ZIP code.",
    ),
    Code.FEE_UNCLEAR: (
        "The price list is unclear about the fee for {fees}. The price is {lower} or {higher}.",
        "Ask at the counter before you promise a price.",
    ),
    Code.VALUE_NOT_COMPARED: (
        "A value in {valued_in} can't be compared with the limit of {limit} without today's exchange rate.",
        "Enter the rate in Setup > Exchange rates.",
    ),
    Code.COVER_SHORT: (
        "The contents are worth {value}; the postage covers {cover} if it is lost.",
        "Add insurance, choose a service that covers more, or confirm it's right.",
    ),
    Code.EXTRA_NOT_SOLD: (
        "{bought} isn't sold with this service ({service}).",
        "Remove it on this piece's page (I), or choose another service.",
    ),
    Code.FIRM_SHEET_SHORT: (
        "A firm sheet needs at least {least} pieces. You chose it for {pieces}.",
        "Add pieces to the sheet, or choose a certificate of mailing for each.",
    ),
    Code.OVER_INCLUDED_COVER: (
        "The contents are worth {value}; the postage covers {cover} if it is lost.",
        "Add insurance at the counter or online to cover the rest.",
    ),
    Code.OVER_ONE_OUNCE: ("{over_oz} oz over 1 oz: {extra} more.", ""),
    Code.NOT_MACHINABLE: ("Nonmachinable letter ({trait}), so it pays a surcharge.", ""),
    Code.STIFF_FLAT: ("A rigid large envelope pays as a parcel.", "Leave out the stiffener if the contents allow."),
    Code.UNEVEN_FLAT: (
        "A large envelope whose thickness varies by more than 1/4 in pays as a parcel.",
        "Even it out if you can.",
    ),
    Code.TOO_THICK_FOR_LETTER: ("Over 1/4 in thick: it can't go as a letter.", ""),
    Code.HAND_TO_CLERK: (
        "Stamped, {weight_oz} oz, {thickness_in} in thick. Over 10 oz or 1/2 in it can't go in a collection box.",
        "Hand it to a clerk at the counter.",
    ),
    Code.OVER_SERVICE_LIMIT: ("{service} would be cheaper, but its limit is {limit}.", ""),
    Code.LIST_ENDS: ("Your price list has no price for this in {service}.{older}", "{check}"),
    Code.UNTRACKED: ("No tracking with {service}.", ""),
    Code.CHART_OUT_OF_DATE: (
        "The prices of {effective} may be out of date (valid through {until}).",
        "Check one against the post's current list before you pay.",
    ),
    Code.NOT_ENOUGH_STAMPS: ("You don't have enough stamps for {pieces}.", "{would_do}"),
    Code.STAMPS_OVERPAID: ("Your stamps overpay by {overpaid}.", "Buy stamps that fit, or pay another way."),
    Code.OWN_LIST_DAMAGED: (
        "One of your price lists can't be read and is not used: {fault}.",
        "Import the list again in Setup > Price lists.",
    ),
}
