"""Finding: what a person must know about a piece, a file or a chart, as code and facts and no sentence.

Sentences are made in one place, `desk.session.words.sentences`, so that window, papers and tables say the same thing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding weighs. `fine` marks a reason: why the decision is what it is."""

    STOP = "stop"
    LOOK = "look"
    NOTE = "note"
    FINE = "fine"


Fact = str | int | bool

SEVERITIES: Mapping[str, Severity] = {
    **dict.fromkeys(
        (
            "no-service goods-in-letter-abroad destination-barred destination-suspended needs-export-filing "
            "net-over-gross too-small address-incomplete address-too-long restricted-goods contents-unknown "
            "value-not-compared"
        ).split(),
        Severity.STOP,
    ),
    **dict.fromkeys(
        (
            "too-close-to-call weighed-twice weighed-after-paid no-weight no-order size-missing mailer-unknown product-unknown "
            "mailer-too-small hs-missing hs-not-in-edition words-too-vague origin-missing value-zero "
            "tax-id-malformed postal-code-odd not-enough-stamps stamps-requested lighter-than-contents "
            "heavier-than-contents swapped-with zone-unknown form-may-be-needed fee-unclear letters-not-printable "
            "own-list-damaged status-unsorted choice-unsorted"
        ).split(),
        Severity.LOOK,
    ),
    **dict.fromkeys(
        (
            "over-one-ounce near-a-step not-machinable stiff-flat uneven-flat too-thick-for-letter hand-to-clerk "
            "over-service-limit list-ends untracked form-edge eu-duty tax-id-missing charged-too-little "
            "zone-estimated chart-out-of-date postal-code-mended over-included-cover stamp-not-possible words-too-long paid-not-counted "
            "column-not-taken kind-overruled"
        ).split(),
        Severity.NOTE,
    ),
}


# Codes whose cause is one thing for many pieces: each is held up by it, and tables tell it once.
TOLD_ONCE = frozenset({"status-unsorted", "choice-unsorted", "kind-overruled", "tax-id-malformed"})
_HEAVIEST_FIRST = {severity: place for place, severity in enumerate(Severity)}


@dataclass(frozen=True, slots=True)
class Finding:
    """A code, how much it weighs, the typed facts a sentence needs, and the published source of the rule."""

    code: str
    severity: Severity
    facts: Mapping[str, Fact] = field(default_factory=dict, hash=False)
    source: str = ""


def finding(code: str, source: str = "", severity: Severity | None = None, **facts: Fact) -> Finding:
    """A finding with the severity its code has by contract, unless the rule says another; KeyError if unknown."""
    return Finding(code, severity or SEVERITIES[code], facts, source)


def rank(found: Finding) -> int:
    """Return the place of a finding among others when the heaviest comes first: stop, look, note, reason."""
    return _HEAVIEST_FIRST[found.severity]


def is_of_shop(found: Finding) -> bool:
    """Return True for a fact about the shop that holds up no piece, so that no piece carries it."""
    return found.code == "tax-id-missing" and found.facts.get("of") == "seller"


def reason(code: str, source: str = "", **facts: Fact) -> Finding:
    """A reason: why a decision is what it is, with the rule it rests on."""
    return Finding(code, Severity.FINE, facts, source)
