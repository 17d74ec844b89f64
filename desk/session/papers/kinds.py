"""The kinds of paper: name, file name, and the message when one is empty."""

from __future__ import annotations

from enum import StrEnum

from desk.store.tables.papers import PaperKind


class Paper(StrEnum):
    """A kind of paper that can be printed. The value is its id in settings."""

    LABELS = "labels"
    SLIPS = "slips"
    PACKING_SLIPS = "packing slips"
    KEYING_SHEETS = "keying sheets"
    HAND_OVER = "hand-over sheet"

    @property
    def words(self) -> str:
        """Its name on screens."""
        return WORDS[self]

    @property
    def file_name(self) -> str:
        """The suggested file name for its PDF, also used by a run."""
        return f"{self.value.removesuffix(' sheet').replace(' ', '-')}.pdf"


WORDS = {
    Paper.LABELS: "labels",
    Paper.SLIPS: "number slips",
    Paper.PACKING_SLIPS: "packing slips",
    Paper.KEYING_SHEETS: "customs worksheets",
    Paper.HAND_OVER: "hand-over sheet",
}
TITLES = {paper: words[:1].upper() + words[1:] for paper, words in WORDS.items()}
EMPTY = {
    Paper.LABELS: "No labels to print.",
    Paper.SLIPS: "No packages here.",
    Paper.PACKING_SLIPS: "No packages here.",
    Paper.KEYING_SHEETS: "No package here needs a declaration.",
    Paper.HAND_OVER: "Nothing is ready to hand over.",
}
NOTED_AS = {
    Paper.LABELS: PaperKind.LABEL,
    Paper.SLIPS: PaperKind.SLIP,
    Paper.PACKING_SLIPS: PaperKind.PACKING_SLIP,
    Paper.KEYING_SHEETS: PaperKind.KEYING_SHEET,
}
