"""Sentences about postage: shape, weight, zone, price, stamps. code -> (what is so, the way out)."""

from __future__ import annotations

POST = {
    "no-service": (
        "No service takes it: {tried}.",
        "Repack it, or let the policy or the buyer's choice allow another service.",
    ),
    "too-small": (
        "Too small to be mailed: {length_in} x {height_in} x {thickness_in} in.",
        "Put it in something at least 5 x 3 1/2 in and 0.007 in thick.",
    ),
    "restricted-goods": (
        "It holds goods the mail refuses there: {goods}.",
        "Take them out, or ask the post before sending.",
    ),
    "too-close-to-call": (
        "Too close to call: {shown} {unit} in steps of {division} may be on either side of {limit} {limit_unit}. Dearer taken.",
        "Weigh on a finer scale, use a lighter envelope next time, weigh ten alike and divide (DMM 133.1.3), or pay the step taken.",
    ),
    "near-a-step": (
        "Near {limit} {limit_unit}: only the scale's tolerance leaves it open whether {differs}.",
        "Check the scale with coins if it matters.",
    ),
    "size-missing": ("Nobody said how large it is; priced as a parcel.", "Name its mailer, or measure it."),
    "zone-unknown": (
        "No zone is known from {origin} to {destination}.",
        "Look at the ZIP code; else load the post's chart for your own ZIP.",
    ),
    "zone-estimated": (
        "Zone {zone} by the chart of {edition}, not the present one.",
        "Load the post's present chart for your own ZIP to be sure.",
    ),
    "fee-unclear": (
        "The list leaves open what is due for {fees}: {lower}, or {higher}.",
        "Ask at the counter before you promise a price.",
    ),
    "value-not-compared": (
        "The service has a limit of value in a currency the goods are not valued in.",
        "Give the shop file a dated rate, or look at the limit yourself.",
    ),
    "over-one-ounce": ("Over one ounce by {over_oz} oz: {extra} more.", ""),
    "not-machinable": ("A machine cannot sort it ({trait}): the letter pays a surcharge.", ""),
    "stiff-flat": (
        "A large envelope that does not bend pays as a parcel.",
        "Leave out the board if the contents allow.",
    ),
    "uneven-flat": ("A large envelope more than 1/4 in uneven pays as a parcel.", "Even it out if the contents allow."),
    "too-thick-for-letter": ("Over 1/4 in thick: no letter any more.", ""),
    "hand-to-clerk": (
        "Stamped and {weight_oz} oz, {thickness_in} in thick: over 10 oz or 1/2 in it may not go into a collection box.",
        "Hand it to a clerk at the counter.",
    ),
    "over-service-limit": ("{service} would be cheaper, and is out by its limit ({limit} {unit}).", ""),
    "list-ends": ("The price list at hand has no price for it: {service}.", ""),
    "untracked": ("Goes without tracking.", ""),
    "chart-out-of-date": (
        "The prices of {effective} were known to end on {until}; newer ones are not loaded.",
        "Compare a price with the post's present list before you pay.",
    ),
    "column-not-taken": (
        "The column “{header}” of {file} may be {field}, which is not certain: it was not taken.",
        "Give it the name {field}, or bring a mapping that says so (--map).",
    ),
    "own-list-damaged": (
        "An own price list cannot be read and is left out: {fault}.",
        "Take the list in again under Setup > Charts.",
    ),
}
