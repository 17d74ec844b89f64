"""Quote findings: what a person must know about a quoted piece besides its price."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from desk.domain.exact import short
from desk.domain.finding import Code, Fact, Finding, Severity, finding, rank
from desk.domain.money import Money
from desk.domain.service import PostedAs
from desk.domain.shop.mailer import MailerKind
from desk.domain.size_limits import CLERK_THICKNESS
from desk.domain.weight import OUNCE_G, Weight
from desk.rates.case import QuoteCase
from desk.rates.limits import LIMIT_CODES, value_unclear
from desk.rates.lists.price_list import ServiceChart
from desk.rates.offer import Offer, PricedService
from desk.rates.posting import Posting
from desk.rates.restricted import barred_goods
from desk.rates.rules import PriceRules, ServiceOut
from desk.rates.services import Payment, payment_for
from desk.rates.shape import ShapeOptions

ONE_OUNCE = Weight(OUNCE_G)
CLERK_WEIGHT = Weight(10 * OUNCE_G)  # Publication 52 section 211, in force since 2019-10-01
_ENVELOPES = (MailerKind.ENVELOPE, MailerKind.CARD, None)


@dataclass(frozen=True, slots=True)
class Priced:
    """A case with its answer: the cheapest offer, and the candidates refused at the quoted weight."""

    case: QuoteCase
    chosen: Offer | None
    refused: Sequence[ServiceOut]
    weight: Weight

    @property
    def outs(self) -> tuple[ServiceOut, ...]:
        """Return every service ruled out."""
        return (*self.refused, *self.case.outs)


@dataclass(frozen=True, slots=True)
class StepFindings:
    """Findings shared by every piece of a case within one step: before zone and doubt, after them, and last."""

    first: tuple[Finding, ...]
    then: tuple[Finding, ...]
    last: tuple[Finding, ...]


def step_findings(priced: Priced, rules: PriceRules) -> StepFindings:
    """Return the findings that depend on neither the exact weight nor the exact destination."""
    first = (*barred_goods(priced.case.posting), *_goods_in_letter(priced.case, rules), *_size_and_service(priced))
    then, chosen = [*_shape(priced, rules), *_limits(priced)], priced.chosen
    if chosen is None:
        return StepFindings(first, tuple(then), ())
    then += _older_list(chosen)
    unclear = value_unclear(chosen.chart, priced.case.posting, rules)
    then += [*_fees(chosen, rules), *([unclear] if unclear is not None else [])]
    untracked = finding(Code.UNTRACKED, "Letters and flats carry no tracking number", service=chosen.service)
    return StepFindings(first, tuple(then), () if chosen.facts.tracked else (untracked,))


def remarks(
    shared: StepFindings, case: QuoteCase, chosen: Offer | None, rules: PriceRules, doubts: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    """Return all findings of the piece, stops first."""
    issues = [*shared.first, *_zone(case, chosen), *doubts, *shared.then]
    if chosen is not None:
        issues += _by_weight(chosen, case.posting, rules)
    issues += shared.last
    if len(issues) > 1:
        issues.sort(key=rank)
    return tuple(issues)


def _goods_in_letter(case: QuoteCase, rules: PriceRules) -> list[Finding]:
    """Return a stop for goods sent abroad as a letter or flat, which is not allowed (IMM 242.1, 242.2)."""
    posting = case.posting
    if not posting.abroad or posting.documents_only:
        return []
    tried = [rules.service(service) for service in case.tried]
    only_letters = bool(tried) and all(service.documents_only for service in tried)
    has_letter = any(service.posted_as is PostedAs.LETTER for service in tried)
    in_envelope = case.form.shape == "letter" and posting.mailer_kind in _ENVELOPES and has_letter
    if not (only_letters or in_envelope):
        return []
    why = "only-letters" if only_letters else "in-envelope"
    return [finding(Code.GOODS_IN_LETTER_ABROAD, "IMM 242.1, 242.2", country=posting.country, why=why)]


def _size_and_service(priced: Priced) -> list[Finding]:
    issues = []
    if priced.case.posting.size is None:
        issues.append(finding(Code.SIZE_MISSING, "DMM 101"))
    if priced.chosen is None:
        outs = [out for out in priced.outs if out.service in priced.case.tried]
        tried, because = tuple(out.service for out in outs), tuple(out.reason.code for out in outs)
        issues.append(finding(Code.NO_SERVICE, "Setup > Price lists and Rules", tried=tried, because=because))
    return issues


def _zone(case: QuoteCase, chosen: Offer | None) -> Sequence[Finding]:
    """Return the zone's findings if the chosen service, or the lack of one, depends on the zone."""
    answer = case.zone
    if answer is None:
        return ()
    if answer.zone:
        return answer.findings if chosen is not None and chosen.chart.keyed_by == "zone" else ()
    return () if chosen is not None and not chosen.facts.tracked else answer.findings


def _shape(priced: Priced, rules: PriceRules) -> list[Finding]:
    """Return the shape notes that matter: nonmachinable for letters that stay letters, others where flats are tried."""
    case, chosen = priced.case, priced.chosen
    stays_letter = chosen is not None and chosen.facts.posted_as is PostedAs.LETTER
    flat_tried = any(rules.service(service).posted_as is PostedAs.FLAT for service in case.tried)
    wanted = not case.posting.abroad or flat_tried
    notes = [note for note in case.form.reasons if note.severity is not Severity.FINE]
    return [note for note in notes if (stays_letter if note.code == Code.NOT_MACHINABLE else wanted) or _stops(note)]


def _stops(note: Finding) -> bool:
    return note.severity is Severity.STOP


