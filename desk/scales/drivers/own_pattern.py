"""Check whether a pattern entered by a person is safe to run on every line."""

from __future__ import annotations

import re
import time

from desk.domain.faults import Refused

LONGEST_PATTERN = 300
PROBE_LIMIT_S = 0.02
_PROBES = tuple((text * 96)[:96] for text in ("1", " ", "A", "1 ", "12.", "+1", "1A"))


def check_expression(expression: str) -> None:
    """Check an expression. Raises Refused, with the reason, when it is too long, invalid, lacks a value, or is slow."""
    import regex

    if len(expression) > LONGEST_PATTERN:
        raise Refused(f"This pattern has more than {LONGEST_PATTERN} characters. Shorten it.")
    if re.search(r"\(\?(?:<?[=!]|P=|R|\d|&|\()|\\[1-9gG]", expression):
        raise Refused("This pattern looks around or refers back. Write it without that.")
    try:
        whole = regex.compile(expression)
    except regex.error as error:
        raise Refused(f"This pattern cannot be read: {error}.") from error
    if not ("value" in whole.groupindex or {"lb", "oz"} <= set(whole.groupindex)):
        raise Refused("This pattern names no value. Put the number into a group (?P<value>...).")
    if any(_is_slow(whole, probe) for probe in _PROBES):
        raise Refused("This pattern takes too long on some lines. Make its repeats simpler.")


def _is_slow(whole: object, text: str) -> bool:
    begun = time.thread_time()
    try:
        whole.fullmatch(text, timeout=PROBE_LIMIT_S)  # type: ignore[attr-defined]
    except TimeoutError:
        return True
    return time.thread_time() - begun > PROBE_LIMIT_S
