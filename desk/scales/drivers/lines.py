"""One configurable pattern for scales that send lines, and the reader that applies it.

A line matches whole or is refused; nothing is searched for inside it. We match with the `regex` package and a time
limit, because a bad pattern under `re` would freeze the whole program.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Protocol

from desk.domain.weight import OUNCES_IN_POUND
from desk.scales.drivers.framing import Ends, Framer
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.units import LINE_UNITS

MATCH_LIMIT_S = 0.02
TIME_OUTS_ALLOWED = 3
SAME_LENGTH_RUN = 3
WITHOUT_NUMBER = frozenset({State.OVER, State.UNDER, State.ERROR, State.ZERO_ERROR})
NET_MARKS = frozenset({"N", "NT", "NET", "TR", "T"})
NUMBER = r"(?P<value>[+-]?\ *\d{1,7}(?:[.,]\d{1,5})?)"
UNIT = r"(?P<unit>(?i:kg|gm?|lbs?|ozs?|ozt))"
# Carets, underscores or hyphens in place of a number mean over, under and zero error.
SIGNS = rf"(?:[A-Z]{{2}}\ *,)*\ *(?P<signs>\^{{3,}}|_{{3,}}|-{{3,}})\ *,?\ *{UNIT}?\ *(?:S?[0-?p-\x7f]{{2,3}})?"
SIGN_STATES = {"^": State.OVER, "_": State.UNDER, "-": State.ZERO_ERROR}


class Match(Protocol):
    """The part of a match that we use."""

    def groupdict(self) -> dict[str, str | None]:
        """Return the named groups."""
        ...


@dataclass(frozen=True, slots=True)
class Bit:
    """A bit of a status byte, and the state it means when set, or when clear."""

    place: int
    bit: int
    state: State
    when: bool = True

    def is_in(self, status: str) -> bool | None:
        """Return whether the bit is set in a status text; None when the text is too short."""
        return bool(ord(status[self.place]) >> self.bit & 1) if self.place < len(status) else None


@dataclass(frozen=True, slots=True)
class LinePattern:
    """How a scale sends data. `request` is empty for a stream; `asks_every_s` is the poll interval in seconds.

    `expressions` are tried in order and must match the whole line, with groups value, unit, status, or lb and oz;
    `mark` is a gross or net mark. `special` reads formats no expression can. `flag_is_sure` is False where devices
    differ in what their status bits mean: then only equal readings count, until a person has checked it.
    """

    name: str
    expressions: tuple[str, ...]
    ends: Ends = Ends.LINE
    request: bytes = b""
    asks_every_s: float = 0.2
    states: Mapping[str, State] = field(default_factory=dict)
    bits: tuple[Bit, ...] = ()
    state_without_number: State = State.MOVING
    missing_unit_means_moving: bool = False
    unit_when_missing: str | None = None
    decimal_sign: str = "."
    flag_is_sure: bool = True
    special: Callable[[bytes], Reading] | None = None


def _compiled(expression: str) -> Callable[[str], Match | None]:
    import regex

    whole = regex.compile(expression)
    return lambda text: whole.fullmatch(text, timeout=MATCH_LIMIT_S)


@dataclass(slots=True)
class LineReader:
    """Turns frames into readings. `steady` keeps a stream to one line length; a new one is accepted at its third in a
    row.

    `switched_off` becomes True after three matches timed out: then the pattern is bad and every frame is refused.
    """

    pattern: LinePattern
    steady: bool = False
    time_outs: int = 0
    _length: int = 0
    _other: tuple[int, int] = (0, 0)

    @property
    def switched_off(self) -> bool:
        """Return True once the pattern has timed out too often."""
        return self.time_outs >= TIME_OUTS_ALLOWED

    def read(self, frame: bytes) -> Reading:
        """Return the reading of one frame, with the state `refused` when it does not match. Never raises."""
        if self.switched_off:
            return refused(frame)
        try:
            reading = _read(self.pattern, frame)
        except TimeoutError:
            self.time_outs += 1
            return refused(frame)
        if self.steady and reading.state is not State.REFUSED and not self._of_usual_length(len(frame)):
            return refused(frame)
        return reading

    def _of_usual_length(self, length: int) -> bool:
        if length == self._length or not self._length:
            self._length, self._other = length, (0, 0)
            return True
        run = self._other[1] + 1 if self._other[0] == length else 1
        self._other = (length, run)
        if run < SAME_LENGTH_RUN:
            return False
        self._length = length
        return True


def refused(frame: bytes) -> Reading:
    """Return the reading of a frame we cannot read."""
    return Reading(None, None, State.REFUSED, raw=frame)


def read_frames(pattern: LinePattern, data: bytes, *, seven_bits: bool = False) -> tuple[Reading, ...]:
    """Return all readings in bytes that arrived together."""
    reader = LineReader(pattern)
    return tuple(reader.read(frame) for frame in Framer(pattern.ends, seven_bits=seven_bits).feed(0.0, data))


def _read(pattern: LinePattern, frame: bytes) -> Reading:
    if pattern.special:
        return pattern.special(frame)
    groups = groups_of(pattern, frame)
    return refused(frame) if groups is None else _reading(pattern, groups, frame)


def groups_of(pattern: LinePattern, frame: bytes) -> dict[str, str] | None:
    """Return the named parts of a frame; None when it does not match whole. Raises TimeoutError for a slow pattern."""
    text = frame.decode("latin-1")
    if pattern.ends is Ends.ETX:
        text = text.replace("\r", " ").replace("\n", " ").strip()
    for expression in (*pattern.expressions, SIGNS):
        match = _compiled(expression)(text)
        if match:
            return {name: part for name, part in match.groupdict().items() if part is not None}
    return None


def _reading(pattern: LinePattern, groups: dict[str, str], frame: bytes) -> Reading:
    if "signs" in groups:
        return Reading(None, None, SIGN_STATES[groups["signs"][0]], raw=frame)
    state = _state(pattern, groups)
    unit = LINE_UNITS.get(groups.get("unit", "").lower()) or pattern.unit_when_missing
    if state in WITHOUT_NUMBER:
        return Reading(None, unit, state, raw=frame)
    if "value" not in groups and "oz" not in groups:
        return Reading(None, None, state, raw=frame)
    value = _value(groups, pattern.decimal_sign)
    if value is None:
        return Reading(None, None, State.ERROR, raw=frame)
    net = groups.get("mark", "").upper() in NET_MARKS
    return shown_reading(value, "oz" if "oz" in groups else unit, state, frame, net)


def _value(groups: dict[str, str], decimal_sign: str) -> Decimal | None:
    """Return the number; None for the other decimal sign, a power of ten, or 16 ounces or more after pounds."""
    if "oz" in groups:
        ounces = Decimal(groups["oz"])
        total = int(groups["lb"]) * OUNCES_IN_POUND + ounces
        return None if ounces >= OUNCES_IN_POUND else -total if "neg" in groups else total
    text = groups["value"].replace(" ", "")
    if "power" in groups or (set(text) & {".", ","}) - {decimal_sign}:
        return None
    return Decimal(text.replace(",", "."))


def _state(pattern: LinePattern, groups: dict[str, str]) -> State:
    has_number = "value" in groups or "oz" in groups
    state = State.STABLE if has_number else pattern.state_without_number
    status = groups.get("status", "")
    if pattern.bits:
        states = (bit.state for bit in pattern.bits if bit.is_in(status) is bit.when)
        state = next(states, state)
    else:
        state = pattern.states.get(status, state)
    unitless = pattern.missing_unit_means_moving and "unit" not in groups
    if state is State.STABLE and (groups.get("motion", " ") != " " or unitless):
        return State.MOVING
    return state
