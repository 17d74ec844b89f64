"""The papers there are: what each is called, the file it is saved as, and how its printing is noted."""

from __future__ import annotations

from enum import StrEnum

from desk.store.tables.papers import PaperKind


class Paper(StrEnum):
    """What can be printed. The value is the id in settings."""

    LABELS = "labels"
    SLIPS = "slips"
    PACKING_SLIPS = "packing slips"
    KEYING_SHEETS = "keying sheets"
    HAND_OVER = "hand-over sheet"

    @property
    def words(self) -> str:
        """What it is called on screens."""
        return WORDS[self]

    @property
    def file_name(self) -> str:
        """The file name that is offered for its PDF, and that a run writes."""
        return f"{self.value.removesuffix(' sheet').replace(' ', '-')}.pdf"


WORDS = {
    Paper.LABELS: "labels",
    Paper.SLIPS: "number slips",
    Paper.PACKING_SLIPS: "packing slips",
    Paper.KEYING_SHEETS: "keying sheets",
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
