"""Copies next to a store, and the rule by which they are kept."""

from __future__ import annotations

import stat
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.store import backup, copies
from desk.store.copies import StoreCopy, copies_of, kept, make_copy, newest_good
from desk.store.store import Store
from tests.store.samples import with_pieces

Opening = Callable[..., Store]
TODAY = date(2026, 11, 28)  # a Saturday


def made(*moments: datetime) -> list[StoreCopy]:
    return [StoreCopy(at, Path(f"{at:%m-%d %H}")) for at in moments]


def hours(day: date, *of_day: int) -> list[StoreCopy]:
    return made(*(datetime.combine(day, time(hour)) for hour in of_day))


def test_all_backups_of_today_are_kept_and_the_newest_of_another_day() -> None:
    today, before = hours(TODAY, 8, 9, 10), hours(TODAY - timedelta(days=1), 8, 17, 9)
    assert set(kept(today + before, TODAY)) == {*today, before[1]}


def test_backups_are_kept_for_seven_days_and_then_four_weeks() -> None:
    days = [TODAY - timedelta(days=back) for back in range(1, 60)]
    keep = sorted((one.at.date() for one in kept([one for day in days for one in hours(day, 12)], TODAY)), reverse=True)
    assert keep[:7] == days[:7]
    # the seven days end on Saturday, November 21; these are the newest of each earlier calendar week
    assert keep[7:] == [date(2026, 11, 20), date(2026, 11, 15), date(2026, 11, 8), date(2026, 11, 1)]


def test_only_days_with_a_backup_are_counted() -> None:
    days = [TODAY - timedelta(days=10 * back) for back in range(1, 9)]
    assert len(kept([one for day in days for one in hours(day, 12)], TODAY)) == 8


def test_a_clock_set_ahead_loses_no_backup() -> None:
    ahead = hours(TODAY + timedelta(days=400), 3, 4)
    assert set(kept(ahead, TODAY)) == set(ahead)


def test_a_backup_is_private_checked_and_found_by_its_name(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "shelf" / "store.sqlite")
    with_pieces(store, 2)
    assert store.file is not None
    one = make_copy(store.file, datetime(2026, 11, 28, 9, 30, 5).astimezone(), "before upgrade")
    assert one.file.name == "store 2026-11-28 093005 before upgrade.sqlite"
    assert copies_of(store.file) == [one]
    assert (stat.S_IMODE(one.file.stat().st_mode), stat.S_IMODE(one.file.parent.stat().st_mode)) == (0o600, 0o700)
    assert [path.name for path in one.file.parent.iterdir()] == [one.file.name]


def test_older_backups_are_removed_when_a_new_one_is_made(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "store.sqlite")
    assert store.file is not None
    for hour in (8, 9):
        make_copy(store.file, datetime(2026, 11, 27, hour).astimezone())
    make_copy(store.file, datetime(2026, 11, 28, 8).astimezone())
    assert [f"{one.at:%d %H}" for one in copies_of(store.file)] == ["28 08", "27 09"]


def test_files_of_others_in_the_folder_are_left_alone(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "store.sqlite")
    assert store.file is not None
    folder = copies.folder_of(store.file)
    folder.mkdir()
    (folder / "store mine.sqlite").write_text("mine")
    make_copy(store.file, datetime(2026, 11, 28, 8).astimezone())
    assert (folder / "store mine.sqlite").read_text() == "mine"


def test_the_newest_good_backup_is_not_a_damaged_one(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "store.sqlite")
    with_pieces(store, 60)
    assert store.file is not None
    good, bad = (make_copy(store.file, datetime(2026, 11, 28, hour).astimezone()) for hour in (8, 9))
    content = bytearray(bad.file.read_bytes())
    content[8192:20480] = b"\xff" * 12288
    bad.file.write_bytes(content)
    assert newest_good(store.file) == good.file


def test_own_price_lists_are_in_the_backup(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "here" / "store.sqlite")
    lists = tmp_path / "here" / "price lists" / "own-2026-07-12-1"
    lists.mkdir(parents=True)
    (lists / "cells.csv").write_text("a,b\n")
    assert store.file is not None
    copied = backup.copy(store.file, tmp_path / "move.sqlite")
    backup.restore(copied, tmp_path / "there" / "store.sqlite")
    assert (tmp_path / "there" / "price lists" / "own-2026-07-12-1" / "cells.csv").read_text() == "a,b\n"
    opening(tmp_path / "there" / "store.sqlite")


