from __future__ import annotations

from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.session.setup.copies import copy_store, name_of_copy
from desk.session.sitting import Sitting


def test_names_of_copies_stand_in_the_order_of_time(sitting: Sitting) -> None:
    now = sitting.clock.now().astimezone()
    assert name_of_copy(sitting) == f"tare-and-tag {now:%Y-%m-%d %H%M}.sqlite"


def test_a_copy_is_made_beside_the_open_store(sitting: Sitting, tmp_path: Path) -> None:
    file = copy_store(sitting, tmp_path / "copy.sqlite")
    assert file.read_bytes().startswith(b"SQLite format 3")


def test_a_folder_that_is_a_file_is_refused_in_a_sentence(sitting: Sitting, tmp_path: Path) -> None:
    (tmp_path / "a file").write_text("no folder")
    with pytest.raises(Refused):
        copy_store(sitting, tmp_path / "a file" / "copy.sqlite")
