"""Yes and no, decided from all cells of a column: "1" and "N" count only where every other cell does too.

Words in English, German, French, and Spanish; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from desk.intake.columns.amounts import NotRead

# Words that count in any column, and short forms that count only where every cell is one of these.
_YES = frozenset("yes true ja oui sí si verdadero vrai wahr ✓ ✔ ☑".split())
_NO = frozenset("no false nein non falso faux falsch ✗ ☐".split())
_YES_SHORT = _YES | frozenset("y t j o s v w x 1 1.0 on".split())
_NO_SHORT = _NO | frozenset("n f 0 0.0 off - –".split())


def is_yes_or_no(text: str) -> bool:
    """Return whether text is one of the words for yes or no; short forms such as "y" are not."""
    return text.casefold().strip() in _YES | _NO


@dataclass(frozen=True, slots=True)
class YesNoColumn:
    """How a column writes yes and no. `is_short`: all its cells are yes, no, or one of their short forms."""

    is_short: bool = False

    @classmethod
    def of(cls, cells: Iterable[str]) -> YesNoColumn:
        """Return how these cells mean yes and no."""
        filled = {cell.casefold().strip() for cell in cells} - {""}
        return cls(bool(filled) and filled <= _YES_SHORT | _NO_SHORT)

    def read(self, text: str) -> bool | None:
        """Return True, False, or None for an empty cell; NotRead for anything else."""
        word = text.casefold().strip()
        if not word:
            return None
        yes, no = (_YES_SHORT, _NO_SHORT) if self.is_short else (_YES, _NO)
        if word in yes:
            return True
        if word in no:
            return False
        raise NotRead("yes or no")

    def is_yes(self, text: str) -> bool:
        """Return whether a cell means yes."""
        try:
            return self.read(text) is True
        except NotRead:
            return False