@pytest.mark.parametrize(("size", "is_carried"), [(1_000_000, True), (1_000_001, False)])
def test_a_file_too_large_for_a_price_list_is_left_out_of_the_backup(
    tmp_path: Path, opening: Opening, size: int, is_carried: bool
) -> None:
    store = opening(tmp_path / "here" / "store.sqlite")
    lists = tmp_path / "here" / "price lists" / "own"
    lists.mkdir(parents=True)
    (lists / "cells.csv").write_bytes(b"1" * size)
    assert store.file is not None
    backup.restore(backup.copy(store.file, tmp_path / "move.sqlite"), tmp_path / "there" / "store.sqlite")
    assert (tmp_path / "there" / "price lists" / "own" / "cells.csv").exists() is is_carried


def test_a_backup_that_names_files_elsewhere_writes_nothing_there(tmp_path: Path, opening: Opening) -> None:
    import sqlite3

    copied = backup.copy(opening(tmp_path / "store.sqlite").file, tmp_path / "move.sqlite")
    with sqlite3.connect(copied) as conn:
        conn.execute("CREATE TABLE attached_files (name TEXT PRIMARY KEY, content BLOB NOT NULL)")
        names = (
            "../../evil.txt",
            "/evil.txt",
            "../evil.txt",
            "a/../evil.txt",
            "a/b/evil.txt",
            "evil.txt",
            "own/fine.csv",
        )
        conn.executemany("INSERT INTO attached_files VALUES (?, 'x')", [(name,) for name in names])
    conn.close()
    backup.restore(copied, tmp_path / "there" / "store.sqlite")
    lists = tmp_path / "there" / "price lists"
    assert [path.relative_to(lists).as_posix() for path in lists.rglob("*") if path.is_file()] == ["own/fine.csv"]
    assert not list(tmp_path.rglob("evil.txt"))


def test_without_a_folder_for_it_there_is_no_backup(tmp_path: Path, opening: Opening) -> None:
    store = opening(tmp_path / "store.sqlite")
    (tmp_path / "copies").write_text("a file")
    assert store.file is not None
    with pytest.raises((Refused, OSError)):
        make_copy(store.file, datetime(2026, 11, 28, 8).astimezone())


@pytest.mark.parametrize(
    ("later", "is_made"),
    [
        (timedelta(0), False),
        (timedelta(minutes=59, seconds=59), False),
        (timedelta(hours=1), True),
        (-timedelta(seconds=1), True),  # the clock was put back: the newest copy says nothing about this hour
    ],
)
def test_a_backup_is_due_after_an_hour(tmp_path: Path, opening: Opening, later: timedelta, is_made: bool) -> None:
    store = opening(tmp_path / "store.sqlite")
    with_pieces(store, 1)
    assert store.file is not None
    first = datetime(2026, 11, 28, 9, 30).astimezone()
    assert copies.copy_when_due(store.file, first) is not None
    assert (copies.copy_when_due(store.file, first + later) is not None) is is_made


@pytest.mark.parametrize("text", [None, ""])
def test_without_a_store_there_is_no_backup(tmp_path: Path, text: str | None) -> None:
    where = tmp_path / "store.sqlite"
    if text is not None:
        where.write_text(text)
    assert copies.copy_when_due(where, datetime(2026, 11, 28, 9, 30).astimezone()) is None


def test_backups_are_kept_to_the_end_of_the_seventh_day_and_the_fourth_week() -> None:
    days = [TODAY - timedelta(days=back) for back in range(1, 9)]
    eight = [one for day in days for one in hours(day, 12)]
    assert [
        one.at.date() for one in sorted(kept(eight, TODAY), reverse=True)
    ] == days  # the eighth is its week's newest
    weeks = [TODAY - timedelta(days=30 + 7 * back) for back in range(5)]
    older = eight[:7] + [one for day in weeks for one in hours(day, 12)]
    assert [one.at.date() for one in sorted(kept(older, TODAY), reverse=True)] == [*days[:7], *weeks[:4]]
