"""Words for Setup > Scale: kinds of scale, formats, ports, and how to get access to a scale."""

from __future__ import annotations

from desk.scales.drivers.presets import PRESETS
from desk.scales.find import RULE, RULE_COMMANDS, RULE_FILE, serial_names
from desk.session.scale.choice import OWN, SPEEDS, ScaleKind

KIND_WORDS = (
    (ScaleKind.NONE, "no scale, weights are typed"),
    (ScaleKind.VIRTUAL, "virtual, on a serial port: invented weights, to try things out"),
    (ScaleKind.VIRTUAL_USB, "virtual, on USB: invented weights, to try things out"),
    (ScaleKind.USB, "on USB"),
    (ScaleKind.SERIAL, "on a serial port"),
)
PRESET_WORDS = {
    "status-prefixed": "sends on its own: ST, US or OL before the weight",
    "poll-etx": "answers W: weight, then status bytes",
    "poll-etx-lb-oz": "answers W: pounds and ounces, then status bytes",
    "stable-letter": "answers SI: S S or S D before the weight",
    "value-unit-mark": "sends on its own or at its print key: weight, unit, ? when moving",
    "fixed-fields": "answers LF W: fields of fixed width (SMA SCP-0499)",
    "framed-words": "sends on its own: STX, status words, six digits",
    OWN: "your own pattern",
}
BITS_WORDS = {
    "8N1": "8 bits, no parity",
    "7E1": "7 bits, even parity",
    "7O1": "7 bits, odd parity",
    "8E1": "8 bits, even parity",
    "8O1": "8 bits, odd parity",
    "7N2": "7 bits, no parity, 2 stop bits",
    "8N2": "8 bits, no parity, 2 stop bits",
}
PORT_RIGHTS = (
    "Serial ports belong to a group, usually dialout. To use one, run this and log in again: "
    "sudo usermod -a -G dialout $USER"
)


def presets() -> tuple[tuple[str, str], ...]:
    """Return the formats, each with its words."""
    return tuple((name, PRESET_WORDS[name]) for name in (*PRESETS, OWN))


def preset_words(name: str) -> str:
    """Return the words for a format."""
    return PRESET_WORDS[name]


def speeds() -> tuple[tuple[str, str], ...]:
    """Return the speeds of a serial line, as text."""
    return tuple((str(speed), str(speed)) for speed in SPEEDS)


def ports(chosen: str = "") -> tuple[tuple[str, str], ...]:
    """Return the serial ports present, and the chosen one even when unplugged."""
    names = serial_names()
    missing = ((chosen, f"{chosen} (not connected)"),) if chosen and chosen not in names else ()
    return (*((name, name) for name in names), *missing)


def rule_to_copy() -> str:
    """Return the terminal commands that give you access to a USB scale, by its usage page."""
    return f"sudo tee {RULE_FILE} > /dev/null <<'EOF'\n{RULE}EOF\nsudo sh -c '{RULE_COMMANDS}'\n"
