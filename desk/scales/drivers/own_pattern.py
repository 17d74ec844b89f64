"""Whether a pattern typed by a person is safe to run on every line that comes."""

from __future__ import annotations

import re
import time

from desk.domain.faults import Refused

LONGEST_PATTERN = 300
PROBE_LIMIT_S = 0.02
_PROBES = tuple((sign * 96)[:96] for sign in ("1", " ", "A", "1 ", "12.", "+1", "1A"))


def check_expression(expression: str) -> None:
    """Refused, with the reason, for an expression that is too long, does not compile, lacks a value, or is slow."""
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
