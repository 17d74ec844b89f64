"""Did the buyer ask for a stamp? A phrase of the shop's, anywhere in the note, unless the sentence says no to it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from desk.domain.finding import Code

REQUESTED = Code.STAMPS_REQUESTED  # the look; answered, the request is accepted
DECLINED = "stamp-declined"  # kept among a piece's answers when the maker says no; never a finding

_NEGATIONS = re.compile(
    r"\b(no|not|never|without|don'?t|dont|doesn'?t|isn'?t|rather than|instead of|nicht|kein\w*|pas|sin)\b"
)
# A no holds as far as the next stop or turn: "no rush, by stamp is fine" asks for one.
_CLAUSE_END = re.compile(r"[.!?;,\n]|\bbut\b")
_DENIED_AFTER = re.compile(
    r"\s+(is|was|are|would|will|does|can)\s+(really\s+)?not\b|\s+(is|was|wo|would|does|ca)n'?t\b|\s*\?\s*no\b"
)


def asks_for_stamp(note: str, phrases: Iterable[str]) -> bool:
    """True when a phrase stands in the note, in any case, in a clause that does not negate it, before or right after."""
    text = note.casefold().replace("\u2019", "'")
    return any(_said_plainly(text, phrase.casefold().strip()) for phrase in phrases)


def _said_plainly(text: str, phrase: str) -> bool:
    if not phrase:
        return False
    for match in re.finditer(rf"(?<!\w){re.escape(phrase)}(?!\w)", text):
        before = _CLAUSE_END.split(text[: match.start()])[-1]
        if not _NEGATIONS.search(before) and not _DENIED_AFTER.match(text[match.end() :]):
            return True
    return False
