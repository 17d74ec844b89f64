"""Sentences about addresses, customs and export. Code -> (issue, what to do)."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.codes import Code

CUSTOMS: Mapping[Code, tuple[str, str]] = {
    Code.GOODS_IN_LETTER_ABROAD: (
        "Letters to other countries can hold only documents. With goods inside it would be returned.",
        "Send it as a package: choose a mailer that is not an envelope.",
    ),
    Code.DESTINATION_BARRED: ("Goods can't be sent to {where} without a license.", "Don't mail it. Tell the buyer."),
    Code.DESTINATION_SUSPENDED: (
        "Mail to {country} was suspended on {alert_on}, {alert_age_days} days ago.",
        "Check the post's service alerts today. If mail has resumed, confirm it. That counts for every package to {country}.",
    ),
    Code.DESTINATION_CHECKED: (
        "Mail to {country} was suspended on {alert_on}. On {checked_on}, you confirmed that it has resumed.",
        "",
    ),
    Code.DESTINATIONS_OLD: ("{what} {list_age_days} days old ({list_on}).", "{renew}"),
    Code.RATE_OLD: (
        "{rate} {rate_age_days} days old ({rate_on}).",
        "Enter newer ones in Setup > Exchange rates.",
    ),
    Code.NEEDS_EXPORT_FILING: (
        "{value} in one HS code is over {limit}, so it needs an export filing.",
        "File it and enter its number (ITN). Never split an order to avoid filing.",
    ),
    Code.NET_OVER_GROSS: (
        "The contents add up to {net_g} g, but the whole package weighs {gross_g} g.",
        "Weigh it again, or correct the unit weights of its products.",
    ),
    Code.ADDRESS_INCOMPLETE: ("The address is missing {missing}.", "Ask the buyer."),
    Code.ADDRESS_TOO_LONG: (
        "{part} is too long for its label: {length} characters, and there is room for about {longest}.",
        "Split the line, ask the buyer for a shorter one, or use a larger label.",
    ),
    Code.LATIN_LINE_MISSING: (
        "The address has no {missing} in Latin letters.",
        "Ask the buyer for the address in Latin letters. The post must be able to read it.",
    ),
    Code.POSTAL_CODE_ODD: (
        "{code} {postal_code} doesn't fit {where}: {why}.",
        "Check it, and ask the buyer if in doubt.",
    ),
    Code.POSTAL_CODE_MENDED: ("{code} corrected {how}.", ""),
    Code.GIFT_WAS_PAID: (
        "Declared as a gift, but the buyer paid {value}.",
        "Choose “sale of goods”. Goods that were sold are never a gift.",
    ),
    Code.REASON_MISSING: (
        "The reason for export is \u201cother\u201d, without an explanation.",
        "Say why you are sending it, such as \u201cloan for an exhibition\u201d.",
    ),
    Code.ITN_MALFORMED: (
        "The export filing number {typed} isn't valid: {why}.",
        "Enter it as it was given: X, the date and six digits.",
    ),
    Code.HS_MISSING: ("{item} needs a six-digit HS code: {why}.", "Add the code to the product."),
    Code.HS_NOT_IN_EDITION: (
        "HS code {hs} for {item} isn't in {edition}.",
        "Look up the current code and add it to the product.",
    ),
    Code.WORDS_TOO_VAGUE: (
        "\u201c{words}\u201d is too vague for {item}: {why}.",
        "Say {add}, in 50 to 100 characters.",
    ),
    Code.WORDS_TOO_LONG: (
        "The customs description of {item} is longer than {longest} characters.",
        "Shorten it to 50 to 100 characters.",
    ),
    Code.ORIGIN_MISSING: ("Country of origin missing: {item}.", "Add the country of origin to the product."),
    Code.VALUE_ZERO: (
        "{item} is declared with a value of zero.",
        "Enter its fair value. A free replacement has one too.",
    ),
    Code.TAX_ID_MALFORMED: (
        "{whose} {kind} number isn't valid: {why}.",
        "{fix} Never use someone else's number.",
    ),
    Code.TAX_ID_MISSING: (
        "{country} expects {of} {kind} number, which is missing.",
        "{without}",
    ),
    Code.BUYER_ID_MISSING: (
        "{country} asks for the buyer's {kind} number.",
        "Ask the buyer for it. Without it customs may hold or return the package.",
    ),
    Code.EU_DUTY: ("The buyer will be charged {amount} duty ({each} for {codes}).", "Let them know."),
    Code.IMPORT_CHARGES: (
        "{goods} worth {much}, so the buyer pays import charges in {country}.",
        "Let them know.",
    ),
    Code.FORM_EDGE: (
        "Exactly {limit}: some postal services ask for the larger form at this value.",
        "Have the larger form ready.",
    ),
    Code.FORM_MAY_BE_NEEDED: (
        "Goods to {place} need a customs form filled out on a computer, whatever they weigh.",
        "Enter this piece's customs worksheet online, then confirm. Hand it to a clerk.",
    ),
    Code.LETTERS_NOT_PRINTABLE: (
        "The label fonts can't print: {letters}",
        "Write this address by hand, or ask the buyer for it in plain letters.",
    ),
}

CAUTIONS = (
    "A declaration is your legal statement. A false or misleading one can lead to a fine, seizure or return.",
    "Goods that were sold are never a gift, and their value is what the buyer paid.",
    "HS codes here are suggestions, not rulings. Each country has its own list of banned goods: check it first.",
    "Prices, limits and suspensions have a date and may have changed. The post and customs decide.",
)
KEEP_PRIVATE = "This sheet shows tax numbers in full. Don't leave it lying around, and shred it when you are done."