def _limits(priced: Priced) -> list[Finding]:
    """Return the service of the piece's shape that would be cheapest but for a limit or missing rows in its list."""
    if not priced.refused:
        return []
    best: dict[str, tuple[int, Finding]] = {}
    reasons = {out.service: out.reason for out in priced.refused}
    for each in priced.case.candidates:
        why = reasons.get(each.service)
        code = _limit_code(why)
        if why is None or not code or not _of_shape(each, priced.case.form):
            continue
        price = _would_cost(each, priced.weight)
        if price is None or (priced.chosen is not None and price >= priced.chosen.price.minor):
            continue
        if code not in best or price < best[code][0]:
            severity = Severity.LOOK if code == Code.LIST_ENDS and priced.chosen is not None else None
            best[code] = price, finding(code, why.source, severity, **_limit_facts(why, each))
    return [note for _, note in best.values()]


def _older_list(chosen: Offer) -> list[Finding]:
    """Return an issue to check when the newest list ends below this piece and an older one prices it."""
    ended = chosen.of.ended
    if ended is None:
        return []
    facts = {"service": chosen.service, "chart": ended.chart, "what": "oversized" if chosen.row is None else "rows"}
    older = chosen.chart.effective.isoformat()
    return [finding(Code.LIST_ENDS, chosen.chart.source, Severity.LOOK, older=older, **facts)]


def _limit_code(why: Finding | None) -> Code | None:
    if why is None:
        return None
    return Code.OVER_SERVICE_LIMIT if why.code in LIMIT_CODES else why.code if why.code == Code.LIST_ENDS else None


def _limit_facts(why: Finding, each: PricedService) -> dict[str, Fact]:
    last = each.chart.heaviest(each.key)
    if why.code == Code.LIST_ENDS:
        return {**why.facts, "last": short(last.ounces()) if last else "", "unit": "oz"}
    unit = "in" if why.code == Code.OVER_SIZE else ""
    return {"service": each.service, "unit": unit, **why.facts, "kind": why.code}


def _of_shape(each: PricedService, form: ShapeOptions) -> bool:
    shapes = each.chart.shapes
    return form.shape in shapes if "postcard" not in shapes else form.card


def _would_cost(each: PricedService, weight: Weight) -> int | None:
    """Return the price at this weight, or at the heaviest weight listed, in minor units."""
    last = each.chart.heaviest(each.key)
    if last is None:
        return None
    row = each.chart.row(min(weight, last), each.key)
    return each.fees.total(row.price).minor if row is not None else None


def _by_weight(chosen: Offer, posting: Posting, rules: PriceRules) -> list[Finding]:
    """Return what depends on the weight as shown; a reading too close to call already has its own finding."""
    issues, weight = [], posting.weight
    if chosen.facts.one_ounce_letter and weight > ONE_OUNCE:
        issues.append(_over_one_ounce(chosen, weight))
    if payment_for(chosen.facts, rules.policy) is Payment.STAMPED:
        issues += _hand_to_clerk(posting, weight)
    return issues


def _fees(chosen: Offer, rules: PriceRules) -> list[Finding]:
    """Return both totals where fees are unclear; fees known only from an older list are mentioned, never charged."""
    fees = chosen.fees
    if not fees.unclear:
        return []
    lower, higher, older = fees.least(chosen.base), chosen.price.text(), ""
    if fees.unlisted:
        shown = _list_with(fees.unlisted, chosen, rules)
        older = shown.chart if shown else ""
        lower = chosen.price
        higher = _with_fees(lower, shown, fees.unlisted) if shown else ""
    facts = {"lower": lower.text(), "higher": higher, "currency": lower.currency, "older_list": older}
    codes = (*(fee.code for fee in fees.asked), *fees.unlisted)
    return [finding(Code.FEE_UNCLEAR, chosen.chart.source, None, service=chosen.service, fees=codes, **facts)]


def _list_with(codes: tuple[str, ...], chosen: Offer, rules: PriceRules) -> ServiceChart | None:
    lists = rules.charts.lists.get(chosen.service, ())
    return next(
        (held for held in lists if held.effective <= rules.on and all(held.surcharge(code) for code in codes)), None
    )


def _with_fees(price: Money, chart: ServiceChart, codes: tuple[str, ...]) -> str:
    due = sum(fee.amount.minor for fee in chart.surcharges if fee.code in codes)
    return Money(price.minor + due, price.currency).text()


def _over_one_ounce(chosen: Offer, weight: Weight) -> Finding:
    one = chosen.chart.row(ONE_OUNCE, chosen.key)
    extra = chosen.base - one.price if one is not None else Money(0, chosen.base.currency)
    return finding(
        Code.OVER_ONE_OUNCE,
        chosen.chart.source,
        weight_oz=short(weight.ounces()),
        over_oz=short((weight - ONE_OUNCE).ounces()),
        extra=extra.text(),
        currency=extra.currency,
    )


def _hand_to_clerk(posting: Posting, weight: Weight) -> list[Finding]:
    """Return the note for a piece a clerk must take, by the weight as shown: 10.0 oz may still use a collection box."""
    thickness = posting.size.sides()[2] if posting.size is not None else None
    heavy = weight > CLERK_WEIGHT
    thick = thickness is not None and thickness > CLERK_THICKNESS
    if not (heavy or thick):
        return []
    return [
        finding(
            Code.HAND_TO_CLERK,
            "Publication 52 section 211 (Postal Bulletin 22530, 2019)",
            heavy=heavy,
            thick=thick,
            weight_oz=short(weight.ounces()),
            thickness_in=short(thickness.inches()) if thickness is not None else "",
        )
    ]
