"""Issues confirmed once per product, so that no other piece asks again."""

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
    """The confirmed causes, each as `cause_of` names it."""

    causes: tuple[str, ...] = ()

    def and_(self, fresh: Collection[str]) -> Confirmed:
        """Return these with more causes, each once."""
        return Confirmed(tuple(dict.fromkeys((*self.causes, *fresh))))


def guess_cause(family: str, mailer: str) -> str:
    """Return the cause of a guessed mailer for a family of products."""
    return f"{Code.MAILER_GUESSED}|{family}|{mailer}"


def cause_of(issue: Finding) -> str:
    """Return the cause that confirming this finding confirms; empty when every piece is asked."""
    names = _CAUSES.get(issue.code)
    return "|".join((issue.code, *(str(issue.facts[name]) for name in names))) if names else ""


def is_confirmed(issue: Finding, confirmed: frozenset[str]) -> bool:
    """Return True when the cause of this finding was confirmed before."""
    return cause_of(issue) in confirmed
