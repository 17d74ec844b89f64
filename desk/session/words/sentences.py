"""The catalog that turns findings and reasons into sentences.

The window, the customs worksheet and the tables all use it. `{name}` is a fact of the finding, put into words by
`desk.session.words.fact_words`.
"""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.codes import Code
from desk.domain.finding import Finding
from desk.session.words.customs import CUSTOMS
from desk.session.words.fact_words import facts_in_words
from desk.session.words.importing import IMPORTING
from desk.session.words.pieces import PIECES
from desk.session.words.postage import POST
from desk.session.words.reasons import REASONS

CATALOG: Mapping[Code, tuple[str, str]] = {
    **POST,
    **CUSTOMS,
    **IMPORTING,
    **PIECES,
    **REASONS,
}  # code -> (issue, what to do)
# Our own words, capitalized at the start of a sentence; names stay as typed.
OWN_WORDS = ("{bought}", "{service}", "{goods}", "{country}")


def sentence(issue: Finding) -> str:
    """Return the issue or reason in one or two sentences; KeyError for a code without words."""
    words = CATALOG[issue.code][0]
    text = words.format_map(facts_in_words(issue))
    return text[:1].upper() + text[1:] if words.startswith(OWN_WORDS) else text


def way_out(issue: Finding) -> str:
    """Return what to do about it; empty where nothing needs doing."""
    return CATALOG[issue.code][1].format_map(facts_in_words(issue))


# How a rule is known belongs in the tables and in SOURCE.md; screens name documents only.
_SHOWN = {
    "common practice": "",
    "computed from the width of a label": "",
    "confirmed once": "",
    "domestic and international services do not mix": "",
    "domestic mail": "",
    "general knowledge of the HS text": "",
    "Letters and flats carry no tracking number": "",
    "open table of HS 2022 (ODC-PDDL-1.0)": "HS 2022",
    "measured on its label": "",
    "postal code patterns by country": "",
    "the fonts that come with the program": "",
    "the order's address": "",
    "the stamps on hand": "",
}


def shown_source(issue: Finding) -> str:
    """Return the document a screen names under a finding; empty where there is none."""
    return document_of(issue.source)


def document_of(source: str) -> str:
    """Return the document and section a source names; empty for a source that is only a way of knowing."""
    document = _SHOWN.get(source, source)
    return document[:1].upper() + document[1:]
