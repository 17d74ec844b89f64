from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.session.importing.import_orders import import_orders
from desk.session.setup.copies import (
    copies_here,
    copy_for_the_hour,
    copy_store,
    good_copies,
    moment_in_words,
    name_of_copy,
    restore_preview,
)
from desk.session.sitting import Sitting
from tests.conftest import StillClock
from tests.session import made


def test_names_of_backups_sort_by_time(sitting: Sitting) -> None:
    now = sitting.clock.now().astimezone()
    assert name_of_copy(sitting) == f"tare-and-tag {now:%Y-%m-%d %H%M}.sqlite"


def test_a_backup_is_made_of_the_open_store(sitting: Sitting, tmp_path: Path) -> None:
    file = copy_store(sitting, tmp_path / "copy.sqlite")
    assert file.read_bytes().startswith(b"SQLite format 3")


def test_a_file_in_place_of_the_folder_is_refused_with_a_sentence(sitting: Sitting, tmp_path: Path) -> None:
    (tmp_path / "a file").write_text("no folder")
    with pytest.raises(Refused):
        copy_store(sitting, tmp_path / "a file" / "copy.sqlite")


@pytest.mark.parametrize(
    ("hour", "minute", "words"),
    [
        (0, 5, "12:05 AM"),
        (9, 5, "9:05 AM"),
        (11, 59, "11:59 AM"),
        (12, 0, "12:00 PM"),
        (13, 0, "1:00 PM"),
        (23, 59, "11:59 PM"),
    ],
)
def test_times_of_day_use_twelve_hours(hour: int, minute: int, words: str) -> None:
    moment = datetime(2026, 11, 28, hour, minute).astimezone()
    assert moment_in_words(moment) == f"November 28, 2026, {words}"


def test_restoring_a_current_backup_loses_nothing_and_an_older_one_says_what(sitting: Sitting, tmp_path: Path) -> None:
    import_orders(sitting, [made.order("1001")])
    file = copy_store(sitting, tmp_path / "copy.sqlite")
    assert "Nothing would be lost." in restore_preview(sitting, file)
    import_orders(sitting, [made.order("1002")])
    made.weigh_piece(sitting, 1, made.weighing("0.7"))
    words = restore_preview(sitting, file)
    assert words[1].startswith("2 later steps would be lost, up to ")
    assert words[2:] == ("2 orders now, 1 in the copy.", "1 weighed piece now, 0 in the copy.")


def test_only_the_newest_three_good_backups_are_offered(sitting: Sitting, clock: StillClock) -> None:
    assert sitting.store.file is not None
    for _ in range(5):
        clock.forward(3600)
        copy_for_the_hour(sitting)
    newest = copies_here(sitting)[0]
    newest.file.write_bytes(b"damaged")
    assert [one.at for one in good_copies(sitting.store.file)] == [one.at for one in copies_here(sitting)[1:4]]
