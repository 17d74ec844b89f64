"""Preview a price list from CSV, XLSX or ODS, with one price per row or one key per column.

One price per row: the columns `service`, `weight_max`, `key`, `price`, as in a list's own files. One key per column:
`weight_max` and a column for each zone or group (`1`, `zone 2`, `3-5`). The service may be left out when it is chosen
in the window. Shapes, limits and fees of a service come from the list in use.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from desk.domain.faults import FileFault, Unreadable
from desk.intake.columns.sheet import Sheet, read_sheet
from desk.rates.lists.cells_file import Cells, cells_of_rows
from desk.rates.lists.chart import Charts, ServiceChart
from desk.rates.lists.chart_file import HEAD, read_chart
from desk.session.setup.price_lists import ChartPreview, compared
from desk.session.setup.price_workbook import Line, PriceTable, is_price_workbook, price_tables

_WEIGHT = ("weight_max", "weight max", "weight", "up to", "not over")
_SERVICE, _KEY, _PRICE = ("service",), ("key", "zone", "group"), ("price",)
_KEY_WORD = re.compile(r"(?:zone|group)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class ListHead:
    """What a sheet of prices does not contain. `service` is used where the sheet has no such column.

    `services` names the service of each table of a workbook; empty: the table is not imported.
    """

    effective: date
    until: date | None = None
    source: str = ""
    known_by: str = "imported by you"
    service: str = ""
    services: Mapping[str, str] = field(default_factory=dict)


def preview_chart(path: Path, head: ListHead, charts: Charts) -> ChartPreview:
    """Return a preview of a sheet of prices, or of the folder of a `chart.toml`, against the lists in use.

    Faults are returned with their lines, never raised. A folder contains everything `head` says about a sheet.
    """
    if is_folder_head(path):
        return _preview_folder(path.parent, charts)
    faults: list[FileFault] = []
    try:
        tables = workbook_tables(path)
        lines = _of_tables(tables, head, faults) if tables else _lines(path.name, read_sheet(path), head, faults)
    except Unreadable as unreadable:
        return ChartPreview(path.name, (), (), tuple(replace(fault, file=path.name) for fault in unreadable.faults))
    lists = _lists(path.name, lines, head, charts, faults)
    if not faults and lists:
        return compared(path.name, lists, charts)
    faults = faults or [FileFault(path.name, 0, "", "", "at least one price")]
    return ChartPreview(path.name, (), (), tuple(sorted(faults, key=lambda fault: fault.line)))


def workbook_tables(path: Path) -> tuple[PriceTable, ...]:
    """Return the tables of a workbook in the post's own form; none for text, or a sheet in our form.

    Raises:
        Unreadable: with every fault of the file.
    """
    if not is_price_workbook(path):
        return ()
    names = {name.strip().casefold() for name in _header(path)}
    own_form = names & {"service", "weight_max", "weight max"}
    return () if own_form else price_tables(path)


def _header(path: Path) -> Sequence[str]:
    """Return the header of a sheet with columns; empty for one that has none, such as a table of contents."""
    try:
        return read_sheet(path).header
    except Unreadable:
        return ()


def _of_tables(tables: Sequence[PriceTable], head: ListHead, faults: list[FileFault]) -> list[Line]:
    """Return the lines of the tables to import: those named in `head`, else those with a certain service."""
    lines: list[Line] = []
    for table in tables:
        only = head.service if len(tables) == 1 else ""
        service = head.services.get(table.name, only or table.guess)
        if service:
            faults.extend(table.faults)
            lines += table.lines_of(service)
    return lines


def _lists(
    file: str, lines: Sequence[Line], head: ListHead, charts: Charts, faults: list[FileFault]
) -> list[ServiceChart]:
    forms = _forms(file, lines, head, charts, faults)
    wrong = _wrong_keys(file, lines, forms, faults)
    known = [line for line in lines if line[1][0] in forms.keys() - wrong]
    cells = _read(file, known, forms, faults)
    return [_listed(forms[service], cells[service], head, file, faults) for service in cells]


def is_folder_head(path: Path) -> bool:
    """Return True for the head file of a whole list folder, which may add services, units and currencies."""
    return path.name == HEAD


def _preview_folder(folder: Path, charts: Charts) -> ChartPreview:
    faults: list[FileFault] = []
    read = read_chart(folder, faults, charts.known)
    if not faults and read.services:
        return compared(folder.name, read.services, charts)
    return ChartPreview(folder.name, (), (), tuple(faults) or (FileFault(HEAD, 0, "", "", "at least one service"),))


def _lines(file: str, sheet: Sheet, head: ListHead, faults: list[FileFault]) -> list[Line]:
    """Return every price as the four cells of a list, with its line number."""
    names = [name.strip().casefold() for name in sheet.header]
    weight, price = _place(names, _WEIGHT), _place(names, _PRICE)
    service = _place(names, _SERVICE)
    if weight is None:
        faults.append(FileFault(file, sheet.header_line, "", ",".join(sheet.header), "a column weight_max"))
    if service is None and not head.service:
        faults.append(FileFault(file, sheet.header_line, "", ",".join(sheet.header), "a column service"))
    if faults or weight is None:
        return []
    key = _place(names, _KEY)
    keyed = {price: ""} if price is not None else _key_columns(sheet.header, {weight, service})
    lines: list[Line] = []
    for row in sheet.rows:
        cells = (*row.cells, *[""] * (len(names) - len(row.cells)))
        named = cells[service] if service is not None else head.service
        for place, of_column in keyed.items():
            own_key = cells[key] if price is not None and key is not None else of_column
            lines.append((row.line, (named or head.service, cells[weight], own_key, cells[place])))
    return lines


def _place(names: Sequence[str], wanted: Sequence[str]) -> int | None:
    return next((place for place, name in enumerate(names) if name in wanted), None)


def _key_columns(header: Sequence[str], others: set[int | None]) -> dict[int, str]:
    columns = ((place, name) for place, name in enumerate(header) if place not in others and name.strip())
    return {place: _KEY_WORD.sub("", name.strip()) for place, name in columns}


def _forms(
    file: str, lines: Sequence[Line], head: ListHead, charts: Charts, faults: list[FileFault]
) -> Mapping[str, ServiceChart]:
    """Return the list in use for each service named, and one fault for a service without a list."""
    forms: dict[str, ServiceChart] = {}
    unknown: set[str] = set()
    for number, (service, *_) in lines:
        form = forms.get(service) or charts.in_force(service, head.effective)
        if form is not None:
            forms[service] = form
        elif service not in unknown:
            unknown.add(service)
            faults.append(FileFault(file, number, "service", service, "a service that a list in force describes"))
    return forms


def _wrong_keys(
    file: str, lines: Sequence[Line], forms: Mapping[str, ServiceChart], faults: list[FileFault]
) -> set[str]:
    """Return the services with an unexpected or missing key, and a fault for each such line."""
    wrong = set()
    for number, (service, _, key, _) in lines:
        form = forms.get(service)
        if form is not None and bool(key) != bool(form.keyed_by):
            wrong.add(service)
            expected = f"a {form.keyed_by}" if form.keyed_by else "no key"
            faults.append(FileFault(file, number, "key", key, f"{expected} for {service}"))
    return wrong


def _read(
    file: str, lines: Sequence[Line], forms: Mapping[str, ServiceChart], faults: list[FileFault]
) -> Mapping[str, Cells]:
    kinds = {(form.bills_in, form.currency) for form in forms.values()}
    if len(kinds) > 1:
        faults.append(FileFault(file, 0, "", "", "services of one currency and one unit of weight"))
        return {}
    return {} if not kinds else cells_of_rows(file, lines, *kinds.pop(), faults)


def _listed(form: ServiceChart, cells: Cells, head: ListHead, file: str, faults: list[FileFault]) -> ServiceChart:
    faults += cells.holes(may_end_early=form.keyed_by == "group")
    lost = sorted(set(form.groups.values()) - set(cells.rows)) if form.keyed_by == "group" else []
    faults += [FileFault(file, 0, "key", "", f"prices of {form.service} for group {group}") for group in lost]
    return replace(
        form,
        chart=file,
        effective=head.effective,
        until=head.until,
        source=head.source or file,
        known_by=head.known_by,
        season=False,
        rows={key: tuple(rows) for key, rows in cells.rows.items()},
        tiers={key: tuple(tiers) for key, tiers in cells.tiers.items()},
        oversized=cells.oversized,
    )
