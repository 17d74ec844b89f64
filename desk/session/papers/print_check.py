"""Can it be printed? Asked before any label is made: letters that no shipped font has.

An address that would lose letters goes on no label. Papers that stay on the bench are printed all the same, with a
question mark for each such letter, because every piece has its slip.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TypeVar, cast

from desk.domain.finding import Code, Severity, finding
from desk.paper.address_lines import address_lines
from desk.paper.fonts import Fonts, missing_glyphs, with_marks_for_missing
from desk.session.pile.batch import Batch
from desk.session.verdict.judge import settle
from desk.session.verdict.payment import has_label
from desk.session.verdict.verdict import Terms, Verdict

T = TypeVar("T")


def check_printable(batch: Batch, terms: Terms, fonts: Fonts) -> Batch:
    """The batch with `letters-not-printable` on every piece whose address would lose letters."""
    return replace(batch, verdicts=tuple(_checked(verdict, terms, fonts) for verdict in batch.verdicts))


def _checked(verdict: Verdict, terms: Terms, fonts: Fonts) -> Verdict:
    """A stop where we print the label, a look where postage bought elsewhere brings its own."""
    lines = address_lines(verdict.case.order.address, terms.rulebook.countries)
    missing = "".join(dict.fromkeys(missing_glyphs("".join(lines), fonts)))
    if not missing:
        return verdict
    severity = Severity.STOP if has_label(verdict.payment) else Severity.LOOK
    told = finding(Code.LETTERS_NOT_PRINTABLE, "the fonts that come with the program", severity, letters=missing)
    return settle(verdict, [*verdict.findings, told])


def printable(content: T, fonts: Fonts) -> T:
    """What stands on a paper, with a question mark for each letter that cannot be printed."""
    if isinstance(content, str):
        if content.isascii() and content.isprintable():
            return content
        return cast("T", with_marks_for_missing(content, fonts))
    if isinstance(content, tuple):
        return cast("T", tuple(printable(each, fonts) for each in content))
    if is_dataclass(content) and not isinstance(content, type):
        told = {field.name: printable(getattr(content, field.name), fonts) for field in fields(content)}
        return cast("T", replace(content, **told))
    return content
