"""What was confirmed once for a product, so that no other piece asks it again."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from desk.domain.finding import Code, Finding

CONFIRMED = "confirmed once"  # the setting it is kept under
_CAUSES = {
    Code.HAZARD_ABROAD: ("product", "goods"),
    Code.HAZARD_SURFACE_ONLY: ("product", "goods"),
    Code.HAZARD_NOT_MARKED: ("product", "goods"),
    Code.MAILER_GUESSED: ("family", "mailer"),
}


@dataclass(frozen=True, slots=True)
class Confirmed:
    """The causes confirmed so far, each as `cause_of` names it."""

    causes: tuple[str, ...] = ()

    def and_(self, fresh: Collection[str]) -> Confirmed:
        """Return the same with more causes, each once."""
        return Confirmed(tuple(dict.fromkeys((*self.causes, *fresh))))


def guess_cause(family: str, mailer: str) -> str:
    """Return the cause of a guessed mailer for a family of products."""
    return f"{Code.MAILER_GUESSED}|{family}|{mailer}"


def cause_of(found: Finding) -> str:
    """Return what is confirmed with this finding, as one text; empty when it is asked for every piece."""
    names = _CAUSES.get(found.code)
    return "|".join((found.code, *(str(found.facts[name]) for name in names))) if names else ""


def is_confirmed(found: Finding, confirmed: frozenset[str]) -> bool:
    """Return True when the same was confirmed before."""
    return cause_of(found) in confirmed
