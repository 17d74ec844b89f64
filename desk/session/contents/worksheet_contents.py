"""The contents of the customs worksheets, ready to draw."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from desk.domain.exchange import converted
from desk.domain.money import Money
from desk.domain.weight import Weight
from desk.paper.keying_sheet import KeyingLine, KeyingSheetContent
from desk.paper.label.address_lines import address_lines
from desk.session.contents.piece_words import piece_of, pounds_ounces
from desk.session.contents.tables import told
from desk.session.pile.batch import Batch
from desk.session.verdict.verdict import Terms
from desk.session.words.customs import CAUTIONS, CUSTOMS, KEEP_PRIVATE
from desk.session.words.sentences import sentence
from desk.session.words.services import service_words

NET_OUNCES = "0.1"  # a net weight is kept in whole grams: 1.1 oz typed is 31 g, and no hundredths come back from it
ASK = "______________________"  # left empty to fill in by hand: ask the buyer


def keying_contents(batch: Batch, terms: Terms) -> Iterator[KeyingSheetContent]:
    """Return a customs worksheet for every piece that needs a declaration."""
    sender, shop = address_lines(terms.shop.sender, terms.rulebook.countries), terms.shop
    for verdict in batch.verdicts:
        declared, address = verdict.declaration, verdict.case.order.address
        if declared is None or declared.form == "none":
            continue
        details = verdict.case.order.customs
        net = None if declared.total_net_g is None else Weight(Decimal(declared.total_net_g))
        yield KeyingSheetContent(
            order=verdict.case.key.order,
            reference=verdict.case.key.reference,
            title=f"{piece_of(verdict)}, {service_words(verdict.offer.service) if verdict.offer else 'no service'}",
            form=f"{declared.form[:2]} {declared.form[2:]} data",
            category=declared.category,
            sender=sender,
            recipient=address_lines(address, terms.rulebook.countries),
            lines=tuple(
                KeyingLine(
                    description=line.description,
                    quantity=str(line.quantity),
                    net_kg=_kilograms(_grams(line.net_g)),
                    net_lb_oz=pounds_ounces(_grams(line.net_g), NET_OUNCES),
                    value=_in_dollars(line.value, terms),
                    hs=line.hs,
                    origin=line.origin,
                )
                for line in declared.lines
            ),
            total_value=_in_dollars(declared.total_value, terms),
            total_net_lb_oz=pounds_ounces(net, NET_OUNCES),
            total_net_kg=_kilograms(net),
            gross_lb_oz=pounds_ounces(declared.gross),
            gross_kg=_kilograms(declared.gross),
            sender_email=shop.sender.email,
            sender_phone=shop.sender.phone,
            recipient_email=address.email or ASK,
            recipient_phone=address.phone or ASK,
            export_citation=declared.export,
            tax_id=declared.reference,
            buyer_tax_id=details.buyer_tax_id,
            license=details.license,
            certificate=details.certificate,
            invoice=details.invoice,
            if_undeliverable=details.if_undeliverable.value,
            to_fix=tuple(sentence(found) for found in verdict.customs_open),
            findings=tuple(
                sentence(found)
                for found in told(verdict.findings)
                if found.code in CUSTOMS and found not in verdict.customs_open
            ),
            cautions=CAUTIONS + ((KEEP_PRIVATE,) if declared.reference or details.buyer_tax_id else ()),
        )


def _grams(grams: int | None) -> Weight | None:
    return None if grams is None else Weight(Decimal(grams))


def _kilograms(weight: Weight | None) -> str:
    return "" if weight is None else f"{(weight.grams / 1000).quantize(Decimal('0.001'))} kg"


def _in_dollars(value: Money, terms: Terms) -> str:
    """Return a value in dollars, as the post's form asks, next to the amount paid; as paid where no rate is known."""
    there = converted(value, "USD", terms.shop.rates)
    if there is None or value.currency == "USD":
        return _amount(value)
    return f"{_amount(there.cents())} ({_amount(value)})"


def _amount(money: Money) -> str:
    """Return `18.00 USD`, as it is typed into the form."""
    return f"{money.text()} {money.currency}"
