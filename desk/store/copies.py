"""The folder of copies next to a store: made at start, every hour of work and before each upgrade, and thinned out.

We keep all of today's copies, the newest of each of the last seven days that have one, and the newest of each of the
four weeks before.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import make_private_folder
from desk.store.backup import copy, refuse_unfit

FOLDER = "copies"  # next to the store
DAYS, WEEKS = 7, 4
EVERY = timedelta(hours=1)
_NAME = re.compile(r"(?P<at>\d{4}-\d\d-\d\d \d{6})(?: (?P<why>.+))?")


@dataclass(frozen=True, slots=True, order=True)
class StoreCopy:
    """One copy: its local time, its file, and its reason if it was not the hourly one."""

    at: datetime
    file: Path
    why: str = ""


def folder_of(where: Path) -> Path:
    """Return the folder for a store's copies, which may not exist yet."""
    return where.parent / FOLDER


def copies_of(where: Path) -> list[StoreCopy]:
    """Return the copies of a store, the newest first."""
    copies = []
    for file in folder_of(where).glob(f"{where.stem} *.sqlite"):
        named = _NAME.fullmatch(file.stem.removeprefix(f"{where.stem} "))
        if named is not None:
            copies.append(StoreCopy(datetime.strptime(named["at"], "%Y-%m-%d %H%M%S"), file, named["why"] or ""))  # noqa: DTZ007 - the wall clock
    return sorted(copies, reverse=True)


def make_copy(where: Path, now: datetime, why: str = "") -> StoreCopy:
    """Copy a store into its folder of copies, and remove those no longer kept. Raises Refused when it fails."""
    make_private_folder(folder_of(where))
    at = now.astimezone().replace(tzinfo=None, microsecond=0)
    name = f"{where.stem} {at:%Y-%m-%d %H%M%S}{' ' + why if why else ''}.sqlite"
    made = StoreCopy(at, copy(where, folder_of(where) / name), why)
    thin_out(where, at.date())
    return made


def copy_when_due(where: Path, now: datetime) -> StoreCopy | None:
    """Copy an existing store unless it was copied within the hour. Raises Refused when it fails."""
    if not where.exists() or not where.stat().st_size:
        return None
    here = copies_of(where)
    if here and timedelta(0) <= now.astimezone().replace(tzinfo=None) - here[0].at < EVERY:
        return None
    return make_copy(where, now)


def thin_out(where: Path, today: date) -> None:
    """Remove the copies we do not keep; copies dated in the future stay."""
    here = copies_of(where)
    keep = kept(here, today)
    for one in here:
        if one not in keep:
            one.file.unlink(missing_ok=True)


def kept(copies: Iterable[StoreCopy], today: date) -> Collection[StoreCopy]:
    """Return the copies to keep."""
    newest_of_day: dict[date, StoreCopy] = {}
    keep = set()
    for one in sorted(copies, reverse=True):
        if one.at.date() >= today:
            keep.add(one)
        else:
            newest_of_day.setdefault(one.at.date(), one)
    days = list(newest_of_day)
    keep |= {newest_of_day[day] for day in days[:DAYS]}
    newest_of_week: dict[date, StoreCopy] = {}
    for day in days[DAYS:]:
        newest_of_week.setdefault(day - timedelta(days=day.weekday()), newest_of_day[day])
    return keep | set(list(newest_of_week.values())[:WEEKS])


def newest_good(where: Path) -> Path | None:
    """Return the newest copy that can be restored; None when there is none."""
    for one in copies_of(where):
        try:
            refuse_unfit(one.file)
        except Refused:
            continue
        return one.file
    return None
