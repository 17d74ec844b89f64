"""Declaration: the form, its lines and totals, and everything that is missing or looks wrong.

The declaration is the sender's legal statement. Only values from the shop are filled in, and missing ones are
reported. Weights: each line to the nearest gram, at least 1 g; the total is the sum of the printed lines. Values: the
line after its discount; the total is their sum, without postage (CN 23 block order).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from desk.customs.check_result import compact
from desk.customs.destinations import Destinations, place_of
from desk.customs.export_filing import ExportAnswer, FilingPlace, export_filing
from desk.customs.form import NONE, SDR_RULE, USD_LIMIT, FormAnswer, form_for
from desk.customs.goods import Goods
from desk.customs.hs_codes import HsCodes
from desk.customs.imports import NumberAnswer, buyer_number, duty, import_charges, seller_number
from desk.customs.words import words_finding
from desk.domain.exchange import converted, old_rates
from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.money import Money, zero
from desk.domain.orders.customs_details import NOTHING_SAID, Category, CustomsDetails
from desk.domain.places.address import Address
from desk.domain.places.country import DOMESTIC_PLACES, HOME, MILITARY_STATES, is_abroad
from desk.domain.service import Service
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import NOTHING, Weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Consignment:
    """One piece as customs sees it. `service` is None when none is left; `gross` is None before weighing.

    `same_day` are all goods sent to the same addressee that day, including these; empty: only these.
    """

    goods: tuple[Goods, ...]
    gross: Weight | None
    service: Service | None
    address: Address
    same_day: tuple[Goods, ...] = ()
    details: CustomsDetails = NOTHING_SAID  # what the sender entered for this order
    paid: Money | None = None  # what the buyer paid for the goods; None: unknown

    @property
    def documents_only(self) -> bool:
        """Return True when everything in it is correspondence; a piece with unknown contents is not."""
        return bool(self.goods) and all(line.document for line in self.goods)

    @property
    def destination(self) -> str:
        """Return the ISO country, or `US-AE` for an island or military state: AE alone is the Emirates."""
        return destination_of(self.address)

    @property
    def abroad(self) -> bool:
        """Return True when it goes to another country."""
        return is_abroad(self.destination)


@dataclass(frozen=True, slots=True)
class CustomsRules:
    """What declarations are based on: the tables, and the shop's own numbers and rates."""

    destinations: Destinations
    codes: HsCodes
    tax_ids: Mapping[str, str] = field(default_factory=dict)
    rates: tuple[ExchangeRate, ...] = ()

    def sdr(self) -> ExchangeRate | None:
        """Return the shop's own rate of the special drawing right in dollars."""
        return next(
            (one for one in self.rates if {one.from_currency, one.to_currency} == {"XDR", "USD"} and not one.rough),
            None,
        )


@dataclass(frozen=True, slots=True)
class DeclarationLine:
    """One printed line. `net_g` is for the whole line, None when the unit weight is unknown; `hs` has only digits."""

    description: str
    quantity: int
    net_g: int | None
    value: Money
    hs: str
    origin: str
    net_is_learned: bool = False  # from past weighings, since no unit weight was typed


@dataclass(frozen=True, slots=True, kw_only=True)
class Declaration:
    """A filled declaration. `export` is the exemption to write, `reference` the tax number sent with the data."""

    form: str
    category: str
    lines: tuple[DeclarationLine, ...]
    total_net_g: int | None
    total_value: Money
    gross: Weight | None
    export: str = ""
    reference: str = ""
    findings: tuple[Finding, ...] = ()
    reasons: tuple[Finding, ...] = ()

    @property
    def has_form(self) -> bool:
        """Return True when the piece needs a customs form."""
        return self.form != NONE


def destination_of(address: Address) -> str:
    """Return the ISO country, or `US-AE` for an island or military state: AE alone is the Emirates."""
    region = address.region.strip().upper()
    apart = address.country == HOME and region in DOMESTIC_PLACES | MILITARY_STATES
    return f"US-{region}" if apart else address.country


DOMESTIC = Declaration(  # of a piece within the states, where nothing is declared
    form=NONE,
    category=str(Category.SALE),
    lines=(),
    total_net_g=None,
    total_value=zero(),
    gross=None,
    reasons=form_for(None, None, None, HOME, documents_only=False).reasons,
)


