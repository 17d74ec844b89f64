"""What stands on the papers of a batch: labels, slips, keying sheets and the hand-over sheet, made ready to draw."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from desk.domain.finding import Code
from desk.domain.money import Money, zero
from desk.domain.stamp import StampKind
from desk.domain.weight import Weight, pounds_and_ounces
from desk.paper.address_lines import address_lines
from desk.paper.hand_over import HandOverContent, HandOverGroup, HandOverRow
from desk.paper.keying_sheet import KeyingLine, KeyingSheetContent
from desk.paper.label_content import LabelContent, StampMark
from desk.paper.label_content import Payment as LabelPayment
from desk.paper.slip import SlipContent
from desk.session.papers.tables import told
from desk.session.pile.batch import Batch
from desk.session.verdict.payment import Payment, has_label
from desk.session.verdict.price_age import ages_in_sum
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.customs import CAUTIONS, CUSTOMS
from desk.session.words.figures import day_in_words
from desk.session.words.sentences import sentence
from desk.session.words.services import service_words

COUNTS_FOR = {
    StampKind.FOREVER: "1",
    StampKind.SEMIPOSTAL: "1",
    StampKind.TWO_OUNCE: "2",
    StampKind.THREE_OUNCE: "3",
    StampKind.ADDITIONAL_OUNCE: "+1",
    StampKind.NONMACHINABLE: "1*",
    StampKind.POSTCARD: "card",
    StampKind.GLOBAL_FOREVER: "globe",
}
GROUPS = (
    ("box", "Stamped: collection box or counter"),
    ("clerk", "Stamped, over 10 oz or over 1/2 in: to a clerk at the counter"),
    ("metered", "Metered"),
    ("counter", "To be paid at the counter"),
    ("online", "Postage bought online"),
)


def label_contents(batch: Batch, terms: Terms) -> Iterator[LabelContent]:
    """A label for each piece without a stop that is stamped, metered or paid at the counter."""
    sender = address_lines(terms.shop.sender, terms.rulebook.countries)
    for place, verdict in enumerate(batch.verdicts, 1):
        if verdict.stays_here or not has_label(verdict.payment) or verdict.payment is None:
            continue
        assert verdict.quote is not None
        yield LabelContent(
            order=verdict.case.key.order,
            reference=verdict.case.key.reference,
            piece_of=_piece_of(verdict),
            batch_words=f"{place} of {len(batch.verdicts)}",
            billable=billable_words(verdict),
            service_words=service_words(verdict.offer.service) if verdict.offer else "",
            sender=sender,
            recipient=address_lines(verdict.case.order.address, terms.rulebook.countries),
            stamps=stamp_marks(verdict),
            payment=LabelPayment(verdict.payment.value),
            remarks=("DO NOT BEND",) if verdict.contents.stiff else (),
            letter=verdict.quote.shape.shape == "letter",
        )


def slip_contents(batch: Batch) -> Iterator[SlipContent]:
    """A slip for every piece."""
    for verdict in batch.verdicts:
        address = verdict.case.order.address
        yield SlipContent(
            order=verdict.case.key.order,
            reference=verdict.case.key.reference,
            piece_of=_piece_of(verdict),
            billable=billable_words(verdict),
            stands=str(verdict.stands),
            recipient_short=f"{address.recipient or address.company}, {_place(verdict)}",
            mailer=verdict.case.mailer_name,
        )


def keying_contents(batch: Batch, terms: Terms) -> Iterator[KeyingSheetContent]:
    """A keying sheet for every piece that needs a declaration."""
    sender, shop = address_lines(terms.shop.sender, terms.rulebook.countries), terms.shop
    for verdict in batch.verdicts:
        declared, address = verdict.declaration, verdict.case.order.address
        if declared is None or declared.form == "none":
            continue
        net = None if declared.total_net_g is None else Weight(Decimal(declared.total_net_g))
        yield KeyingSheetContent(
            order=verdict.case.key.order,
            reference=verdict.case.key.reference,
            title=f"{_piece_of(verdict)}, {service_words(verdict.offer.service) if verdict.offer else 'no service'}",
            form=f"{declared.form[:2]} {declared.form[2:]} data",
            category=declared.category,
            sender=sender,
            recipient=address_lines(address, terms.rulebook.countries),
            lines=tuple(
                KeyingLine(
                    description=line.description,
                    quantity=str(line.quantity),
                    net_kg=_kilograms(_grams(line.net_g)),
                    net_lb_oz=pounds_ounces(_grams(line.net_g)),
                    value=_money(line.value),
                    hs=line.hs,
                    origin=line.origin,
                )
                for line in declared.lines
            ),
            total_value=_money(declared.total_value),
            total_net_lb_oz=pounds_ounces(net),
            total_net_kg=_kilograms(net),
            gross_lb_oz=pounds_ounces(declared.gross),
            gross_kg=_kilograms(declared.gross),
            sender_email=shop.sender.email,
            sender_phone=shop.sender.phone,
            recipient_email=address.email,
            recipient_phone=address.phone,
            export_citation=declared.export,
            tax_id=masked(declared.reference),
            findings=tuple(sentence(found) for found in told(verdict.findings) if found.code in CUSTOMS),
            cautions=CAUTIONS,
        )


def hand_over_content(batch: Batch, terms: Terms) -> HandOverContent:
    """What goes where, paid how; pieces that something holds back are counted in a note and not listed."""
    rows: dict[str, list[Verdict]] = {name: [] for name, _ in GROUPS}
    held = 0
    for verdict in batch.verdicts:
        if verdict.offer is None or str(verdict.stands) not in ("ready", "labeled"):
            held += 1
        else:
            rows[_group(verdict)].append(verdict)
    groups = tuple(_hand_over_group(heading, rows[name], terms) for name, heading in GROUPS if rows[name])
    going = [verdict for name, _ in GROUPS for verdict in rows[name]]
    return HandOverContent(
        title=terms.shop.sender.recipient or terms.shop.sender.company,
        date=day_in_words(terms.on),
        groups=groups,
        total=_sum_words(going, terms),
        signature="Handed over to",
        notes=tuple(filter(None, (ages_in_sum(going, terms.on), _held_words(held)))),
    )


def _held_words(held: int) -> str:
    return f"{held} not listed: not weighed yet, or held back by something to look at." if held else ""


def billable_words(verdict: Verdict) -> str:
    """What to write on the piece: `2 oz`, `3.5 oz`, `4 lb`; empty until it is weighed."""
    return f"{verdict.offer.billable.figure} {verdict.offer.billable.unit}" if verdict.offer else ""


def stamp_marks(verdict: Verdict) -> tuple[StampMark, ...]:
    """The stamps to put on, one mark each."""
    marks: list[StampMark] = []
    for kind, value, number in verdict.stamps.stamps if verdict.stamps else ():
        words = str(kind).replace("_", " ")
        marks += [StampMark(words, counts_for(kind, value))] * number
    return tuple(marks)


def counts_for(kind: StampKind, value: Money | None) -> str:
    """What is drawn on a stamp: `1` ounce, `+1`, or its printed value."""
    return COUNTS_FOR.get(kind, "") if value is None else f"${value.text()}"


def pounds_ounces(weight: Weight | None) -> str:
    """`1 lb 3.2 oz`, the ounces to a hundredth; empty when nobody knows."""
    if weight is None:
        return ""
    pounds, ounces = pounds_and_ounces(weight, Decimal("0.01"))
    return f"{pounds} lb {ounces} oz"


def _piece_of(verdict: Verdict) -> str:
    return f"piece {verdict.case.key.piece} of {max(verdict.case.pieces_in_order, verdict.case.key.piece)}"


def _place(verdict: Verdict) -> str:
    address = verdict.case.order.address
    return f"{address.city} {address.country if verdict.is_abroad else address.region}".strip()


def _group(verdict: Verdict) -> str:
    if verdict.payment is not Payment.STAMPED:
        return str(verdict.payment)
    return "clerk" if any(found.code == Code.HAND_TO_CLERK for found in verdict.findings) else "box"


def _hand_over_group(heading: str, verdicts: list[Verdict], terms: Terms) -> HandOverGroup:
    rows = tuple(
        HandOverRow(
            order=verdict.case.key.reference,
            recipient=verdict.case.order.address.recipient or verdict.case.order.address.company,
            place=_place(verdict),
            billable=billable_words(verdict),
            postage=verdict.offer.price.text() if verdict.offer else "",
            mark=verdict.declaration.form if verdict.declaration and verdict.declaration.form != "none" else "",
        )
        for verdict in verdicts
    )
    return HandOverGroup(heading=heading, rows=rows, total=_sum_words(verdicts, terms))


def _sum_words(verdicts: list[Verdict], terms: Terms) -> str:
    postage = sum((verdict.offer.price for verdict in verdicts if verdict.offer), zero(terms.shop.policy.currency))
    return f"{len(verdicts)} {'piece' if len(verdicts) == 1 else 'pieces'}, {_money(postage)}"


def _grams(grams: int | None) -> Weight | None:
    return None if grams is None else Weight(Decimal(grams))


def _kilograms(weight: Weight | None) -> str:
    return "" if weight is None else f"{(weight.grams / 1000).quantize(Decimal('0.001'))} kg"


def _money(amount: Money) -> str:
    return f"{amount.text()} {amount.currency}"


def masked(number: str) -> str:
    """All but the last three signs hidden: a tax number in print is a tax number for anybody."""
    return "\u2022" * (len(number) - 3) + number[-3:] if len(number) > 3 else number
