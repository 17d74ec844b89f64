"""Read the labels of a PDF in a second process with limits, so that a broken file cannot crash the window."""

from __future__ import annotations

import base64
import json
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any  # plain records for json

MOST_PAGES = 1000
MOST_BYTES = 200_000_000
SECONDS = 120.0
MEMORY = 2_000_000_000  # bytes of address space of the second process


class CannotRead(ValueError):
    """A PDF that cannot be read; the message is a sentence."""


@dataclass(frozen=True, slots=True)
class ReadLabel:
    """One label of a file. `region` is left, bottom, right, top in points of the page as displayed.

    `codes` are the texts of its barcodes; `text` is empty when the label is an image.
    """

    file: str
    page: int
    page_size: tuple[float, float]
    region: tuple[float, float, float, float]
    text: str
    codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LabelToPlace:
    """One label to lay out again, with the text for a free margin."""

    file: str
    page: int
    region: tuple[float, float, float, float]
    words: str


class NumberOn(StrEnum):
    """Where our number is: in the label's margin, on a slip page after it, or nowhere if the label is too large."""

    MARGIN = "margin"
    SLIP = "slip"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Placed:
    """What happened to a label, and its pages in the PDF: none when it is larger than a page."""

    number_on: NumberOn
    pages: tuple[int, ...]

    @property
    def is_left_out(self) -> bool:
        """Return True when the label is larger than a page, so that it is not in the PDF."""
        return self.number_on is NumberOn.NOTHING

    @property
    def has_slip(self) -> bool:
        """Return True when our number is on a page behind the label."""
        return self.number_on is NumberOn.SLIP


def read_labels(file: Path, seconds: float = SECONDS) -> tuple[ReadLabel, ...]:
    """Return the labels of a PDF, in page order.

    Raises:
        CannotRead: not a PDF, encrypted, or too large.
    """
    try:
        size = file.stat().st_size
    except OSError as fault:
        raise CannotRead(f"Can't open {file.name}: {(fault.strerror or 'no such file').lower()}.") from fault
    if size > MOST_BYTES:
        raise CannotRead(f"{file.name} is too large: {size // 1_000_000} MB. At most {MOST_BYTES // 1_000_000} MB.")
    answer = _ask(file.name, {"do": "read", "file": str(file)}, seconds)
    return tuple(
        ReadLabel(
            str(file), one["page"], tuple(one["page_size"]), tuple(one["region"]), one["text"], tuple(one["codes"])
        )
        for one in answer["labels"]
    )


def draw_label(label: ReadLabel, dpi: int = 110, seconds: float = SECONDS) -> tuple[int, int, bytes]:
    """Return width, height and gray levels (one byte each, rows from the top) of one label. Raises CannotRead."""
    job = {"do": "draw", "file": label.file, "page": label.page, "region": label.region, "dpi": dpi}
    answer = _ask(Path(label.file).name, job, seconds)
    return answer["width"], answer["height"], base64.b64decode(answer["gray"])


def lay_out(
    labels: Sequence[LabelToPlace], out: Path, page_size: tuple[float, float], fonts: Path, seconds: float = SECONDS
) -> tuple[Placed, ...]:
    """Write one PDF with each label on a page of that size, never scaled. Return the result for each.

    Raises:
        CannotRead: a file can no longer be read, or the PDF cannot be written.
    """
    job = {
        "do": "lay out",
        "labels": [asdict(label) for label in labels],
        "out": str(out),
        "size": page_size,
        "fonts": str(fonts),
    }
    answer = _ask("The labels", job, seconds)
    return tuple(Placed(NumberOn(one["number_on"]), tuple(one["pages"])) for one in answer["placed"])


def _ask(name: str, job: dict[str, Any], seconds: float) -> dict[str, Any]:
    """Return the second process's answer. Raises CannotRead with a sentence when it fails, is too slow or crashes."""
    try:
        ran = subprocess.run(
            [sys.executable, "-m", "desk.paper.bought.other_process"],
            input=json.dumps({**job, "memory": MEMORY, "most_pages": MOST_PAGES}),
            capture_output=True,
            text=True,
            timeout=seconds,
            check=False,
        )
    except subprocess.TimeoutExpired as fault:
        raise CannotRead(f"{name} takes too long to read. Print it to a new PDF and import that.") from fault
    try:
        answer: dict[str, Any] = json.loads(ran.stdout)
    except ValueError as fault:
        raise CannotRead(f"{name} can't be read: it is damaged or needs too much memory.") from fault
    if "fault" in answer:
        raise CannotRead(f"{name} {answer['fault']}")
    return answer
