"""A question asked in JSON: its fields read with care, so that a wrong one is a sentence and never a guess."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from desk.domain.faults import Refused
from desk.domain.length import Length, LengthUnit, Size
from desk.domain.money import Money
from desk.domain.weight import Shown, WeightUnit, last_place

Answer = dict[str, Any]
YES = {True: True, False: False, "yes": True, "no": False}
FARTHEST = 12  # places before or after the point: nothing that is weighed, measured or paid goes beyond
MOST_WHOLE = 1000


@dataclass(frozen=True, slots=True)
class Question:
    """The fields of one question. Every reader raises Refused with a sentence for what cannot be read."""

    fields: Mapping[str, Any]

    def has(self, name: str) -> bool:
        """True when the field is there and not null."""
        return self.fields.get(name) is not None

    def text(self, name: str, default: str | None = None) -> str:
        """A text; a number will do as its own spelling."""
        value = self.fields.get(name, default)
        if isinstance(value, bool) or not isinstance(value, str | int):
            raise Refused(f"{name}: expected a text")
        return str(value)

    def flag(self, name: str, *, default: bool = False) -> bool:
        """Yes or no, as JSON's true and false or as words."""
        value = self.fields.get(name, default)
        if not isinstance(value, bool | str) or value not in YES:
            raise Refused(f"{name}: expected yes or no")
        return YES[value]

    def number(self, name: str) -> Decimal:
        """A number, best written as a text."""
        return _number(name, self.fields.get(name))

    def whole(self, name: str, default: int) -> int:
        """A whole number above zero; the default when none is given."""
        value = self.number(name) if self.has(name) else Decimal(default)
        if value != value.to_integral_value() or not 0 < value <= MOST_WHOLE:
            raise Refused(f"{name}: expected a whole number from 1 to {MOST_WHOLE}")
        return int(value)

    def day(self, name: str, default: date) -> date:
        """A date as YYYY-MM-DD; today's when none is given."""
        if not self.has(name):
            return default
        try:
            return date.fromisoformat(self.text(name))
        except ValueError:
            raise Refused(f"{name}: expected a date as YYYY-MM-DD") from None

    def money(self, name: str, currency: str = "USD") -> Money:
        """An amount."""
        try:
            return Money.of(self.number(name), currency)
        except ValueError:
            raise Refused(f"{name}: expected an amount of {currency}") from None

    def weight(self, name: str = "weight") -> Shown:
        """`{"value": "1.2", "unit": "oz", "division": "0.1"}`; without a division one of the last decimal."""
        given = self._mapping(name)
        value = _number(f"{name}.value", given.get("value"))
        try:
            unit = WeightUnit(given.get("unit", ""))
        except ValueError:
            raise Refused(f"{name}.unit: expected one of {', '.join(WeightUnit)}") from None
        step = given.get("division")
        division = last_place(value) if step is None else _number(f"{name}.division", step)
        if value < 0 or division <= 0:
            raise Refused(f"{name}: expected a weight that is not negative, and a division above 0")
        return Shown(value, unit, division)

    def size(self, name: str = "size") -> Size:
        """`{"length": "9.5", "width": "4.125", "thickness": "0.05", "unit": "in"}`."""
        given = self._mapping(name)
        length, width, thickness = (
            _number(f"{name}.{side}", given.get(side)) for side in ("length", "width", "thickness")
        )
        unit = given.get("unit", "in")
        if unit not in tuple(LengthUnit):
            raise Refused(f"{name}.unit: expected one of {', '.join(LengthUnit)}")
        if min(length, width, thickness) <= 0:
            raise Refused(f"{name}: expected sides above 0")
        return Size(Length.of(length, unit), Length.of(width, unit), Length.of(thickness, unit))

    def rows(self, name: str, width: int) -> Iterator[list[Any]]:
        """A list of lists of that many entries."""
        given = self.fields.get(name)
        if not isinstance(given, list) or not all(isinstance(row, list) and len(row) == width for row in given):
            raise Refused(f"{name}: expected a list of lists of {width}")
        yield from given

    def _mapping(self, name: str) -> Mapping[str, Any]:
        given = self.fields.get(name)
        if not isinstance(given, Mapping):
            raise Refused(f"{name}: expected an object")
        return given


def _number(name: str, value: Any) -> Decimal:
    try:
        number = Decimal(str(value)) if isinstance(value, str | int | float) and not isinstance(value, bool) else None
    except InvalidOperation:
        number = None
    if number is None or not number.is_finite() or abs(number.adjusted()) > FARTHEST:
        raise Refused(f"{name}: expected a number")
    return number