def declare(piece: Consignment, rules: CustomsRules, on: date) -> Declaration:
    """Fill the declaration of one piece on its mailing date. Domestic mail gets form `none` and no checks of goods.

    A barred place is only named in `export`; its finding comes from `Destinations.barred`, which closes every service
    too.
    """
    total = _total(piece.goods)
    form = _form(piece, rules, total)
    number, findings = NumberAnswer(), list(form.findings)
    sold = tuple(line for line in piece.goods if not line.document)
    export = _export(piece, rules, sold)
    if piece.abroad or form.form != NONE:
        findings += _of_lines(sold, rules.codes, abroad=piece.abroad)
        findings += _of_weight(piece)
        findings += _of_category(piece)
    if piece.abroad:
        number = _number(piece, rules, sold, on)
        findings += [*number.findings, *_duty(piece, rules, sold, on)]
    findings += _filing(export)
    if piece.abroad or form.form != NONE:
        findings += _old_rates(piece, rules, form, on)
    lines = tuple(_line(goods) for goods in piece.goods)
    known = [line.net_g for line in lines if line.net_g is not None]
    return Declaration(
        form=form.form,
        category=_category(piece),
        lines=lines,
        total_net_g=sum(known) if len(known) == len(lines) else None,
        total_value=total,
        gross=piece.gross,
        export=export.citation if form.form != NONE or export.findings else "",
        reference=number.number,
        findings=tuple(findings),
        reasons=(*form.reasons, *number.reasons, *_rate_reasons(piece, rules, total, on)),
    )


def printed_grams(weight: Weight) -> int:
    """Return a weight as a form shows it: the nearest gram, half up, at least 1."""
    return max(int(weight.grams.quantize(Decimal(1), ROUND_HALF_UP)), 1)


def _line(goods: Goods) -> DeclarationLine:
    net = None if goods.net is None else printed_grams(goods.net)
    words = " ".join(goods.words.split())
    origin = goods.origin.strip().upper()
    return DeclarationLine(words, goods.quantity, net, goods.value, compact(goods.hs), origin, goods.is_learned)


def _form(piece: Consignment, rules: CustomsRules, total: Money) -> FormAnswer:
    dollars = converted(total, "USD", rules.rates)
    value = None if dollars is None or dollars.is_over(USD_LIMIT) is None else dollars.cents()
    return form_for(piece.service, value, piece.gross, piece.destination, piece.documents_only, rules.sdr())


def _of_lines(goods: Sequence[Goods], codes: HsCodes, *, abroad: bool) -> list[Finding]:
    """Return what is missing line by line; each finding names its item. Code and origin are required only abroad."""
    issues: list[Finding | None] = []
    for line in goods:
        if abroad:
            issues.append(codes.check(line.item, line.hs, line.hs_edition))
        issues.append(words_finding(line.item, line.words))
        if abroad and not line.origin.strip():
            issues.append(finding(Code.ORIGIN_MISSING, "UPU CN 22, field 5", item=line.item))
        if not line.value:
            source = "CN 23 instructions"
            issues.append(finding(Code.VALUE_ZERO, source, item=line.item))
    return [each for each in issues if each is not None]


def _category(piece: Consignment) -> str:
    """Return why the goods are sent, with the sender's own words if any."""
    details = piece.details
    chosen = details.category or (Category.DOCUMENTS if piece.documents_only else Category.SALE)
    return f"{chosen}: {details.category_words}" if chosen is Category.OTHER and details.category_words else str(chosen)


def _of_category(piece: Consignment) -> list[Finding]:
    """Return a finding for a reason without words, and for goods paid for but marked as a gift."""
    details, paid = piece.details, piece.paid
    if details.category is Category.OTHER and not details.category_words.strip():
        return [finding(Code.REASON_MISSING, "UPU CN 23 block 10")]
    if details.category is not Category.GIFT or not paid:
        return []
    return [finding(Code.GIFT_WAS_PAID, "UPU CN 22, instruction text", value=paid.text(), currency=paid.currency)]


def _of_weight(piece: Consignment) -> list[Finding]:
    """Return a finding when the contents weigh more than the packed piece (CN 23 blocks 3 and 4)."""
    net = sum((line.net for line in piece.goods if line.net is not None), NOTHING)
    if piece.gross is None or net <= piece.gross:
        return []
    facts = {"net_g": printed_grams(net), "gross_g": printed_grams(piece.gross)}
    return [finding(Code.NET_OVER_GROSS, "CN 23 blocks 3 and 4", None, **facts)]


