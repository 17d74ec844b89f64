"""The contents of the customs worksheets, ready to draw."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from desk.customs.declaration import Declaration, DeclarationLine
from desk.domain.exchange import converted
from desk.domain.money import Money, zero
from desk.domain.places.address import Address
from desk.domain.places.country import HOME
from desk.domain.places.postal_code import written_postal_code
from desk.domain.shop.shop import SenderName, Shop
from desk.domain.weight import Weight
from desk.paper.keying.keying_content import KeyingLine, KeyingSheetContent, PartyFields
from desk.paper.label.address_lines import address_lines
from desk.session.contents.declared_fields import in_dollars, sender_name_of, split_name
from desk.session.contents.piece_words import piece_of, pounds_ounces
from desk.session.contents.tables import reported
from desk.session.pile.batch import Batch
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.customs import CAUTIONS, CUSTOMS, KEEP_PRIVATE
from desk.session.words.facts import country_in_words
from desk.session.words.sentences import sentence
from desk.session.words.services import service_words

NET_OUNCES = "0.1"  # a net weight is kept in whole grams: 1.1 oz typed is 31 g, and no hundredths come back from it
ASK = "______________________"  # left empty to fill in by hand: ask the buyer


def keying_contents(batch: Batch, terms: Terms) -> Iterator[KeyingSheetContent]:
    """Return a customs worksheet for every piece that needs a declaration."""
    for verdict in batch.verdicts:
        if (sheet := keying_content(verdict, terms)) is not None:
            yield sheet


def keying_content(verdict: Verdict, terms: Terms) -> KeyingSheetContent | None:
    """Return the customs worksheet of one piece; None when it needs no declaration."""
    declared, address = verdict.declaration, verdict.case.order.address
    if declared is None or not declared.has_form:
        return None
    shop, details = terms.shop, verdict.case.order.customs
    net = None if declared.total_net_g is None else Weight(Decimal(declared.total_net_g))
    totals = _total(declared, terms)
    return KeyingSheetContent(
        order=verdict.case.key.order,
        reference=verdict.case.key.reference,
        title=f"{piece_of(verdict)}, {service_words(verdict.offer.service) if verdict.offer else 'no service'}",
        form=f"{declared.form} data",
        category=declared.category,
        sender=address_lines(shop.sender, terms.rulebook.countries),
        recipient=address_lines(address, terms.rulebook.countries),
        lines=tuple(_line(line, terms) for line in declared.lines),
        total_value=totals[0],
        total_value_usd=totals[1],
        total_net_lb_oz=pounds_ounces(net, NET_OUNCES),
        total_net_kg=_kilograms(net),
        gross_lb_oz=pounds_ounces(declared.gross),
        gross_kg=_kilograms(declared.gross),
        sender_email=shop.sender.email,
        sender_phone=shop.sender.phone,
        recipient_email=address.email or ASK,
        recipient_phone=address.phone or ASK,
        sender_fields=_sender(shop),
        recipient_fields=_party(address, split_name(address.recipient)),
        export_citation=declared.export,
        tax_id=declared.reference,
        buyer_tax_id=details.buyer_tax_id,
        license=details.license,
        certificate=details.certificate,
        invoice=details.invoice,
        if_undeliverable=details.if_undeliverable.value,
        insured_value=_amount(details.insured_value) if details.insured_value is not None else "",
        to_fix=tuple(sentence(issue) for issue in verdict.customs_open),
        findings=tuple(
            sentence(issue)
            for issue in reported(verdict.findings)
            if issue.code in CUSTOMS and issue not in verdict.customs_open
        ),
        cautions=CAUTIONS + ((KEEP_PRIVATE,) if declared.reference or details.buyer_tax_id else ()),
    )


def _line(line: DeclarationLine, terms: Terms) -> KeyingLine:
    dollars = in_dollars(line.value, terms)
    return KeyingLine(
        description=line.description,
        quantity=str(line.quantity),
        net_kg=_kilograms(_grams(line.net_g)),
        net_lb_oz=pounds_ounces(_grams(line.net_g), NET_OUNCES),
        value=_value_words(line.value, dollars, terms),
        value_usd=dollars.text() if dollars is not None else "",
        hs=line.hs,
        origin=country_in_words(line.origin).removeprefix("the "),
        net_is_learned=line.net_is_learned,
    )


def _total(declared: Declaration, terms: Terms) -> tuple[str, str]:
    """Return the total value in words, and its dollars: the sum of the lines, since the form adds them up."""
    dollars = [in_dollars(line.value, terms) for line in declared.lines]
    known = [value for value in dollars if value is not None]
    total = sum(known, zero("USD")) if known and len(known) == len(dollars) else None
    return _value_words(declared.total_value, total, terms), total.text() if total is not None else ""


def _value_words(value: Money, dollars: Money | None, terms: Terms) -> str:
    """Return a value in dollars with what was paid next to it; `about` where only a rough rate is known."""
    if dollars is None or value.currency == "USD":
        return _amount(value)
    there = converted(value, "USD", terms.rates)
    about = "about " if there is not None and there.is_rough else ""
    return f"{about}{_amount(dollars)} ({_amount(value)})"


def _sender(shop: Shop) -> PartyFields:
    """Return the sender's fields; a shop known under another name than the person's has it as its company."""
    sender, name = shop.sender, sender_name_of(shop)
    is_person = sender.recipient == f"{name.first} {name.last}".strip()
    company = sender.company or ("" if is_person else sender.recipient)
    return _party(replace(sender, company=company, country=sender.country or HOME), name)


def _party(address: Address, name: SenderName) -> PartyFields:
    return PartyFields(
        first_name=name.first,
        last_name=name.last,
        company=address.company,
        address1=address.address1,
        address2=address.address2,
        city=address.city,
        region=address.region,
        postal_code=written_postal_code(address.country, address.postal_code),
        country=country_in_words(address.country).removeprefix("the "),
        phone=address.phone,
        email=address.email,
    )


def _grams(grams: int | None) -> Weight | None:
    return None if grams is None else Weight(Decimal(grams))


def _kilograms(weight: Weight | None) -> str:
    return "" if weight is None else f"{(weight.grams / 1000).quantize(Decimal('0.001'))} kg"


def _amount(money: Money) -> str:
    """Return `18.00 USD`, as it is typed into the form."""
    return f"{money.text()} {money.currency}"
