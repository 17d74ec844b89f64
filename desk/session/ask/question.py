"""A question in JSON. A field that cannot be read is refused with a sentence, never guessed."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from difflib import get_close_matches
from typing import Any  # as json gives values

from desk.domain.faults import Refused
from desk.domain.length import Length, LengthUnit, Size
from desk.domain.money import Money
from desk.domain.weight import Shown, Weight, WeightUnit, last_place
from desk.intake.columns.units import SIDES

Answer = dict[str, object]
YES = {True: True, False: False, "yes": True, "no": False}
FARTHEST = 12  # digits before or after the point: no weight, size or amount needs more
MOST_WHOLE = 1000
WEIGHT_FIELDS = ("value", "unit", "division")
SIZE_FIELDS = ("length", "width", "thickness", "unit")
_NUMBER = re.compile(r"-?(?:[0-9]{1,30}(?:\.[0-9]{0,30})?|\.[0-9]{1,30})(?:[eE][+-]?[0-9]{1,2})?")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
MOST_WEIGHT = Weight.of(10_000, WeightUnit.POUND)  # no desk scale reads more, and nothing longer can be mailed
MOST_SIDE = Length.of(1_000, LengthUnit.INCH)
MOST_MONEY = Decimal(10) ** 9


def expect_fields(fields: Mapping[str, object], known: Collection[str], where: str = "") -> None:
    """Refuse unknown fields: ignoring a misspelled one would silently change the answer."""
    for name in fields:
        if name not in known:
            close = get_close_matches(str(name)[:40], known, 1)
            hint = f"did you mean {close[0]}?" if close else f"expected one of {', '.join(sorted(known))}"
            raise Refused(f"{where}{str(name)[:40]}: unknown field; {hint}")


@dataclass(frozen=True, slots=True)
class Question:
    """The fields of one question. Every reader raises Refused, with a sentence, for a field it cannot read."""

    fields: Mapping[str, object]

    def has(self, name: str) -> bool:
        """Return True when the field is present and not null."""
        return self.fields.get(name) is not None

    def text(self, name: str, default: str | None = None) -> str:
        """Return a field as text; a number is returned as it was written."""
        value = self.fields.get(name, default)
        if isinstance(value, bool) or not isinstance(value, str | int):
            raise Refused(f"{name}: expected a text")
        return str(value)

    def flag(self, name: str, *, default: bool = False) -> bool:
        """Return a yes/no field, given as a JSON boolean or as a word."""
        value = self.fields.get(name, default)
        if not isinstance(value, bool | str) or value not in YES:
            raise Refused(f"{name}: expected yes or no")
        return YES[value]

    def number(self, name: str) -> Decimal:
        """Return a number, given as text or as a JSON number."""
        return _number(name, self.fields.get(name))

    def whole(self, name: str, default: int) -> int:
        """Return a whole number above zero; the default when the field is missing."""
        value = self.number(name) if self.has(name) else Decimal(default)
        if value != value.to_integral_value() or not 0 < value <= MOST_WHOLE:
            raise Refused(f"{name}: expected a whole number from 1 to {MOST_WHOLE}")
        return int(value)

    def day(self, name: str, default: date) -> date:
        """Return a date written YYYY-MM-DD; today when the field is missing."""
        if not self.has(name):
            return default
        typed = self.text(name)
        try:
            if _DAY.fullmatch(typed):
                return date.fromisoformat(typed)
        except ValueError:
            pass  # not a date
        raise Refused(f"{name}: expected a date as YYYY-MM-DD")

    def money(self, name: str, currency: str = "USD", most: Decimal = MOST_MONEY) -> Money:
        """Return an amount from zero up to `most`."""
        amount = self.number(name)
        if not 0 <= amount <= most:
            raise Refused(f"{name}: expected an amount from 0.00 up to {most:f}")
        try:
            return Money.of(amount, currency)
        except ValueError:
            raise Refused(f"{name}: expected an amount of {currency}") from None

    def weight(self, name: str = "weight") -> Shown:
        """Read `{"value": "1.2", "unit": "oz", "division": "0.1"}`; the division defaults to the last decimal given."""
        parts = self._mapping(name, WEIGHT_FIELDS)
        value = _number(f"{name}.value", parts.get("value"))
        try:
            unit = WeightUnit(parts.get("unit", ""))
        except ValueError:
            raise Refused(f"{name}.unit: expected one of {', '.join(WeightUnit)}") from None
        step = parts.get("division")
        division = last_place(value) if step is None else _number(f"{name}.division", step)
        if value < 0 or division <= 0:
            raise Refused(f"{name}: expected a weight that is not negative, and a division above 0")
        reading = Shown(value, unit, division)
        if reading.weight > MOST_WEIGHT or reading.step > MOST_WEIGHT:
            raise Refused(f"{name}: expected at most 10000 lb")
        return reading

    def size(self, name: str = "size") -> Size:
        """Read `{"length": "9.5", "width": "4.125", "thickness": "0.05", "unit": "in"}`."""
        parts = self._mapping(name, SIZE_FIELDS)
        length, width, thickness = (_number(f"{name}.{side}", parts.get(side)) for side in SIDES)
        unit = parts.get("unit", "in")
        if unit not in tuple(LengthUnit):
            raise Refused(f"{name}.unit: expected one of {', '.join(LengthUnit)}")
        if min(length, width, thickness) <= 0:
            raise Refused(f"{name}: expected sides above 0")
        size = Size(Length.of(length, unit), Length.of(width, unit), Length.of(thickness, unit))
        if size.sides()[0] > MOST_SIDE:
            raise Refused(f"{name}: expected sides up to 1000 in")
        return size

    def rows(self, name: str, width: int) -> Iterator[list[object]]:
        """Yield the rows of a list of lists with that many entries each."""
        value = self.fields.get(name)
        if not isinstance(value, list) or not all(isinstance(row, list) and len(row) == width for row in value):
            raise Refused(f"{name}: expected a list of lists of {width}")
        yield from value

    def _mapping(self, name: str, known: Collection[str]) -> Mapping[str, Any]:  # as json gives it
        value = self.fields.get(name)
        if not isinstance(value, Mapping):
            raise Refused(f"{name}: expected an object")
        expect_fields(value, known, f"{name}.")
        return value


def _number(name: str, value: object) -> Decimal:
    text = str(value) if isinstance(value, str | int | float) and not isinstance(value, bool) else ""
    if not _NUMBER.fullmatch(text):  # Decimal itself would read 1_0 as 10
        raise Refused(f"{name}: expected a number")
    number = Decimal(text)
    if abs(number.adjusted()) > FARTHEST:
        raise Refused(f"{name}: expected a number")
    return number
