"""What the bench shows of one piece: what to write on it, contents, reasons, costs, stamps and the ruler.

Plain records of text and numbers, made from a verdict; nothing here decides anything.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from desk.costs.ledger import PieceMoney
from desk.domain.finding import Code, Finding, Severity
from desk.domain.money import Money, zero
from desk.domain.shop.mailer import Mailer
from desk.domain.status import is_answerable, is_open
from desk.domain.weight import OUNCE_G, Weight
from desk.learning.expectation import expect
from desk.learning.parcel import Expected
from desk.paper.label.address_lines import address_lines
from desk.rates.doubt import band, tolerance_divisions
from desk.rates.quote import Offer
from desk.session.contents.piece_words import billable_words, short_place_words, stamp_marks
from desk.session.pile.forecast import judged_at
from desk.session.verdict.case import Case
from desk.session.verdict.default_mailer import guessed_mailer
from desk.session.verdict.money import refund_due
from desk.session.verdict.payment import Payment
from desk.session.verdict.price_age import age_of
from desk.session.verdict.stamp_request import REQUESTED, asks_for_stamp
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.contents_weight import expected_words, ounce_chance_words
from desk.session.words.figures import amount_words
from desk.session.words.issue_names import issue_heading
from desk.session.words.sentences import sentence, shown_source, way_out
from desk.session.words.services import extra_words, service_words
from desk.session.words.stamp_names import stamp_counts
from desk.session.words.statuses import status_name
from desk.session.words.weights import reading_words, weight_words

LEFT_OUT = frozenset(
    {Code.CHEAPEST_OF, Code.UNTRACKED, Code.FORM_NOT_NEEDED, Code.CHARGED_TOO_LITTLE}
)  # shown elsewhere on the bench


@dataclass(frozen=True, slots=True)
class Why:
    """A short fact: its mark, a bold heading, a sentence, what to do, its source."""

    code: str
    mark: Severity
    head: str
    sentence: str
    way_out: str
    source: str


@dataclass(frozen=True, slots=True)
class PriceStep:
    """A price step of the service: its limit in ounces, and the price of the piece there, surcharges included."""

    up_to_oz: Decimal
    price: str


@dataclass(frozen=True, slots=True)
class RulerView:
    """The ruler's numbers in ounces. `doubt`: a look when rounding leaves the price open, a note when tolerance does.

    `applies` is the step the piece pays now, even where it lies beyond the drawn part of the ruler.
    """

    weight_oz: Decimal
    low_oz: Decimal
    high_oz: Decimal
    steps: tuple[PriceStep, ...]
    doubt: Severity | None
    applies: PriceStep | None = None


@dataclass(frozen=True, slots=True)
class Packed:
    """One line of the contents: quantity, item and variant."""

    quantity: int
    item: str
    variant: str = ""

    @property
    def words(self) -> str:
        """Return `2 × Letterpress card, heron`."""
        return f"{self.quantity} × {', '.join(filter(None, (self.item, self.variant)))}"


@dataclass(frozen=True, slots=True)
class PackageView:
    """What is in the package, what the buyer wrote, and where it goes. `expected` is its expected weight, if known.

    `orders` are the numbers of other orders sent with it; `asks_for_stamps`: the note asks for stamps. `packages` is
    how many its order ships in.
    """

    lines: tuple[Packed, ...]
    note: str
    asks_for_stamps: bool
    address: tuple[str, ...]
    expected: str
    orders: tuple[str, ...] = ()
    packages: int = 1


@dataclass(frozen=True, slots=True)
class Cost:
    """One line of the costs. `beside` is a short remark on the amount."""

    words: str
    amount: str
    strong: bool = False
    beside: str = ""

    @property
    def line(self) -> tuple[str, str, bool]:
        """The line as shown: words with the remark (such as the last valid day of an old price), amount, strong."""
        return ", ".join(filter(None, (self.words, self.beside))), self.amount, self.strong


@dataclass(frozen=True, slots=True)
class BenchView:
    """Everything the bench shows of a piece. `figure`, `postage` and `reading` are empty until it is weighed."""

    number: str
    figure: str
    postage: str
    reading: str
    to: str
    shape: str
    service: str
    status: str
    package: PackageView
    looks: tuple[str, ...]  # codes of open looks, answered with one key
    why: tuple[Why, ...]
    costs: tuple[Cost, ...]
    stamps: tuple[tuple[str, str], ...]  # (what it counts for, its name), one per stamp
    stamp_words: str
    ruler: RulerView | None


def bench_view(verdict: Verdict, terms: Terms, hoped: Expected | None = None) -> BenchView:
    """Return the view of one piece; `hoped` is its expected weight, learned from past weighings."""
    address = verdict.case.order.address
    return BenchView(
        number=verdict.case.number,
        figure=billable_words(verdict),
        postage=amount_words(verdict.postage) if verdict.postage is not None else "",
        reading=reading_words(verdict.case.weighing.shown) if verdict.case.weighing else "",
        to=", ".join(filter(None, (address.recipient or address.company, short_place_words(verdict)))),
        shape=verdict.quote.shape.shape if verdict.quote else "",
        service=service_words(verdict.offer.service) if verdict.offer else "",
        status=status_words(verdict),
        package=_package(verdict, terms, hoped),
        looks=tuple(_open_looks(verdict)),
        why=tuple(_why(verdict)),
        costs=tuple(_costs(verdict, terms)),
        stamps=tuple((mark.counts_for, mark.words) for mark in stamp_marks(verdict)),
        stamp_words=_stamp_words(verdict),
        ruler=_ruler(verdict, terms),
    )


def status_words(verdict: Verdict) -> str:
    """Return the status of a piece, with the reason it was set aside where one is known."""
    reason = verdict.case.aside_reason
    words = status_name(verdict.status)
    return f"{words}: {reason}" if reason and verdict.case.beside else words


def _package(verdict: Verdict, terms: Terms, hoped: Expected | None) -> PackageView:
    case, policy = verdict.case, terms.shop.policy
    return PackageView(
        lines=tuple(Packed(line.quantity, line.item, line.variant) for line in case.order.lines),
        note=case.order.buyer_note.strip(),
        asks_for_stamps=asks_for_stamp(case.order.buyer_note, policy.stamp_request_phrases),
        address=address_lines(case.order.address, terms.rulebook.countries),
        expected=_expected(verdict, terms, hoped),
        orders=case.packed_with,
        packages=case.pieces_in_order,
    )


def _expected(verdict: Verdict, terms: Terms, hoped: Expected | None) -> str:
    """Return the expected weight: from past weighings with its margin and what it will bill as, else from typed weights."""
    policy = terms.shop.policy
    if hoped is not None:
        reach = max(hoped.high_g - hoped.grams, hoped.step_g)
        words = expected_words(Weight(Decimal(hoped.grams)), Weight(Decimal(reach)), policy.scale_unit)
        if verdict.case.weighing:
            return words
        chance = ounce_chance_words(hoped.chance_over(float(OUNCE_G)))
        return " ".join(filter(None, (f"{words}.", _foreseen_billing(verdict.case, terms, hoped), chance)))
    expected = expect(verdict.contents.products, verdict.contents.mailer, policy.insert_weight)
    return weight_words(expected.gross, policy.scale_unit) if expected else ""


def _foreseen_billing(case: Case, terms: Terms, hoped: Expected) -> str:
    """Return what an unweighed piece will probably bill as; empty where no service could take it."""
    mailer = case.mailer_name or guessed_mailer(case.order, terms.shop)
    billed = billable_words(judged_at(case, Decimal(hoped.grams), mailer, terms))
    return f"Probably bills as {billed}." if billed else ""


def _open_looks(verdict: Verdict) -> list[str]:
    """Return the open issues that can be answered, each once."""
    answered = verdict.case.answered
    looks = [issue.code for issue in verdict.findings if is_open(issue, answered) and is_answerable(issue)]
    return list(dict.fromkeys(looks))


# What to do, in terms of the bench's keys.
KEYS = {REQUESTED: "R: use stamps and refund. D: don't use stamps."}


def _why(verdict: Verdict) -> list[Why]:
    reasons = verdict.quote.reasons if verdict.quote else ()
    declared = verdict.declaration.reasons if verdict.declaration and verdict.is_abroad else ()
    issues = [issue for issue in (*verdict.findings, *reasons, *declared) if issue.code not in LEFT_OUT]
    if REQUESTED in verdict.case.answered:
        issues = [issue for issue in issues if issue.code != REQUESTED]  # the costs show the refund
    facts = (_fact(issue, verdict) for issue in sorted(issues, key=lambda issue: issue.severity.rank))
    return list({(fact.code, fact.sentence): fact for fact in facts}.values())


def _fact(issue: Finding, verdict: Verdict) -> Why:
    """Return a finding as a fact; an answered one is marked fine."""
    mark, what_to_do = issue.severity, KEYS.get(issue.code) or way_out(issue)
    if issue.severity is Severity.LOOK and issue.code in verdict.case.answered:
        mark, what_to_do = Severity.FINE, "Checked, it's right."
    return Why(issue.code, mark, issue_heading(issue.code), sentence(issue), what_to_do, shown_source(issue))


def _costs(verdict: Verdict, terms: Terms) -> list[Cost]:
    money, mailer = verdict.money, verdict.contents.mailer
    if money is None:
        paid = verdict.case.order.shipping_paid
        return [Cost("Shipping paid", amount_words(paid))]
    offer = verdict.offer
    lines = [Cost("Postage", amount_words(offer.price) if offer else "", beside=age_of(offer, terms.on).words)]
    lines += [
        Cost(extra_words(extra.code).capitalize(), amount_words(extra.price))
        for extra in verdict.extras
        if extra.price is not None
    ]
    lines += _materials(money.materials, mailer)
    lines.append(Cost("Shipping paid", amount_words(money.charged)))
    if money.refund:
        is_due = bool(refund_due(verdict))
        words = "Refund due (sent with stamps)" if is_due else "Refund if sent with stamps"
        lines.append(Cost(words, amount_words(money.refund), strong=is_due))
    return [*lines, *_margin(verdict, money)]


def _margin(verdict: Verdict, money: PieceMoney) -> Iterator[Cost]:
    """Return what stamps overpay, and the margin, once there is a postage; as on Costs, the first without the second."""
    if verdict.offer is None:
        return
    if money.overpaid:
        yield Cost("Overpaid with stamps (not in the margin)", amount_words(money.overpaid))
    words = "Margin" if verdict.case.pieces_in_order == 1 else "Margin of this package"
    loses = money.margin < zero(money.margin.currency) and verdict.case.key.piece == 1
    yield Cost(words, amount_words(money.margin), strong=True, beside="loss" if loses else "")


def _materials(whole: Money, mailer: Mailer | None) -> Iterator[Cost]:
    """Return the cost of the mailer, then of insert and label; a mailer without a price says so."""
    cost = mailer.cost(whole.currency) if mailer else zero(whole.currency)
    is_priced = mailer is None or mailer.reused or mailer.pack_price is not None
    amount, beside = (amount_words(cost), "") if mailer and is_priced else ("", "" if is_priced else "no price set")
    yield Cost(mailer.name if mailer else "Mailer", amount, beside=beside)
    if rest := whole - cost:
        yield Cost("Insert and label", amount_words(rest))


def _stamp_words(verdict: Verdict) -> str:
    """Return `2 forever, 1 additional ounce. Exact postage.`; empty when it is not stamped."""
    if verdict.payment is not Payment.STAMPED:
        return ""
    if verdict.stamps is None:
        return "You don't have the stamps for this postage."
    over = verdict.stamps.overpaid
    return f"{stamp_counts(verdict.stamps.stamps)}. {f'{amount_words(over)} overpaid.' if over else 'Exact postage.'}"


def _ruler(verdict: Verdict, terms: Terms) -> RulerView | None:
    weighing = verdict.case.weighing
    if weighing is None:
        return None
    shown = weighing.shown
    tolerance, up = tolerance_divisions(shown) * terms.tolerance_scale, terms.shop.policy.scale_rounds_up
    ends = band(shown, tolerance, rounds_up=up)
    codes = {issue.code for issue in verdict.findings}
    close = Severity.NOTE if Code.NEAR_A_STEP in codes else None
    doubt = Severity.LOOK if Code.TOO_CLOSE_TO_CALL in codes else close
    weight = shown.weight.ounces()
    steps = _steps(verdict.offer)
    near = tuple(step for step in steps if weight - 3 <= step.up_to_oz <= weight + 3)
    return RulerView(weight, ends.low.ounces(), ends.high.ounces(), near, doubt, _applies(verdict.offer))


def _steps(offer: Offer | None) -> tuple[PriceStep, ...]:
    """Return the price steps of the service, each with the surcharges this piece pays."""
    if offer is None or offer.row is None:
        return ()
    extra = offer.price - offer.base
    rows = offer.chart.rows.get(offer.key, ())
    return tuple(PriceStep(row.max_weight.ounces(), amount_words(row.price + extra)) for row in rows)


def _applies(offer: Offer | None) -> PriceStep | None:
    if offer is None or offer.row is None:
        return None
    return PriceStep(offer.row.max_weight.ounces(), amount_words(offer.price))
