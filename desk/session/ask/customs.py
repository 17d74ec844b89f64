"""Answers about customs, addresses and numbers: `form`, `export`, `words`, `hs`, `itn`, `s10`, `tracking` and more."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import date

from desk.customs.check_result import Checked
from desk.customs.export_filing import FilingPlace, check_itn, export_filing
from desk.customs.form import form_for
from desk.customs.hs_codes import MOST_HINTS
from desk.customs.postal_codes import postal_code_ok
from desk.customs.tax_ids import check_tax_id, kinds
from desk.customs.words import check_words
from desk.domain.faults import Refused
from desk.domain.orders.check_digits import (
    TRACKING_LENGTHS,
    normalized,
    s10_digit,
    split_s10,
    tracking_digit,
    without_routing,
)
from desk.domain.places.address import Address
from desk.domain.places.country import DOMESTIC_PLACES, HOME
from desk.paper.label.address_lines import address_lines
from desk.session.ask.postage import codes, place
from desk.session.ask.question import Answer, Question
from desk.session.rulebook import Rulebook


def form(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """Return which customs form is needed: none, CN22 or CN23."""
    question.text("destination")  # unknown never counts as domestic: a needed form must not be dropped
    chosen = form_for(
        rulebook.charts.service(service) if (service := question.text("service", "")) else None,
        question.money("goods_value_usd") if question.has("goods_value_usd") else None,
        question.weight("gross").weight if question.has("gross") else None,
        place(question, rulebook),
        question.flag("documents_only"),
    )
    return {"form": chosen.form, "codes": codes(chosen.findings)}


def export(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """Return the exemption to write on the form, `ITN needed` or `barred`."""
    where = FilingPlace(place(question, rulebook), question.text("postal_code", ""), question.text("region", ""))
    lines = [
        (str(code), Question({"value_usd": value}).money("value_usd")) for code, value in question.rows("lines", 2)
    ]
    filing = export_filing(where, lines, rulebook.destinations)
    return {"answer": filing.citation, "codes": codes(filing.findings)}


def words(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether a customs description is specific enough."""
    return checked(check_words(question.text("text")))


def hs(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """Return whether the HS code exists in the edition in force."""
    return checked(rulebook.codes.looked_at(question.text("text")))


def hs_suggest(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """Return HS codes that may fit a description, best first, with the words that led to each."""
    count = question.whole("count", MOST_HINTS)
    suggestions = rulebook.codes.suggest(question.text("text"), count)
    return {
        "suggestions": [
            {"hs": one.code, "words": one.words, "heading": one.heading, "matched": list(one.matched)}
            for one in suggestions
        ]
    }


def itn(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether an export filing number (ITN) is well formed."""
    return checked(check_itn(question.text("text")))


def tax_id(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether a tax number is valid for its kind."""
    kind = question.text("kind")
    if kind not in kinds():
        raise Refused(f"kind: expected one of {', '.join(kinds())}")
    return checked(check_tax_id(kind, question.text("text")))


def s10(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether an S10 item identifier is valid, or its check digit where the text has a `?`."""
    text = normalized(question.text("text"))
    parts = split_s10(text)
    if parts is None:
        return _numbered(text, None, ok=False, code="s10-malformed")
    digit = s10_digit(parts[1])
    ok = parts[2] in ("?", str(digit))
    return _numbered(text.replace("?", str(digit)), digit, ok=ok, code="" if ok else "check-digit-wrong")


def tracking(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether a package identification code is valid, or its check digit where the text has a `?`."""
    text = normalized(question.text("text"))
    body = text[:-1]
    if len(text) not in TRACKING_LENGTHS or not body.isdecimal() or not (text[-1].isdecimal() or text[-1] == "?"):
        return _numbered(text, None, ok=False, code="tracking-malformed")
    digit = _tracking_digit(text)
    ok = text[-1] in ("?", str(digit))
    return _numbered(
        body + str(digit) if text[-1] == "?" else text, digit, ok=ok, code="" if ok else "check-digit-wrong"
    )


def _tracking_digit(text: str) -> int:
    """Return the check digit; some older 20-digit codes only check with 91 in front (open data, recomputed)."""
    body = without_routing(text)[:-1]
    digit = tracking_digit(body)
    if len(text) == 20 and text[-1] not in ("?", str(digit)) and text[-1] == str(tracking_digit("91" + body)):
        return int(text[-1])
    return digit


def postal_code(question: Question, _rulebook: Rulebook, _today: date) -> Answer:
    """Return whether a postal code is valid for its country."""
    return {
        "ok": postal_code_ok(question.text("country").upper(), question.text("text", ""), question.text("region", ""))
    }


def lines(question: Question, rulebook: Rulebook, _today: date) -> Answer:
    """Return the lines of an address as they appear on a label."""
    names = {field.name for field in fields(Address)} - {"country_typed"}
    typed = {name: question.text(name, "") for name in names}
    country = rulebook.countries.find(typed["country"] or HOME)
    if country is None:
        raise Refused(f"country: unknown country {typed['country']!r}")
    if country in DOMESTIC_PLACES:
        typed["region"], country = typed["region"] or country, HOME
    return {"lines": list(address_lines(Address(**{**typed, "country": country}), rulebook.countries))}


def checked(result: Checked) -> Answer:
    """Return the result of checking one text as an answer."""
    return {"ok": result.ok, "code": result.code, "text": result.text, "check_digit": None}


def _numbered(text: str, digit: int | None, *, ok: bool, code: str) -> Answer:
    return {"ok": ok, "code": code, "text": text, "check_digit": None if digit is None else str(digit)}


_ADDRESS = tuple(field.name for field in fields(Address) if field.name != "country_typed")
FIELDS: Mapping[str, tuple[str, ...]] = {
    "form": ("service", "goods_value_usd", "gross", "destination", "documents_only"),
    "export": ("destination", "postal_code", "region", "lines"),
    "hs-suggest": ("text", "count"),
    "tax-id": ("kind", "text"),
    "postal-code": ("country", "text", "region"),
    "address-lines": _ADDRESS,
    **dict.fromkeys(("words", "hs", "itn", "s10", "tracking"), ("text",)),
}
ANSWERS: dict[str, Callable[[Question, Rulebook, date], Answer]] = {
    "form": form,
    "export": export,
    "words": words,
    "hs": hs,
    "hs-suggest": hs_suggest,
    "itn": itn,
    "tax-id": tax_id,
    "s10": s10,
    "tracking": tracking,
    "postal-code": postal_code,
    "address-lines": lines,
}
