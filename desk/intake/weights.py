"""Read a weights file into weighings, row by row, with every fault reported at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import TypeVar

from desk.domain.length import Length, Size
from desk.domain.orders.packages import Packing, read_packing
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.shop.shop import Shop
from desk.domain.weight import OUNCES_IN_POUND, Shown, WeightUnit, last_place
from desk.intake.columns.amounts import NotRead, count, number
from desk.intake.columns.headers import WEIGHT_FIELDS, Columns, Meanings, match_headers, meaning, suggestions
from desk.intake.columns.sheet import Row, Sheet, read_sheet
from desk.intake.columns.units import SIDES, SIZE_UNITS, UNITS, settled
from desk.intake.columns.yes_no import YesNoColumn
from desk.tables.faults_found import FaultsFound

Value = TypeVar("Value")

NEEDED = ("order", "gross", "unit")
YES_NO_FIELDS = ("stiff", "uneven")
SAMPLE = 20  # rows
_A_UNIT = "a unit: oz, lb, g, kg or lb-oz"
_POUNDS_OUNCES = re.compile(r"(?:(\d+)\s*lbs?)?[\s,]*(?:([\d.,]+)\s*oz)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class WeightRow:
    """One weighing and its line; two rows for one piece are both kept, in file order."""

    line: int
    key: PieceKey
    weighing: Weighing
    packing: Packing = ()


def read_weights(path: Path, *, shop: Shop) -> tuple[WeightRow, ...]:
    """Read a weights file. Raises Unreadable with every fault: a missing unit, a bad number, half a size."""
    sheet = read_sheet(path, known=known_weight_headers)
    faults = FaultsFound(sheet.name)
    columns = match_headers(sheet.header, Meanings(WEIGHT_FIELDS), faults, sheet.header_line)
    _ask_for_needed(sheet, columns, faults)
    faults.raise_any()
    yes_no = {name: YesNoColumn.of(columns.cell(row.cells, name) for row in sheet.rows) for name in YES_NO_FIELDS}
    reader = WeightReader(shop, columns, faults, yes_no)
    rows = tuple(reader.row(row) for row in sheet.rows)
    faults.raise_any()
    return tuple(row for row in rows if row is not None)


def known_weight_headers(cells: Sequence[str]) -> int:
    """Return how many of the cells are headers of a weights file."""
    return sum(1 for cell in cells if meaning(cell, WEIGHT_FIELDS))


def _ask_for_needed(sheet: Sheet, columns: Columns, faults: FaultsFound) -> None:
    given_elsewhere = {"unit"} if _weights_have_a_unit(sheet, columns) else set()
    missing = [ours for ours in columns.missing(NEEDED) if ours not in given_elsewhere]
    offers = suggestions(columns, missing, WEIGHT_FIELDS, [row.cells for row in sheet.rows[:SAMPLE]]) if missing else ()
    hints = {offer.ours: f"; perhaps {offer.words()}" for offer in offers}
    for ours in missing:
        faults.add(sheet.header_line, ours, "", f"a column for {ours}{hints.get(ours, '')}")


def _weights_have_a_unit(sheet: Sheet, columns: Columns) -> bool:
    """Return True when the header of the weights, or one of the first weights, names their unit."""
    texts = filter(None, (columns.cell(row.cells, "gross") for row in sheet.rows[:SAMPLE]))
    return "gross" in columns.units or any(settled({"gross": text}, "", {})[1] for text in texts)


@dataclass(frozen=True, slots=True)
class WeightReader:
    """Reads the rows of one file, using the shop's mailers and scale."""

    shop: Shop
    columns: Columns
    faults: FaultsFound
    yes_no: Mapping[str, YesNoColumn]

    def row(self, row: Row) -> WeightRow | None:
        """Return the weighing of a row; None, with a fault, when something cannot be read."""
        before = len(self.faults.faults)
        order = self._cell(row, "order").removeprefix("#").strip()
        if not order:
            self.faults.add(row.line, self.columns.name("order"), "", "an order number")
        piece = self._read(row, "piece", count)
        reading = self._shown(row)
        mailer = self._cell(row, "mailer")
        size = self._size(row, mailer)
        stiff, uneven = (self._read(row, name, self.yes_no[name].read) for name in YES_NO_FIELDS)
        packing = self._read(row, "items", read_items) or ()
        if reading is None or len(self.faults.faults) > before:
            return None
        return WeightRow(row.line, PieceKey(order, piece or 1), Weighing(reading, mailer, size, stiff, uneven), packing)

    def _shown(self, row: Row) -> Shown | None:
        numbers, unit = self._unit(row)
        if unit is None:
            return None
        if not numbers["gross"]:
            self.faults.add(row.line, self.columns.name("gross"), "", f"a weight in {unit}")
            return None
        value = self._read(row, "gross", pounds_ounces if unit is WeightUnit.POUND_OUNCE else above_zero, numbers)
        step = self._settled(row, ("division",), str(unit.counted_in))
        division = self._read(row, "division", above_zero, step[0]) if step else None
        return (
            None if value is None else Shown(value, unit, division or self._usual_division(unit) or last_place(value))
        )

    def _unit(self, row: Row) -> tuple[dict[str, str], WeightUnit | None]:
        """Return the weight's number and unit; None, with a fault, without a unit."""
        typed = self._cell(row, "unit")
        if typed and typed.casefold() not in UNITS:
            self.faults.add(row.line, self.columns.name("unit"), typed, _A_UNIT)
            return {}, None
        settled = self._settled(row, ("gross",), typed)
        if settled is None:
            return {}, None
        numbers, unit = settled
        if not unit:
            self.faults.add(row.line, self.columns.name("unit"), "", _A_UNIT)
        return numbers, WeightUnit(unit) if unit else None

    def _settled(self, row: Row, fields: Sequence[str], typed: str) -> tuple[dict[str, str], str] | None:
        """Return these fields' numbers and the unit they share; None, with a fault, when two units are given."""
        cells = {ours: self._cell(row, ours) for ours in fields}
        try:
            return settled(cells, typed, self.columns.units)
        except NotRead as error:
            self.faults.add(row.line, self.columns.name(fields[0]), cells[fields[0]], str(error))
            return None

    def _usual_division(self, unit: WeightUnit) -> Decimal | None:
        """Return the resolution of the shop's scale, if it is in this reading's unit or in none."""
        policy = self.shop.policy
        same = policy.scale_unit is None or policy.scale_unit.counted_in is unit.counted_in
        return policy.scale_division if same else None

    def _size(self, row: Row, mailer: str) -> Size | None:
        """Return the size typed; a thickness alone takes length and width from a known mailer."""
        typed = [ours for ours in SIDES if self._cell(row, ours)]
        if not typed:
            return None
        if typed not in (list(SIDES), ["thickness"]):
            missing = next(ours for ours in SIDES if ours not in typed)
            expected = "length, width and thickness together, or thickness alone"
            self.faults.add(row.line, self.columns.name(missing), "", expected)
            return None
        unit_cell = self._cell(row, "size_unit")
        numbers, word = self._settled(row, typed, unit_cell) or ({}, None)
        unit = None if word is None else SIZE_UNITS.get(word)
        if unit is None:
            if word is not None:
                self.faults.add(row.line, self.columns.name("size_unit"), unit_cell, "the unit of the size: in or mm")
            return None
        values = [self._read(row, ours, above_zero, numbers) for ours in typed]
        return self._sized([Length.of(value, unit) for value in values if value is not None], typed, mailer)

    def _sized(self, read: Sequence[Length], typed: Sequence[str], mailer: str) -> Size | None:
        if len(read) == 3:
            return Size(*read)
        known = self.shop.mailer(mailer)
        if len(typed) == 1 and read and known and known.size:
            return Size(known.size.length, known.size.width, read[0])
        return None

    def _cell(self, row: Row, ours: str) -> str:
        return self.columns.cell(row.cells, ours)

    def _read(
        self, row: Row, ours: str, reader: Callable[[str], Value], numbers: Mapping[str, str] | None = None
    ) -> Value | None:
        """Return a field's value, from its cell or its number without the unit; None, with a fault, if unreadable."""
        text = self._cell(row, ours)
        number = text if numbers is None else numbers[ours]
        try:
            return reader(number) if number else None
        except NotRead as error:
            self.faults.add(row.line, self.columns.name(ours), text, str(error))
            return None


def above_zero(text: str) -> Decimal:
    """Return a number above 0. Raises NotRead otherwise."""
    value = number(text)
    if value <= 0:
        raise NotRead("a number above 0")
    return value


def pounds_ounces(text: str) -> Decimal:
    """Return the ounces of `1 lb 3.2 oz`, `1 lb` or `3.2 oz`.

    Raises:
        NotRead: another form, or 16 oz or more next to pounds.
    """
    match = _POUNDS_OUNCES.fullmatch(text.casefold().strip())
    if not match or not any(match.groups()):
        raise NotRead("a weight such as 1 lb 3.2 oz")
    ounces = number(match[2]) if match[2] else Decimal(0)
    if match[1] and ounces >= OUNCES_IN_POUND:
        raise NotRead("fewer than 16 oz after the pounds")
    total = Decimal(match[1] or 0) * OUNCES_IN_POUND + ounces
    if total <= 0:
        raise NotRead("a weight above 0")
    return total


def read_items(text: str) -> Packing:
    """Return the contents of a package from `sku x2; sku2 x1`. Raises NotRead otherwise."""
    try:
        return read_packing(text)
    except ValueError:
        raise NotRead("items such as sku x2; sku2 x1") from None
