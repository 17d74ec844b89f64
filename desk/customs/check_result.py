"""The result of checking one typed number or text."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Checked:
    """The result of one check: `text` is the normalized form, `code` is empty if all is well, `why` names the fault."""

    ok: bool
    text: str
    code: str = ""
    why: str = ""


def compact(text: str) -> str:
    """Return the text in upper case without spaces, dots, hyphens and slashes, ready to compare."""
    return re.sub(r"[\s./-]", "", text).upper()
