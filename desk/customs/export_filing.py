"""Export filing: whether a piece may leave without electronic export information, and under which exemption.

Sources: 15 CFR 30.37(a) with appendix C (up to USD 2,500 for each Schedule B number, whatever the total); 15 CFR 30.36
and IMM 526 (goods that stay in Canada); IMM 512.1 (barred without a license). We have not seen the text of 30.37(a)
after its changes of 2026.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from desk.customs.check_result import Checked
from desk.customs.destinations import Destinations
from desk.domain.exchange import Converted
from desk.domain.finding import Code, Finding, finding
from desk.domain.money import Money
from desk.domain.places.country import is_abroad

EXEMPT_VALUE, EXEMPT_CANADA, FILING, BARRED = "NOEEI 30.37(a)", "NOEEI 30.36", "ITN needed", "barred"
LIMIT = Money(2_500_00)
# the most dollars one unit of any currency may be worth; today's highest is a dinar of about 3.3 (from memory)
MOST_DOLLARS = 5
# Domestic mail whose goods are filed like exports: 15 CFR 30.1 and DMM 608.2.5 (Puerto Rico, the Virgin Islands, and the
# Freely Associated States).
FILED_AT_HOME = frozenset("PR VI FM MH PW".split())
ITN_SOURCE = "Census Bureau blog, May 22, 2019"
SOURCE = "15 CFR 30.37(a); IMM 526"
Unsure = tuple[str, Money, Converted | None]  # code, value, and the value at an approximate rate


@dataclass(frozen=True, slots=True)
class ExportAnswer:
    """The citation to write, `ITN needed`, `barred`, or empty for domestic mail; and any stops."""

    citation: str
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class FilingPlace:
    """Where goods go, as export rules see it. `region` may include the city."""

    country: str
    postal_code: str = ""
    region: str = ""

    @property
    def state(self) -> str:
        """Return the state code of domestic mail; empty abroad. PR and the like may be given as the country."""
        if self.country in FILED_AT_HOME:
            return self.country
        return self.country.removeprefix("US-") if self.country.startswith("US-") else ""


def export_filing(
    place: FilingPlace,
    lines: Sequence[tuple[str, Money]],
    destinations: Destinations,
    *,
    unsure: Sequence[Unsure] = (),
    itn: str = "",
) -> ExportAnswer:
    """Return the exemption for lines of (HS or Schedule B code, value in dollars); CurrencyMismatch for other money.

    Lines without a code count together as one, the stricter way. `unsure` are lines that no rate, or only a rough one,
    turns into dollars: where they could pass the limit, the piece is stopped. A filing number `itn` takes the exemption's
    place. The lines are all that goes to one addressee that day.
    """
    if not is_abroad(place.country) and place.state not in FILED_AT_HOME:
        return ExportAnswer("")
    if barred := destinations.barred(place.country, place.postal_code, place.region):
        return ExportAnswer(BARRED, (barred,))
    if place.country == "CA":
        return ExportAnswer(EXEMPT_CANADA)
    if itn and (filed := check_itn(itn)).ok:
        return ExportAnswer(f"AES {filed.text}")
    totals = _totals(lines)
    over = [(code, total) for code, total in totals.items() if total > LIMIT]
    findings = [
        finding(Code.NEEDS_EXPORT_FILING, SOURCE, hs=code, value=total.text(), limit=LIMIT.text(), currency="USD")
        for code, total in over
    ]
    if itn:
        findings.append(finding(Code.ITN_MALFORMED, ITN_SOURCE, why=check_itn(itn).why, typed=itn))
    if findings:
        return ExportAnswer(FILING, tuple(findings))
    if over_in := could_pass(unsure, totals):
        facts = {"limit": LIMIT.text(), "currency": LIMIT.currency, "valued_in": over_in}
        return ExportAnswer("", (finding(Code.VALUE_NOT_COMPARED, SOURCE, None, **facts),))
    return ExportAnswer(EXEMPT_VALUE)


def could_pass(unsure: Sequence[Unsure], known: Mapping[str, Money]) -> str:
    """Return the currency of a value that could bring its code over the limit; empty when none could."""
    most = {code: total.amount for code, total in known.items()}
    for code, value, there in unsure:
        digits = _digits(code)
        most[digits] = most.get(digits, Decimal(0)) + (value.amount * MOST_DOLLARS if there is None else there.most)
        if most[digits] > LIMIT.amount:
            return value.currency
    return ""


def check_itn(text: str) -> Checked:
    """Check an internal transaction number: X, a date, six digits (Census Bureau blog, 2019-05-22).

    `why`: `empty`, `no X`, `shape` or `date`.
    """
    number = re.sub(r"[\s:]", "", text).upper().removeprefix("AES").removeprefix("ITN")
    why = _itn_fault(number)
    return Checked(not why, number, Code.ITN_MALFORMED if why else "", why)


def _itn_fault(number: str) -> str:
    if not number:
        return "empty"
    if re.fullmatch("[0-9]{14}", number):
        return "no X"
    if not re.fullmatch("X[0-9]{14}", number):
        return "shape"
    try:
        date.fromisoformat(f"{number[1:5]}-{number[5:7]}-{number[7:9]}")
    except ValueError:
        return "date"
    return ""


def _totals(lines: Sequence[tuple[str, Money]]) -> dict[str, Money]:
    totals: dict[str, Money] = {}
    for code, value in lines:
        digits = _digits(code)
        totals[digits] = totals[digits] + value if digits in totals else value
    return totals


def _digits(code: str) -> str:
    return re.sub(r"[^0-9]", "", code)
