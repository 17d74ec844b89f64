import io
import subprocess
import sys

import pytest

from desk import __version__
from desk.app import main
from desk.app.demo import run_demo
from desk.app.screen import has_screen
from desk.domain.resources import resources
from tests.conftest import ROOT


def test_version_and_help_are_printed(capsys):
    assert main.console(["--version"]) == 0
    assert capsys.readouterr().out == f"Tare & Tag {__version__}\n"
    for word in ("-h", "--help", "help"):
        assert main.console([word]) == 0
        assert "tare-and-tag ask" in capsys.readouterr().out


@pytest.mark.parametrize("words", [["frob"], ["ask", "more"], ["--version", "x"]])
def test_an_unknown_command_shows_the_usage_and_exits_with_2(words, capsys):
    assert main.console(words) == 2
    assert "tare-and-tag run" in capsys.readouterr().err


def test_run_and_ask_get_their_arguments(monkeypatch, capsys):
    monkeypatch.setattr("desk.app.run.run", len)
    assert main.console(["run", "a", "b"]) == 2
    monkeypatch.setattr(sys, "stdin", io.StringIO('{"ask": "words", "text": "gift"}\n'))
    assert main.console(["ask"]) == 0
    assert '"ok": false' in capsys.readouterr().out


def test_invalid_utf_8_and_a_byte_order_mark_do_no_harm():
    lines = b'\xef\xbb\xbf{"ask": "words", "text": "gift", "id": 1}\n{"ask": "words", "text": "\xff", "id": 2}\n'
    done = subprocess.run([sys.executable, "-m", "desk", "ask"], input=lines, capture_output=True, cwd=ROOT, check=True)
    assert [line.split(b",")[0] for line in done.stdout.splitlines()] == [b'{"id": 1', b'{"id": 2']


def test_without_a_display_the_demo_batch_runs_instead_of_a_window(monkeypatch):
    monkeypatch.setattr("desk.app.screen.has_screen", lambda: False)
    monkeypatch.setattr("desk.app.demo.run_demo", lambda: 7)
    assert main.console([]) == 7
    assert main.window([]) == 7


@pytest.mark.parametrize("name", ["DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"])
def test_on_linux_there_is_a_display_when_one_is_named(monkeypatch, name):
    monkeypatch.setattr(sys, "platform", "linux")
    for other in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(other, raising=False)
    assert has_screen() is False
    monkeypatch.setenv(name, "x")
    assert has_screen() is True


def test_on_other_systems_there_is_always_a_display(monkeypatch):
    monkeypatch.setattr(sys, "platform", "darwin")
    assert has_screen() is True


def test_the_resources_of_the_program_are_found():
    assert (resources() / "charts").is_dir()


def test_an_incomplete_installation_names_what_is_missing(monkeypatch, tmp_path):
    monkeypatch.setattr("desk.domain.resources.__file__", str(tmp_path / "desk" / "domain" / "resources.py"))
    with pytest.raises(FileNotFoundError, match="The installation is incomplete"):
        resources()


def test_a_wheel_carries_its_files_inside(monkeypatch, tmp_path):
    inside = tmp_path / "desk" / "resources"
    inside.mkdir(parents=True)
    (tmp_path / "resources").mkdir()
    monkeypatch.setattr("desk.domain.resources.__file__", str(tmp_path / "desk" / "domain" / "resources.py"))
    assert resources() == inside


def test_a_demo_that_cannot_be_written_says_so(tmp_path, capsys):
    (tmp_path / "demo").write_text("a file")
    assert run_demo(tmp_path / "demo") == 74
    assert capsys.readouterr().out == ""
