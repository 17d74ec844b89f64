"""Sentences about addresses, customs and export. code -> (what is so, the way out)."""

from __future__ import annotations

CUSTOMS = {
    "goods-in-letter-abroad": (
        "Goods may not go abroad in a letter; it would come back.",
        "Send it as a package: give it a mailer that is no envelope, or one kept for that service.",
    ),
    "destination-barred": (
        "Goods may not be sent to {where} without a licence.",
        "Write to the buyer; do not send it.",
    ),
    "destination-suspended": (
        "The post took no such mail to {country} by its alert of {alert_on}, {alert_age_days} days old.",
        "Look at the post's present alerts before you decide.",
    ),
    "needs-export-filing": (
        "{value} {currency} in one HS code is over {limit}: an export filing is needed.",
        "File it and enter the number it gives, or send the order in parts on other days only if that is true.",
    ),
    "net-over-gross": (
        "The contents are said to weigh {net_g} g, the whole piece {gross_g} g.",
        "Weigh it again, or mend the unit weights of its products.",
    ),
    "address-incomplete": ("The address lacks {missing}.", "Ask the buyer."),
    "address-too-long": (
        "{part} is {length} characters long; a label's line holds {longest}.",
        "Divide the line, or shorten it with the buyer.",
    ),
    "postal-code-odd": (
        "The postal code {postal_code} does not fit {where} ({why}).",
        "Look at it, ask the buyer if in doubt.",
    ),
    "postal-code-mended": ("The postal code was mended to {mended}.", ""),
    "hs-missing": ("{item} has no HS code of six digits ({why}).", "Give the product one; customs abroad ask for it."),
    "hs-not-in-edition": ("The HS code {hs} of {item} is not in {edition}.", "Look up the code that took its place."),
    "words-too-vague": (
        "\u201c{words}\u201d will not do for {item} ({why}).",
        "Say what it is, what it is made of and what it is for, in 50 to 100 characters.",
    ),
    "words-too-long": ("The words for {item} are longer than {longest} characters.", "Shorten them to 50 to 100."),
    "origin-missing": ("Nobody said where {item} was made.", "Give the product its country of origin."),
    "value-zero": ("{item} is declared at 0.00.", "A free replacement has a fair value too: declare that."),
    "tax-id-malformed": (
        "The shop's {kind} number is not one ({why}).",
        "Mend it in the shop's tax numbers; never borrow one.",
    ),
    "tax-id-missing": (
        "No {kind} number of the {of} for {country}.",
        "Without it the buyer pays tax at the door, and often a fee.",
    ),
    "eu-duty": (
        "The buyer's side owes {currency} {amount} customs duty: {each} each for {codes}.",
        "Say so to the buyer before it arrives.",
    ),
    "form-edge": ("Exactly at {limit}: some posts ask for the larger form from there.", "Have the larger form ready."),
    "form-may-be-needed": (
        "Domestic mail to {place}, but a customs form may be asked for.",
        "Ask at the counter; forms must be made by computer.",
    ),
    "letters-not-printable": (
        "No font here has: {letters}",
        "Write this address by hand, or ask the buyer for plain letters.",
    ),
}

CAUTIONS = (
    "A declaration is the sender's legal statement; a false or misleading one can bring a fine, seizure or return.",
    "Goods that were sold are never a gift, and the value is what the buyer paid.",
    "HS codes here are suggestions, not rulings. Each country lists what it refuses: look it up before sending.",
    "Prices, limits and suspensions have a date and may have changed; the post and customs decide.",
)