def _export(piece: Consignment, rules: CustomsRules, sold: Sequence[Goods]) -> ExportAnswer:
    """Return the exemption for all goods to this addressee on this day, each line in dollars."""
    address = piece.address
    place = FilingPlace(piece.destination, address.postal_code, f"{address.region} {address.city}")
    together = [line for line in piece.same_day if not line.document] or sold
    lines = [(line.hs, line.value, converted(line.value, "USD", rules.rates)) for line in together]
    return export_filing(
        place,
        [(hs, there.cents()) for hs, _, there in lines if there is not None and not there.is_rough],
        rules.destinations,
        unsure=[(hs, value, there) for hs, value, there in lines if there is None or there.is_rough],
        itn=piece.details.itn,
    )


def _filing(export: ExportAnswer) -> list[Finding]:
    return [issue for issue in export.findings if issue.code != Code.DESTINATION_BARRED]


def _number(piece: Consignment, rules: CustomsRules, sold: Sequence[Goods], on: date) -> NumberAnswer:
    """Return the tax number for the destination; documents need none."""
    if not sold:
        return NumberAnswer()
    place = place_of(piece.address.country, piece.address.postal_code)
    asked = rules.destinations.rules(place, "buyer-number", on)
    wrong = [buyer_number(rule, piece.details.buyer_tax_id) for rule in asked]
    answer = NumberAnswer("", tuple(one for one in wrong if one is not None))
    for kind in ("seller-number", "seller-number-if-registered"):
        if rule := rules.destinations.rule(place, kind, on):
            tax_ids = {**rules.tax_ids, "ioss": piece.details.ioss} if piece.details.ioss else rules.tax_ids
            sellers = seller_number(rule, sold, tax_ids, rules.rates, on)
            return replace(sellers, findings=(*answer.findings, *sellers.findings))
    return answer


def _duty(piece: Consignment, rules: CustomsRules, sold: Sequence[Goods], on: date) -> list[Finding]:
    """Return what the buyer will be charged: duty for each code, and charges for goods over the destination's limit."""
    if not sold:
        return []
    place = place_of(piece.address.country, piece.address.postal_code)
    by_codes, over = (rules.destinations.rule(place, kind, on) for kind in ("duty-per-code", "import-limit"))
    issues = [duty(by_codes, sold, rules.rates, on) if by_codes else None]
    issues.append(import_charges(over, sold, rules.rates, on) if over else None)
    return [one for one in issues if one is not None]


def _rate_reasons(piece: Consignment, rules: CustomsRules, total: Money, on: date) -> tuple[Finding, ...]:
    """Return how the value in dollars was converted, with the rate's age; or that the filing limit was not checked."""
    if not piece.abroad or total.currency == "USD":
        return ()
    dollars = converted(total, "USD", rules.rates)
    if dollars is None:
        return (reason(Code.LIMIT_UNTESTED, "15 CFR 30.37(a)", limit="2500.00", limit_currency="USD"),)
    value, source = (
        dollars.cents().text(),
        "a rate that comes with the program" if dollars.is_rough else "your exchange rates in Setup",
    )
    return (reason(Code.VALUE_IN_DOLLARS, source, value=value, currency=total.currency, **dollars.facts(on)),)


def _old_rates(piece: Consignment, rules: CustomsRules, form: FormAnswer, on: date) -> list[Finding]:
    """Return a note for each rate over 30 days old that this declaration may have been tested with."""
    place = place_of(piece.address.country, piece.address.postal_code)
    limits = rules.destinations.currencies(place, on) if piece.abroad else frozenset[str]()
    used = [rate for rate in (rules.sdr(),) if rate and any(one.facts.get("rule") == SDR_RULE for one in form.reasons)]
    for currency in {line.value.currency for line in piece.goods}:
        for wanted in {"USD", *limits} - {currency}:
            there = converted(Money(0, currency), wanted, rules.rates)
            used += there.rates if there is not None else ()
    return [_old_rate(rate, on) for rate in old_rates(used, on)]


def _old_rate(rate: ExchangeRate, on: date) -> Finding:
    currency = rate.to_currency if rate.from_currency == "USD" else rate.from_currency
    age, source = (on - rate.on).days, "common practice"
    return finding(Code.RATE_OLD, source, rate=currency, rate_on=rate.on.isoformat(), rate_age_days=age)


def _total(goods: Sequence[Goods]) -> Money:
    return sum((line.value for line in goods), zero(goods[0].value.currency if goods else "USD"))
