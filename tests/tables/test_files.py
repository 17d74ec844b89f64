from __future__ import annotations

import os
from pathlib import Path

import pytest

from desk.domain.faults import Unreadable
from desk.tables import files
from desk.tables.files import read_bytes
from tests.intake.tables import put, sentences


def test_bytes_are_read_unchanged(tmp_path: Path) -> None:
    assert read_bytes(put(tmp_path, "a.csv", b"\xff\x00a\r\n")) == b"\xff\x00a\r\n"


def test_a_missing_file_is_refused_with_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        read_bytes(tmp_path / "none.csv")
    assert sentences(caught, tmp_path) == ["none.csv: expected an existing file; there is none with this name"]


def test_a_folder_is_refused_with_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "orders").mkdir()
    with pytest.raises(Unreadable) as caught:
        read_bytes(tmp_path / "orders")
    assert sentences(caught, tmp_path) == ["orders: expected a file, but this is a folder"]


def test_a_file_without_read_permission_is_refused_with_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = put(tmp_path, "a.csv", "order")
    if os.geteuid() == 0:  # root may read everything, so the refusal is simulated
        monkeypatch.setattr(Path, "read_bytes", lambda self: (_ for _ in ()).throw(PermissionError(13, "denied")))
    else:
        path.chmod(0)
    with pytest.raises(Unreadable) as caught:
        read_bytes(path)
    assert sentences(caught, tmp_path) == ["a.csv: expected a file you have permission to read"]


def test_a_file_over_the_limit_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = put(tmp_path, "big.csv", "")
    with path.open("r+b") as file:
        file.truncate(files.MOST_BYTES + 1024 * 1024)
    monkeypatch.setattr(Path, "read_bytes", lambda self: pytest.fail("it was read"))
    with pytest.raises(Unreadable) as caught:
        read_bytes(path)
    assert sentences(caught, tmp_path) == ["big.csv: expected a file of at most 64 MB, but this one has 65 MB"]


def test_other_system_errors_have_the_message_of_the_system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = put(tmp_path, "a.csv", "order")
    monkeypatch.setattr(Path, "read_bytes", lambda self: (_ for _ in ()).throw(OSError(5, "Input/output error")))
    with pytest.raises(Unreadable) as caught:
        read_bytes(path)
    assert sentences(caught, tmp_path) == [
        "a.csv: expected a file that can be read, but the system says: Input/output error"
    ]


def test_an_invalid_file_name_is_refused_with_a_sentence() -> None:
    with pytest.raises(Unreadable, match="but the system says: embedded null byte"):
        read_bytes(Path("a\0b"))
