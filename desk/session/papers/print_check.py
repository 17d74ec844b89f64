"""Check before making labels that addresses can be printed: every character has a glyph and every line fits.

An address that would lose letters or doesn't fit is not printed on a label. Papers that stay on the bench are printed
anyway, with a question mark for each missing character, because every piece needs its slip.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TYPE_CHECKING, TypeVar, cast

from desk.domain.finding import Code, Finding, Severity, finding
from desk.paper.fonts import Fonts, missing_glyphs, with_marks_for_missing
from desk.paper.label.address_lines import address_lines
from desk.session.contents.contents import label_content
from desk.session.pile.batch import Batch
from desk.session.verdict.judge import settle
from desk.session.verdict.payment import has_label
from desk.session.verdict.verdict import Terms, Verdict

if TYPE_CHECKING:
    from desk.paper.press import Press

T = TypeVar("T")
FONTS_SOURCE = "the fonts that come with the program"


def check_printable(batch: Batch, terms: Terms, fonts: Fonts, press: Press | None = None) -> Batch:
    """Return the batch with a finding on each piece whose address can't be printed.

    `letters-not-printable` where it would lose letters; `address-too-long` where, given the press of the labels, it
    doesn't fit.
    """
    return replace(batch, verdicts=tuple(_checked(verdict, terms, fonts, press) for verdict in batch.verdicts))


def _checked(verdict: Verdict, terms: Terms, fonts: Fonts, press: Press | None) -> Verdict:
    """Return the verdict with a stop where we print the label, or a look where bought postage has its own label."""
    lines = address_lines(verdict.case.order.address, terms.rulebook.countries)
    missing = "".join(dict.fromkeys(missing_glyphs("".join(lines), fonts)))
    if not missing:
        return _with_room(verdict, terms, press)
    severity = Severity.STOP if has_label(verdict.payment) else Severity.LOOK
    return settle(
        verdict, [*verdict.findings, finding(Code.LETTERS_NOT_PRINTABLE, FONTS_SOURCE, severity, letters=missing)]
    )


def _with_room(verdict: Verdict, terms: Terms, press: Press | None) -> Verdict:
    if press is None or verdict.quote is None or not has_label(verdict.payment):
        return verdict
    if any(issue.code is Code.ADDRESS_TOO_LONG for issue in verdict.findings):
        return verdict
    fault = _too_long(verdict, terms, press)
    return settle(verdict, [*verdict.findings, fault]) if fault else verdict


def _too_long(verdict: Verdict, terms: Terms, press: Press) -> Finding | None:
    from desk.paper.label.label import address_fits, address_room

    content = label_content(verdict, terms)
    if address_fits(content, press):
        return None
    length = len(" ".join(content.recipient))
    room = min(address_room(content, press), length - 1)
    return finding(Code.ADDRESS_TOO_LONG, "measured on its label", part="address", longest=room, length=length)


def printable(content: T, fonts: Fonts) -> T:
    """Return a paper's content with a question mark for each character that can't be printed."""
    if isinstance(content, str):
        if content.isascii() and content.isprintable():
            return content
        return cast("T", with_marks_for_missing(content, fonts))
    if isinstance(content, tuple):
        return cast("T", tuple(printable(each, fonts) for each in content))
    if is_dataclass(content) and not isinstance(content, type):
        fields_printable = {field.name: printable(getattr(content, field.name), fonts) for field in fields(content)}
        return cast("T", replace(content, **fields_printable))
    return content
