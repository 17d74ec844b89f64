"""Sentences about orders, pieces and their contents. Code -> (issue, what to do)."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.codes import Code

PIECES: Mapping[Code, tuple[str, str]] = {
    Code.NO_WEIGHT: ("Not weighed yet.", "Put it on the scale, or press T to type its weight."),
    Code.NO_ORDER: (
        "There is a weight for {order}, but {why}.",
        "{check}",
    ),
    Code.WEIGHED_TWICE: (
        "Weighed twice: {first}, then {then}. The later weight is used.",
        "If the later one is wrong, weigh it again.",
    ),
    Code.WEIGHED_AFTER_PAID: (
        "Weighed again ({came}), but its postage is already on. Its weight stays {stays}.",
        "Check the number on the package. To change the weight, take the stamps or label off first.",
    ),
    Code.MAILER_UNKNOWN: ("\u201c{mailer}\u201d is not one of your mailers.", "Choose one of yours, or add this one."),
    Code.MAILER_GUESSED: (
        "The mailer is a guess: {mailer}.",
        "Press M to choose the mailer, or confirm it's right.",
    ),
    Code.MAILER_TOO_SMALL: (
        "{product} is {contents_in} in{thick}, but the piece is listed at {outside_in} in.",
        "Choose the mailer it is really in, or measure the piece.",
    ),
    Code.KIND_OVERRULED: (
        "\u201c{mailer}\u201d is {how}.",
        "{check}",
    ),
    Code.STATUS_UNSORTED: (
        "New order status \u201c{status}\u201d: ship these orders or skip them?",
        "Choose it once in Setup > Rules.",
    ),
    Code.CHOICE_UNSORTED: (
        "The shipping choice \u201c{choice}\u201d matches none of your services yet.",
        "Match it once in Setup > Shipping choices.",
    ),
    Code.SAME_DOOR: ("Orders {orders} go to the same address.{saves}", "Send them together, or keep them apart."),
    Code.STAMP_ASKED: (
        "The buyer of order {order} asks for stamps: \u201c{note}\u201d.",
        "Weigh it to see what stamps cost, then choose.",
    ),
    Code.PRODUCT_UNKNOWN: (
        "{items} not in your products.",
        "{todo} weight and customs description.",
    ),
    Code.CONTENTS_UNKNOWN: (
        "{contents}",
        "{todo}",
    ),
    Code.LIGHTER_THAN_CONTENTS: (
        "{off} lighter than expected ({expected}).{likely}",
        "Open it and check, then weigh it again.",
    ),
    Code.HEAVIER_THAN_CONTENTS: (
        "{off} heavier than expected ({expected}).{likely}",
        "Open it and check, or confirm it's right.",
    ),
    Code.SWAPPED_WITH: (
        "This weight fits {other} better.{likely}",
        "Open both and weigh them again.",
    ),
    Code.STAMPS_REQUESTED: (
        "The buyer asked for stamps. Postage would be {postage} ({service}), and you would refund {refund}.",
        "Use stamps and refund (R), or don't use stamps (D).",
    ),
    Code.STAMP_NOT_POSSIBLE: (
        "The buyer asked for stamps, but it can't go as a stamped letter.",
        "Tell the buyer. It goes by {service}.",
    ),
    Code.CHARGED_TOO_LITTLE: (
        "The buyer paid {charged} for shipping; it costs {spent}.",
        "Charge more for orders like this next time.",
    ),
    Code.PAID_NOT_COUNTED: (
        "The buyer paid {paid} for shipping. Without a rate for {paid_in} it is left out of the margin.",
        "Add a rate for {paid_in} in Setup > Exchange rates.",
    ),
    Code.EDITED_BY_HAND: ("Edited by hand: {fields}.", ""),
}
