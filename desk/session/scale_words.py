"""What the scale is doing, in a word with its mark, and what a person can do about trouble, in a sentence."""

from __future__ import annotations

from collections.abc import Mapping

from desk.scales.pan import Pan
from desk.scales.port import Link, LinkState, Trouble

NO_SCALE = "No scale: press T to type a weight."

WORDS: Mapping[Pan, tuple[str, str, str]] = {  # word, mark, what to do
    Pan.NO_SIGNAL: ("no signal", "look", "The scale is silent. Press its on key, or T to type a weight."),
    Pan.EMPTY: ("empty", "note", ""),
    Pan.OFF_ZERO: ("not at zero", "look", "The empty pan does not show zero. Press the zero key on the scale."),
    Pan.LOAD_CHANGING: ("moving", "note", ""),
    Pan.LOAD_SETTLING: ("settling", "note", ""),
    Pan.CAPTURED: ("settled", "fine", ""),
    Pan.SWAPPED_UNSEEN: ("another weight", "look", ""),
    Pan.BELOW_ZERO: (
        "below zero",
        "look",
        "The scale was zeroed with something on it. Empty the pan and press the zero key on the scale.",
    ),
    Pan.OVER_LIMIT: ("too heavy", "stop", "More than this scale can carry. Take it off; T types a weight."),
    Pan.NEEDS_ZERO: ("asks for zero", "look", "Empty the pan and press the zero key on the scale."),
    Pan.SCALE_FAULT: ("fault", "stop", "The scale tells of a fault. Switch it off and on; T types a weight."),
}

TROUBLES: Mapping[Trouble, str] = {
    Trouble.ABSENT: "The scale is not there. Plug it in, or press T to type a weight.",
    Trouble.NO_RIGHTS: "The system does not let this program read the scale. Setup says how to allow it.",
    Trouble.BUSY: "Another program holds the scale. Close it; until then press T to type a weight.",
    Trouble.UNPLUGGED: "The scale went away. Plug it in again; until then press T to type a weight.",
    Trouble.NOTHING_ARRIVES: "Nothing comes from the scale. Press its on key and look at the cable.",
    Trouble.RUBBISH_ARRIVES: "What comes from the scale makes no sense. Choose another speed or way of talking in Setup.",
    Trouble.PATTERN_OFF: "The pattern for the scale's lines takes too long and was switched off. Choose another in Setup.",
    Trouble.NOT_SUPPORTED: "This installation cannot read such a scale. Press T to type a weight.",
}


def trouble_words(link: LinkState | None) -> str:
    """The sentence for a connection that is missing or in trouble; empty when it is well."""
    if link is None or link.link is Link.CLOSED:
        return NO_SCALE
    return TROUBLES.get(link.trouble, "")
