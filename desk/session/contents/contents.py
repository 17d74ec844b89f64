"""The contents of labels, number slips and packing slips, ready to draw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from desk.domain.finding import Code
from desk.domain.money import zero
from desk.domain.orders.order import Order
from desk.paper.label.address_lines import address_lines, label_lines
from desk.paper.label.label_content import LabelContent, PostageMark
from desk.paper.packing_slip import PackingLine, PackingSlipContent
from desk.paper.slip import SlipContent
from desk.rates.billable import figure_of
from desk.session.contents.piece_words import (
    billable_words,
    item_words,
    piece_of,
    place_words,
    recipient_name,
    stamps_in_words,
    weighed_words,
)
from desk.session.pile.batch import Batch
from desk.session.verdict.payment import Payment, has_label
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import amount_words, day_in_words
from desk.session.words.services import service_words
from desk.session.words.statuses import status_name


def label_contents(batch: Batch, terms: Terms) -> Iterator[LabelContent]:
    """Return a label for each piece without a stop that is stamped, metered or paid at the counter."""
    sender = address_lines(terms.shop.sender, terms.rulebook.countries)
    for verdict in batch.verdicts:
        if not verdict.stays_here and has_label(verdict.payment):
            yield label_content(verdict, terms, sender)


def label_content(verdict: Verdict, terms: Terms, sender: Sequence[str] = ()) -> LabelContent:
    """Return the contents of a weighed piece's label."""
    assert verdict.quote is not None
    return LabelContent(
        order=verdict.case.key.order,
        reference=verdict.case.key.reference,
        piece_of=piece_of(verdict),
        billable=_actual_words(verdict),
        service_words=_capitalized(service_words(verdict.offer.service)) if verdict.offer else "",
        weighed=f"weighed {weighed_words(verdict)}",
        sender=tuple(sender),
        recipient=label_lines(verdict.case.order.address, terms.rulebook.countries),
        stamps=stamps_in_words(verdict),
        postage=amount_words(verdict.postage) if verdict.postage else "",
        payment=_postage_mark(verdict),
        remarks=_remarks(verdict),
        letter=verdict.quote.shape.shape == "letter",
        envelope=_envelope(verdict),
    )


def _actual_words(verdict: Verdict) -> str:
    """Return the weight to write on the package: always the scale weight, never the dimensional weight."""
    offer, weighing = verdict.offer, verdict.case.weighing
    if offer is None or weighing is None or not offer.billable.dimensional:
        return billable_words(verdict)
    figure, unit = figure_of(weighing.shown.weight, offer.chart)
    return f"{figure} {unit}"


def _postage_mark(verdict: Verdict) -> PostageMark:
    if verdict.payment is Payment.COUNTER:
        return PostageMark.PAID if verdict.case.postage_on else PostageMark.COUNTER
    return PostageMark.METERED if verdict.payment is Payment.METERED else PostageMark.STAMPED


def _remarks(verdict: Verdict) -> tuple[str, ...]:
    surface = any(issue.code is Code.HAZARD_SURFACE_ONLY for issue in verdict.findings)
    return (*(("SURFACE MAIL ONLY",) if surface else ()), *(("DO NOT BEND",) if verdict.contents.stiff else ()))


def _envelope(verdict: Verdict) -> tuple[float, float] | None:
    """Return length and height of the piece in inches, the longer first."""
    if verdict.contents.size is None:
        return None
    length, height, _ = verdict.contents.size.sides()
    return float(length.inches()), float(height.inches())


def slip_contents(batch: Batch, gift_words: Sequence[str] = ()) -> Iterator[SlipContent]:
    """Return a number slip for every piece."""
    for verdict in batch.verdicts:
        yield SlipContent(
            order=verdict.case.key.order,
            reference=verdict.case.key.reference,
            piece_of=piece_of(verdict),
            billable=billable_words(verdict),
            status=_capitalized(status_name(verdict.status)),
            recipient_short=f"{recipient_name(verdict)}, {place_words(verdict)}",
            items=_inside(verdict),
            mailer=verdict.case.mailer_name,
            dimensions=_dimensional_words(verdict),
            marks=_marks(verdict, gift_words),
        )


