"""Imports: which tax number goes with the goods, and what duty the buyer must pay."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from desk.customs.check_result import compact
from desk.customs.destinations import Rule
from desk.customs.goods import Goods
from desk.customs.tax_ids import SOURCES, check_tax_id
from desk.domain.exchange import converted
from desk.domain.finding import Code, Fact, Finding, finding, reason
from desk.domain.money import Money, zero
from desk.domain.shop.shop import ExchangeRate


@dataclass(frozen=True, slots=True)
class LimitCheck:
    """A value against a limit: None where no rate, or only a rough one, compares the two currencies."""

    within: bool | None
    facts: Mapping[str, Fact]


@dataclass(frozen=True, slots=True)
class NumberAnswer:
    """The number sent with the data (empty for none), and any findings about it."""

    number: str = ""
    findings: tuple[Finding, ...] = ()
    reasons: tuple[Finding, ...] = ()


def money(text: str) -> Money:
    """Return an amount as rules write it: `EUR 150`."""
    currency, amount = text.split()
    return Money.of(amount, currency)


def held_against(
    value: Money, limit: Money, rates: Sequence[ExchangeRate], on: date, *, below: bool = False
) -> LimitCheck:
    """Return whether the value is up to the limit (or below it), with the age of the rate as facts."""
    there = converted(value, limit.currency, rates)
    facts: dict[str, Fact] = {"limit": limit.text(), "limit_currency": limit.currency}
    if there is None:
        return LimitCheck(None, facts)
    over = there.is_over(limit, reached=below)
    return LimitCheck(None if over is None else not over, facts | there.facts(on))


def seller_number(
    rule: Rule, goods: Sequence[Goods], tax_ids: Mapping[str, str], rates: Sequence[ExchangeRate], on: date
) -> NumberAnswer:
    """Return the seller's number under a rule `kind|limit|counting`, for goods its scheme covers.

    Goods over the limit are outside the scheme: they get no number, and a reason. Without a rate the number is used,
    and a reason says which limit was not checked.
    """
    kind, limit, counting = rule.parts
    answers = _compared(goods, limit, counting, rates, on)
    facts = dict(answers[0].facts) | {"kind": kind, "country": rule.country}
    if any(answer.within is False for answer in answers):
        return NumberAnswer("", (), (reason(Code.OUTSIDE_TAX_SCHEME, rule.source, **facts),))
    untested = any(answer.within is None for answer in answers)
    reasons = (reason(Code.LIMIT_UNTESTED, rule.source, **facts),) if untested else ()
    number, fault = _number(rule, tax_ids.get(kind, ""), facts)
    return NumberAnswer(number, fault, reasons)


def _compared(
    goods: Sequence[Goods], limit: str, counting: str, rates: Sequence[ExchangeRate], on: date
) -> list[LimitCheck]:
    """Return how the goods counted together compare with a limit."""
    below = counting.startswith("below")
    return [held_against(part, money(limit), rates, on, below=below) for part in _counted(goods, counting)]


def _number(rule: Rule, typed: str, facts: Mapping[str, Fact]) -> tuple[str, tuple[Finding, ...]]:
    """Return the shop's number in its normal form, or what is wrong; a missing optional number is not reported."""
    kind = str(facts["kind"])
    if not compact(typed):
        needed = rule.rule == "seller-number"
        return "", (finding(Code.TAX_ID_MISSING, rule.source, None, **facts, of="seller"),) if needed else ()
    checked = check_tax_id(kind, typed)
    if not checked.ok:
        return "", (finding(Code.TAX_ID_MALFORMED, SOURCES[kind], kind=kind, why=checked.why, typed=typed),)
    return checked.text, ()


def buyer_number(rule: Rule, typed: str) -> Finding | None:
    """Return what is wrong with the addressee's own number that customs require; None when it looks right.

    `rule.value` names the accepted kinds, such as `cpf or cnpj`.
    """
    if not compact(typed):
        return finding(Code.BUYER_ID_MISSING, rule.source, kind=rule.value, country=rule.country)
    kinds = rule.value.split(" or ")
    checked = [check_tax_id(kind, typed) for kind in kinds]
    if any(one.ok for one in checked):
        return None
    return finding(Code.TAX_ID_MALFORMED, SOURCES[kinds[0]], kind=kinds[0], why=checked[0].why, typed=typed)


def import_charges(rule: Rule, goods: Sequence[Goods], rates: Sequence[ExchangeRate], on: date) -> Finding | None:
    """Return `import-charges` for goods over a rule `limit|counting`; None within it, or without a rate."""
    limit, counting = rule.parts
    answers = _compared(goods, limit, counting, rates, on)
    over = next((answer for answer in answers if answer.within is False), None)
    if over is None:
        return None
    return finding(Code.IMPORT_CHARGES, rule.source, None, country=rule.country, counting=counting, **over.facts)


def duty(rule: Rule, goods: Sequence[Goods], rates: Sequence[ExchangeRate], on: date) -> Finding | None:
    """Return `eu-duty` under a rule `each|limit`: an amount for each distinct six-digit code; None above the limit.

    Lines without a code count once for each wording, since their code is not known yet.
    """
    each, limit = (money(part) for part in rule.parts)
    answer = held_against(_total(goods), limit, rates, on)
    if answer.within is False:
        return None
    codes = {compact(line.hs)[:6] or line.words for line in goods}
    amount = each * len(codes)
    return finding(
        Code.EU_DUTY,
        rule.source,
        None,
        codes=len(codes),
        each=each.text(),
        amount=amount.text(),
        currency=each.currency,
        tested=answer.within is not None,
        **answer.facts,
    )


def _counted(goods: Sequence[Goods], counting: str) -> list[Money]:
    """Return the values to compare with the limit: the whole consignment, or each article."""
    if counting == "consignment":
        return [_total(goods)]
    return [_value_of_one(line) for line in goods]


def _value_of_one(line: Goods) -> Money:
    """Return the value of one article of a line, rounded up to the cent."""
    count = max(line.quantity, 1)
    return Money(-(-line.value.minor // count), line.value.currency)


def _total(goods: Sequence[Goods]) -> Money:
    return sum((line.value for line in goods), zero(goods[0].value.currency))
