"""Find status, unit, exponent and count in a USB scale's reports, from its report descriptor.

Usage numbers: HID Usage Tables 1.7, Scales page 0x8D. Items and arrays: Device Class Definition for HID 1.11, section
6.2.2 (from memory): a selector field is an array, and its byte counts from the field's logical minimum.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

SCALES_PAGE = 0x8D
DATA_WEIGHT, DATA_SCALING = 0x40, 0x41
UNITS, STATUSES = 0x50, 0x70  # followed by the selectors 0x51.. and 0x71..
MOST_FIELDS = 4096  # a descriptor that claims more is invalid

_PAGE, _LOW, _SIZE, _NUMBER, _COUNT = 0x04, 0x14, 0x74, 0x84, 0x94
_PUSH, _POP = 0xA4, 0xB4
_USAGE, _FIRST_USAGE = 0x08, 0x18
_INPUT, _COLLECTION, _END = 0x80, 0xA0, 0xC0
_CONSTANT, _VARIABLE = 0x01, 0x02  # flags of an input item; not variable: an array
_LONG_ITEM = 0xFE
_GLOBALS: Mapping[int, str] = {_PAGE: "page", _LOW: "low", _SIZE: "size", _NUMBER: "number", _COUNT: "count"}


@dataclass(frozen=True, slots=True)
class ReportField:
    """A field of a report: first bit (after the report number), bits, and an array's first value."""

    start: int
    bits: int
    low: int = 0

    def read(self, body: bytes) -> int | None:
        """Return the unsigned number in a report body; None when the body is too short."""
        if len(body) * 8 < self.start + self.bits:
            return None
        return int.from_bytes(body, "little") >> self.start & (1 << self.bits) - 1


@dataclass(frozen=True, slots=True)
class ReportLayout:
    """Where the parts of a data report are. `number` is None when the device sends no report numbers."""

    number: int | None
    weight: ReportField
    scaling: ReportField | None
    status: ReportField | None
    unit: ReportField | None


def common_layout(number: int | None = 3) -> ReportLayout:
    """Return the usual layout: status, unit, signed power of ten, 16-bit count with the low byte first."""
    return ReportLayout(number, ReportField(24, 16), ReportField(16, 8), ReportField(0, 8, 1), ReportField(8, 8, 1))


@dataclass(frozen=True, slots=True)
class _Globals:
    page: int = 0
    low: int = 0
    size: int = 0
    count: int = 0
    number: int | None = None


@dataclass(slots=True)
class _Walk:
    now: _Globals = _Globals()
    pushed: list[_Globals] = field(default_factory=list)
    inside: list[int] = field(default_factory=list)  # usages of the open collections
    usages: list[int] = field(default_factory=list)
    ends: dict[int | None, int] = field(default_factory=dict)  # report number -> first free bit
    found: dict[int | None, dict[int, ReportField]] = field(default_factory=dict)

    def take(self, tag: int, number: int, signed: int) -> None:
        """Apply one item: a global changes what follows, a local names the next field, a main item creates one."""
        if tag in _GLOBALS:
            self.now = replace(self.now, **{_GLOBALS[tag]: signed if tag == _LOW else number})
        elif tag in (_USAGE, _FIRST_USAGE):
            self.usages.append(self._full(number))
        elif tag == _PUSH:
            self.pushed.append(self.now)
        elif tag == _POP and self.pushed:
            self.now = self.pushed.pop()
        elif tag & 0x0C == 0:
            self._main(tag, number)

    def _main(self, tag: int, flags: int) -> None:
        if tag == _COLLECTION:
            self.inside.append(self.usages[-1] if self.usages else 0)
        elif tag == _END and self.inside:
            self.inside.pop()
        elif tag == _INPUT:
            self._field(constant=bool(flags & _CONSTANT), low=0 if flags & _VARIABLE else self.now.low)
        self.usages = []

    def _full(self, usage: int) -> int:
        return usage if usage > 0xFFFF else self.now.page << 16 | usage

    def _field(self, *, constant: bool, low: int) -> None:
        start = self.ends.get(self.now.number, 0)
        self.ends[self.now.number] = start + self.now.size * min(self.now.count, MOST_FIELDS)
        if constant or not 0 < self.now.size <= 32:
            return
        for place, usage in enumerate(self._named()[: self.now.count]):
            place_of = ReportField(start + place * self.now.size, self.now.size, low)
            self.found.setdefault(self.now.number, {}).setdefault(usage, place_of)

    def _named(self) -> list[int]:
        """Return the usages of the Scales page in this field: its own, or the selector it is in."""
        own = [usage & 0xFFFF if usage >> 16 == SCALES_PAGE else 0 for usage in self.usages]
        for selector in (UNITS, STATUSES):
            if any(selector < usage <= selector + 0x0C for usage in own) or self._inside(selector):
                return [selector]
        return own

    def _inside(self, selector: int) -> bool:
        return bool(self.inside) and self.inside[-1] == SCALES_PAGE << 16 | selector


def items(descriptor: bytes) -> Iterator[tuple[int, int, int]]:
    """Yield tag, unsigned and signed number of each short item; a truncated item ends it."""
    place = 0
    while place < len(descriptor):
        head = descriptor[place]
        if head == _LONG_ITEM:
            place += 3 + (descriptor[place + 1] if place + 1 < len(descriptor) else 0)
            continue
        size = (0, 1, 2, 4)[head & 3]
        body = descriptor[place + 1 : place + 1 + size]
        if len(body) < size:
            return
        yield head & 0xFC, int.from_bytes(body, "little"), int.from_bytes(body, "little", signed=True)
        place += 1 + size


def layout_of(descriptor: bytes) -> ReportLayout | None:
    """Return the layout of the weight report; None when no input field has a weight."""
    walk = _Walk()
    for tag, number, signed in items(descriptor):
        walk.take(tag, number, signed)
    for report, fields in walk.found.items():
        if DATA_WEIGHT in fields:
            return ReportLayout(
                report, fields[DATA_WEIGHT], fields.get(DATA_SCALING), fields.get(STATUSES), fields.get(UNITS)
            )
    return None
