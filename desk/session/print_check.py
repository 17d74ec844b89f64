"""Can it be printed? Asked before any label is made: letters that no shipped font has, and lines that do not fit."""

from __future__ import annotations

from dataclasses import replace

from desk.domain.finding import finding
from desk.paper.address_lines import address_lines
from desk.paper.fonts import Fonts, missing_glyphs
from desk.session.batch import Batch
from desk.session.judge import settle
from desk.session.verdict import Terms, Verdict


def check_printable(batch: Batch, terms: Terms, fonts: Fonts) -> Batch:
    """The batch with a look on every piece whose papers would lose letters of its address."""
    return replace(batch, verdicts=tuple(_checked(verdict, terms, fonts) for verdict in batch.verdicts))


def _checked(verdict: Verdict, terms: Terms, fonts: Fonts) -> Verdict:
    lines = address_lines(verdict.case.order.address, terms.rulebook.countries)
    missing = "".join(dict.fromkeys(missing_glyphs("".join(lines), fonts)))
    if not missing:
        return verdict
    return settle(verdict, [*verdict.findings, finding("letters-not-printable", letters=missing)])
