"""Copy a declaration field by field to the clipboard, in the order of the post's online form."""

from __future__ import annotations

from desk.domain.faults import Refused
from desk.paper.keying.keying_fields import KeyingField, keying_fields
from desk.session.contents.worksheet_contents import ASK, keying_content
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.sentences import sentence


def copy_fields(verdict: Verdict, terms: Terms) -> tuple[KeyingField, ...]:
    """Return the fields to copy, in order.

    Refused while the piece is not weighed, needs no form, or has a customs issue open: nothing false may be keyed in.
    """
    number = verdict.case.number
    if verdict.declaration is None:
        raise Refused(f"{number} is not weighed yet. Weigh it first.")
    if verdict.customs_open:
        raise Refused(f"{number} is not complete. Fix this first: {sentence(verdict.customs_open[0])}")
    content = keying_content(verdict, terms)
    if content is None:
        raise Refused(f"{number} needs no customs form.")
    return tuple(field for field in keying_fields(content) if field.text != ASK)
