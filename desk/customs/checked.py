"""Checked: what looking at one typed number or text found."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Checked:
    """`text` is the normalised form; `code` is empty when all is well; `why` is the kind of fault, one word or two."""

    ok: bool
    text: str
    code: str = ""
    why: str = ""


def compact(text: str) -> str:
    """Upper case, without spaces, dots, hyphens and slashes: how numbers are compared, whatever a person typed."""
    return re.sub(r"[\s./-]", "", text).upper()