def _inside(verdict: Verdict) -> tuple[str, ...]:
    """Return what is inside; for an order not divided among its packages yet, the whole order, under a line that says so."""
    return (*(("Whole order:",) if _is_undivided(verdict) else ()), *item_words(verdict))


def _is_undivided(verdict: Verdict) -> bool:
    return verdict.case.pieces_in_order > 1 and not verdict.case.is_divided


def _dimensional_words(verdict: Verdict) -> str:
    if verdict.offer is None or not verdict.offer.billable.dimensional:
        return ""
    return f"dimensional weight {billable_words(verdict)}"


def _marks(verdict: Verdict, gift_words: Sequence[str]) -> tuple[str, ...]:
    """Return the special marks of a piece, in capitals."""
    wanted = {
        "GIFT": is_gift(verdict.case.order, gift_words),
        "STAMP": verdict.contents.stamp_asked,
        "ABROAD": verdict.is_abroad,
        "CHECK": any(issue.severity.is_issue for issue in verdict.findings),
        **dict.fromkeys(_remarks(verdict), True),
    }
    return tuple(words for words, due in wanted.items() if due)


def is_gift(order: Order, gift_words: Sequence[str]) -> bool:
    """Return True when the buyer's note has one of the shop's words for a gift."""
    note = order.buyer_note.casefold()
    return any(word.casefold() in note for word in gift_words if word)


def packing_contents(
    batch: Batch, terms: Terms, gift_words: Sequence[str] = (), thanks: str = ""
) -> Iterator[PackingSlipContent]:
    """Return a packing slip for every piece; without prices when it is a gift."""
    sender = address_lines(terms.shop.sender, terms.rulebook.countries)
    for verdict in batch.verdicts:
        order, key = verdict.case.order, verdict.case.key
        priced = not is_gift(order, gift_words)
        several = verdict.case.pieces_in_order > 1
        yield PackingSlipContent(
            order=key.order,
            reference=key.reference,
            package_of=f"package {key.piece} of {max(verdict.case.pieces_in_order, key.piece)}" if several else "",
            heading="In this order" if _is_undivided(verdict) else "In this package",
            sender=sender,
            recipient=label_lines(order.address, terms.rulebook.countries),
            lines=tuple(
                PackingLine(
                    quantity=str(line.quantity),
                    item=", ".join(filter(None, (line.item, line.variant))),
                    price=amount_words(line.unit_price * line.quantity) if priced else "",
                )
                for line in order.lines
            ),
            sums=_sums(verdict) if priced else (),
            date=day_in_words(order.placed) if order.placed else "",
            thanks=thanks,
            more=f"This order ships in {verdict.case.pieces_in_order} packages." if several else "",
        )


def _sums(verdict: Verdict) -> tuple[tuple[str, str], ...]:
    """Return items, discount, shipping and total of an order, as (name, amount).

    One package of a divided order has only its items: discount and shipping were paid once, for the whole order.
    """
    order = verdict.case.order
    items = sum((line.unit_price * line.quantity for line in order.lines), zero(order.currency))
    if verdict.case.is_divided and verdict.case.pieces_in_order > 1:
        return (("Items in this package", amount_words(items)),)
    rows = [("Items", items)]
    if order.discount:
        rows.append(("Discount", zero(order.currency) - order.discount))
    if order.shipping_paid.currency == order.currency:
        rows += [("Shipping", order.shipping_paid), ("Total", order.goods_value + order.shipping_paid)]
    return tuple((name, amount_words(amount)) for name, amount in rows)


def _capitalized(words: str) -> str:
    return words[:1].upper() + words[1:]
