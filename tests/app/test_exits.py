"""How commands end: a fault of the program is 70, output that cannot be written 74, and neither shows a person's name."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from desk.app import exits, main
from desk.app import run as run_module
from tests.app.headless import Desk


@pytest.fixture
def desk(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return Desk(tmp_path)


def words(desk):
    desk.run()
    files = ["--orders", "orders.csv", "--weights", "weights.csv", "--shop", "shop.toml", "--out", "out"]
    return ["run", *(str(desk.folder / word) if "." in word or word == "out" else word for word in files)]


def command(desk, stdout, **more):
    environment = os.environ | {"XDG_STATE_HOME": str(desk.folder / "state")}
    return subprocess.run(
        [sys.executable, "-m", "desk", *words(desk), "--date", "2026-07-15"],
        stdout=stdout, stderr=subprocess.PIPE, text=True, env=environment, check=False, **more,
    )  # fmt: skip


def test_a_bug_exits_with_70_and_a_report_without_names(desk, monkeypatch, capsys):
    given = words(desk)

    def breaks(*_words):
        raise ZeroDivisionError("Ada Vell, 1 Quill Row")

    monkeypatch.setattr(run_module, "_run", breaks)
    assert main.console(given) == 70
    printed = capsys.readouterr().err
    assert printed.startswith("Something went wrong in the program (ZeroDivisionError). A report without names")
    (report,) = (desk.folder / "state" / "tare-and-tag" / "reports").iterdir()
    assert "ZeroDivisionError" in report.read_text()
    assert not [name for name in ("Ada", "Quill") if name in report.read_text() + printed]
    assert (report.stat().st_mode & 0o777, report.parent.stat().st_mode & 0o777) == (0o600, 0o700)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_a_full_standard_output_exits_with_74_after_saving_the_results(desk):
    with Path("/dev/full").open("w") as full:
        ended = command(desk, full)
    assert ended.returncode == 74
    assert ended.stderr.startswith("Standard output could not be written (no space left on device).")
    assert "Traceback" not in ended.stderr
    assert (desk.out / "summary.json").exists()


def test_a_closed_standard_output_exits_with_74(desk):
    ended = command(desk, subprocess.DEVNULL, preexec_fn=lambda: os.close(1))
    assert (ended.returncode, "Traceback" in ended.stderr) in ((0, False), (74, False))
    read, write = os.pipe()
    os.close(read)
    ended = command(desk, write)
    os.close(write)
    assert (ended.returncode, "Traceback" in ended.stderr) == (74, False)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_created_exits_with_74(desk):
    desk.folder.chmod(0o500)
    assert run_module.run(words(desk)[1:]) == 74


def test_a_file_with_the_name_of_the_folder_exits_with_74(desk, capsys):
    given = words(desk)
    (desk.folder / "file").write_text("")
    given[given.index("--out") + 1] = str(desk.folder / "file" / "out")
    given += ["--store", str(desk.folder / "kept.sqlite")]
    assert run_module.run(given[1:]) == 74
    assert "The results could not be written to" in capsys.readouterr().err


def test_an_interrupted_command_exits_with_130():
    def pressed():
        raise KeyboardInterrupt

    assert exits.ended(pressed) == 130
