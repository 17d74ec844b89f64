"""What the Customs screen shows: pieces going abroad with what is missing, and one declaration with its faults.

Plain records made from a verdict. Unweighed pieces have a declaration too, so descriptions, codes and origins can be
completed before weighing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from desk.customs.declaration import Declaration, DeclarationLine
from desk.customs.form import NONE
from desk.domain.codes import DECLARED
from desk.domain.finding import Code, Finding, Severity
from desk.domain.orders.order import OrderLine
from desk.domain.places.address import Address
from desk.domain.places.country import DOMESTIC_PLACES, HOME, MILITARY_STATES
from desk.domain.shop.product import Product
from desk.domain.status import is_answerable, is_open
from desk.session.contents.piece_words import masked
from desk.session.customs.details import DetailField, detail_fields, field_at
from desk.session.verdict.piece_declaration import declaration_of
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.customs import CAUTIONS, CUSTOMS
from desk.session.words.facts import country_in_words, domestic_place_in_words
from desk.session.words.figures import amount_words, measure
from desk.session.words.issue_names import issue_name
from desk.session.words.sentences import sentence, shown_source, way_out

# Which field of a line a finding belongs to, and a word for what is missing there.
AT_FIELD = {
    Code.HS_MISSING: ("hs", "HS code"),
    Code.HS_NOT_IN_EDITION: ("hs", "HS code"),
    Code.WORDS_TOO_VAGUE: ("customs_words", "description"),
    Code.WORDS_TOO_LONG: ("customs_words", "description"),
    Code.ORIGIN_MISSING: ("origin", "origin"),
    Code.VALUE_ZERO: ("unit_value", "value"),
}
SHORT = {  # a word for each finding about the whole declaration
    Code.EU_DUTY: "buyer owes duty",
    Code.BUYER_ID_MISSING: "buyer's number",
    Code.GIFT_WAS_PAID: "gift",
    Code.REASON_MISSING: "reason for export",
    Code.ITN_MALFORMED: "export filing",
    Code.DESTINATION_SUSPENDED: "suspended",
    Code.LATIN_LINE_MISSING: "Latin letters",
    Code.VALUE_NOT_COMPARED: "exchange rate",
    Code.TAX_ID_MISSING: "tax number",
    Code.TAX_ID_MALFORMED: "tax number",
    Code.ADDRESS_INCOMPLETE: "address",
    Code.ADDRESS_TOO_LONG: "address",
    Code.POSTAL_CODE_ODD: "postal code",
    Code.GOODS_IN_LETTER_ABROAD: "sent as letter",
    Code.NEEDS_EXPORT_FILING: "export filing",
    Code.NET_OVER_GROSS: "net over gross",
}
ONCE = {Code.DESTINATIONS_OLD, Code.RATE_OLD}  # reported once for the batch
SHOWN = {*CUSTOMS, *DECLARED} - ONCE  # codes shown on this screen
NET_UNKNOWN = "Unit weight missing."


@dataclass(frozen=True, slots=True)
class Missing:
    """Something missing or wrong: its field (empty: the whole declaration), mark, words, and what to do."""

    field: str
    mark: Severity
    short: str
    words: str
    way_out: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class LineView:
    """One line: the item ordered, what is declared, which product fields can be corrected, and what is missing."""

    line: OrderLine
    item: str
    quantity: str
    net_g: str
    value: str
    product: Product | None
    declared: DeclarationLine
    missing: tuple[Missing, ...] = ()
    unit_value: str = ""  # what one is worth for customs, as entered

    def at(self, name: str) -> Missing | None:
        """Return what is missing in a field."""
        return next((one for one in self.missing if one.field == name), None)


@dataclass(frozen=True, slots=True)
class DeclarationView:
    """One declaration. `form` is `none`, `CN22` or `CN23`; texts with nothing to say are empty."""

    number: str
    to: str
    country: str
    form: str
    category: str
    goods_value: str
    net: str
    gross: str
    export: str
    tax_number: str  # all but the last three characters hidden
    lines: tuple[LineView, ...]
    missing: tuple[Missing, ...]  # about the whole declaration
    details: tuple[DetailField, ...] = ()
    answerable: tuple[str, ...] = ()  # codes of open issues that "It's right" closes
    cautions: tuple[str, ...] = field(default=CAUTIONS)

    def at_detail(self, name: str) -> Missing | None:
        """Return what is missing in a field of the details."""
        return next((one for one in self.missing if one.field == name), None)

    @property
    def has_form(self) -> bool:
        """Return True when the piece needs a customs form."""
        return self.form != NONE

    @property
    def all_missing(self) -> tuple[Missing, ...]:
        """Everything missing, most serious first."""
        every = [*self.missing, *(one for line in self.lines for one in line.missing)]
        return tuple(sorted(every, key=lambda one: one.mark.rank))

    @property
    def mark(self) -> Severity:
        """The mark of the most serious one; `fine` when nothing is missing."""
        return next((one.mark for one in self.all_missing), Severity.FINE)

    @property
    def is_lacking(self) -> bool:
        """True when something still has to be filled in or checked."""
        return self.mark.is_issue

    @property
    def in_short(self) -> str:
        """What is missing, in a few words."""
        return ", ".join(dict.fromkeys(one.short for one in self.all_missing))


def customs_views(verdicts: Mapping[int, Verdict], terms: Terms) -> dict[int, DeclarationView]:
    """Return all declarations by piece id, in batch order: of pieces abroad, and of domestic ones that need a form."""
    return {number: declaration_view(verdict, terms) for number, verdict in verdicts.items() if is_declared(verdict)}


def is_declared(verdict: Verdict) -> bool:
    """Return True for a piece abroad, and for a weighed domestic one with a form or an export filing."""
    declared = verdict.declaration
    filed = declared is not None and (declared.has_form or bool(declared.findings))
    return verdict.is_abroad or filed


def declaration_view(verdict: Verdict, terms: Terms) -> DeclarationView:
    """Return the declaration of one piece."""
    case, address = verdict.case, verdict.case.order.address
    declared = verdict.declaration or declaration_of(case, terms, gross=None, service=None)
    issues = _told(verdict, declared)
    gross = declared.gross
    return DeclarationView(
        number=case.number,
        to=address.recipient or address.company,
        country=_place(address).removeprefix("the "),
        form=declared.form,
        category=declared.category,
        goods_value=amount_words(declared.total_value) if declared.lines else "",
        net="" if declared.total_net_g is None else f"{declared.total_net_g} g",
        gross="" if gross is None else f"{gross.grams:.0f} g",
        export=declared.export,
        tax_number=masked(declared.reference),
        lines=tuple(_lines(verdict, declared, issues, terms)),
        missing=tuple(_missing(issue) for issue in issues if "item" not in issue.facts or issue.code not in AT_FIELD),
        details=detail_fields(verdict, declared, terms),
        answerable=tuple(dict.fromkeys(issue.code for issue in issues if is_answerable(issue))),
    )


def _place(address: Address) -> str:
    """Return the country in full, or the place of domestic mail."""
    region = address.region.strip().upper()
    if address.country == HOME and region in DOMESTIC_PLACES | MILITARY_STATES:
        return domestic_place_in_words(region)
    return country_in_words(address.country)


def _told(verdict: Verdict, declared: Declaration) -> list[Finding]:
    """Return the customs findings of the verdict (including embargoes) and of the declaration, each once."""
    every: Iterable[Finding] = (*verdict.of_shop, *verdict.findings, *declared.findings)
    seen = {(issue.code, str(issue.facts.get("item", ""))): issue for issue in every if issue.code in SHOWN}
    answered = verdict.case.answered
    return [issue for issue in seen.values() if issue.severity is Severity.NOTE or is_open(issue, answered)]


def _lines(verdict: Verdict, declared: Declaration, issues: list[Finding], terms: Terms) -> Iterable[LineView]:
    if not declared.lines:
        return  # until the contents of each package are known
    values = dict(verdict.case.order.customs.unit_values)
    for ordered, line in zip(verdict.case.order.lines, declared.lines, strict=True):
        missing = [
            _missing(issue) for issue in issues if issue.code in AT_FIELD and issue.facts.get("item") == ordered.item
        ]
        product = terms.shop.product_for(ordered)
        if line.net_g is None:
            missing.append(Missing("unit_weight", Severity.NOTE, "net weight", NET_UNKNOWN))
        yield LineView(
            line=ordered,
            item=ordered.item,
            quantity=str(line.quantity),
            net_g="" if line.net_g is None else f"{line.net_g} g{' (learned)' if line.net_is_learned else ''}",
            value=amount_words(line.value),
            product=product,
            declared=line,
            missing=tuple(missing),
            unit_value=measure(values[ordered.key].text()) if ordered.key in values else "",
        )


def _missing(issue: Finding) -> Missing:
    at, short = AT_FIELD.get(issue.code, (field_at(issue), SHORT.get(issue.code, issue_name(issue.code))))
    return Missing(at, issue.severity, short, sentence(issue), way_out(issue), shown_source(issue))
