"""A finding: what a person must know about a piece, a file or a price list, as a code and facts, not a sentence.

`desk.session.words.sentences` makes all sentences, so that the window, the papers and the tables use the same words.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from desk.domain.codes import Code
from desk.domain.severity import Severity

__all__ = ["Code", "Fact", "Finding", "Severity", "finding", "reason"]

Fact = str | int | bool | tuple[str, ...]
# Codes with one cause for many pieces: each piece has the finding and needs a check, but tables list it once.
REPORTED_ONCE = frozenset(
    {
        Code.STATUS_UNSORTED,
        Code.CHOICE_UNSORTED,
        Code.HAZARD_SURFACE_ONLY,
        Code.HAZARD_NOT_MARKED,
        Code.KIND_OVERRULED,
        Code.TAX_ID_MALFORMED,
        Code.UNTRACKED,
        Code.ZONE_ESTIMATED,
    }
)
_OF_SHOP = frozenset({Code.DESTINATIONS_OLD, Code.RATE_OLD})  # the age of data the shop renews


@dataclass(frozen=True, slots=True)
class Finding:
    """A code, how serious it is, the facts for its sentence, and the published source of the rule."""

    code: Code
    severity: Severity
    facts: Mapping[str, Fact] = field(default_factory=dict, hash=False)
    source: str = ""


def finding(code: Code, source: str = "", severity: Severity | None = None, **facts: Fact) -> Finding:
    """Return a finding, with its code's usual severity unless another is given. Raises TypeError for wrong facts."""
    if not code.required <= facts.keys() <= code.facts:
        raise TypeError(f"{code}: facts {', '.join(sorted(code.required ^ facts.keys()))} missing or unknown")
    return Finding(code, severity or code.severity, facts, source)


def rank(issue: Finding) -> int:
    """Return a finding's sort order, most serious first: stop, look, note, reason."""
    return issue.severity.rank


def is_of_shop(issue: Finding) -> bool:
    """Return True for a finding about the shop that does not hold up any piece, so that no piece lists it."""
    return issue.code in _OF_SHOP or (issue.code is Code.TAX_ID_MISSING and issue.facts.get("of") == "seller")


def reason(code: Code, source: str = "", **facts: Fact) -> Finding:
    """Return a reason: why a decision was made, with the rule behind it."""
    return finding(code, source, Severity.FINE, **facts)
