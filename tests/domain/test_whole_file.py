"""Files are written completely or not at all, readable only by their owner, and never through a link."""

import os
import stat

import pytest

from desk.domain import whole_file
from desk.domain.whole_file import create_private, make_private_folder, write_together, write_whole


def rights(path):
    return stat.S_IMODE(path.stat().st_mode)


def test_a_file_is_readable_only_by_its_owner(tmp_path):
    write_whole(tmp_path / "a.csv", b"1")
    assert ((tmp_path / "a.csv").read_bytes(), rights(tmp_path / "a.csv")) == (b"1", 0o600)
    assert [path.name for path in tmp_path.iterdir()] == ["a.csv"]


def test_a_file_that_others_could_read_becomes_private(tmp_path):
    (tmp_path / "a.csv").write_text("old")
    (tmp_path / "a.csv").chmod(0o644)
    write_whole(tmp_path / "a.csv", b"new")
    assert rights(tmp_path / "a.csv") == 0o600


def test_a_symbolic_link_at_the_path_is_not_followed(tmp_path):
    other = tmp_path / "other"
    other.write_text("theirs")
    (tmp_path / ".a.csv.part").symlink_to(other)
    write_whole(tmp_path / "a.csv", b"1")
    assert (other.read_text(), (tmp_path / "a.csv").is_symlink()) == ("theirs", False)


def test_a_leftover_partial_file_does_no_harm(tmp_path):
    (tmp_path / ".a.csv.part").write_text("half")
    write_whole(tmp_path / "a.csv", b"1")
    assert [path.name for path in tmp_path.iterdir()] == ["a.csv"]


def test_results_appear_together_or_not_at_all(tmp_path, monkeypatch):
    (tmp_path / "a").write_bytes(b"old")
    real = whole_file._write_new

    def full(part, content):
        if part.name == ".b.part":
            raise OSError(28, "No space left on device")
        real(part, content)

    monkeypatch.setattr(whole_file, "_write_new", full)
    with pytest.raises(OSError, match="No space"):
        write_together({tmp_path / "a": b"new", tmp_path / "b": b"new"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"old"}


def test_every_file_is_on_disk_before_any_is_replaced(tmp_path, monkeypatch):
    seen = []
    real = os.fsync
    monkeypatch.setattr(
        os, "fsync", lambda handle: (seen.append(sorted(p.name for p in tmp_path.iterdir())), real(handle))
    )
    write_together({tmp_path / "a": b"1", tmp_path / "b": b"2"})
    assert seen[1] == [".a.part", ".b.part"]
    assert seen[-1] == ["a", "b"]


def test_a_folder_is_readable_only_by_its_owner(tmp_path):
    make_private_folder(tmp_path / "x" / "copies")
    assert rights(tmp_path / "x" / "copies") == 0o700
    make_private_folder(tmp_path / "x" / "copies")


def test_an_existing_environment_is_not_created_again(tmp_path):
    os.close(create_private(tmp_path / "a"))
    with pytest.raises(FileExistsError):
        create_private(tmp_path / "a")
