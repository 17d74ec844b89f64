"""Nothing is sent anywhere: a run, `ask` and the window on the demo open no socket (by Python's audit events)."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.app.headless import Desk
from tests.conftest import ROOT

WATCHED = """
import sys
def refuse(event, args):
    if event.startswith("socket.") and event != "socket.__new__" or event == "socket.__new__":
        raise SystemExit(f"opened a socket: {event} {args}")
sys.addaudithook(refuse)
"""
RUN = WATCHED + "from desk.app.main import console; sys.exit(console(sys.argv[1:]))"
DEMO = (
    WATCHED
    + """
from PySide6.QtWidgets import QApplication
from desk.app.wiring import Opening, prepare, words
from desk.ui.window import Window
app = QApplication([])
prepare(app)
opening = Opening(Window(words()))
opening.open(None)
for title in words():
    opening.window.open_screen(title)
    app.processEvents()
opening.close()
"""
)


def watched(code: str, *words: str, told: str = "", home: Path) -> subprocess.CompletedProcess[str]:
    more = {"QT_QPA_PLATFORM": "offscreen", "XDG_DATA_HOME": str(home), "XDG_STATE_HOME": str(home)}
    return subprocess.run(
        [sys.executable, "-c", code, *words], input=told, capture_output=True, text=True, cwd=ROOT,
        env=os.environ | more, check=False, timeout=55,
    )  # fmt: skip


def test_the_audit_hook_notices_a_socket(tmp_path: Path) -> None:
    assert "opened a socket" in watched(WATCHED + "import socket; socket.socket()", home=tmp_path).stderr


def test_a_run_opens_no_socket(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    desk.run()
    named = ["--orders", "orders.csv", "--weights", "weights.csv", "--shop", "shop.toml", "--out", "again"]
    words = [word if word.startswith("--") else str(tmp_path / word) for word in named]
    ended = watched(RUN, "run", *words, "--date", "2026-07-15", home=tmp_path)
    assert (ended.returncode, ended.stderr) == (0, "")


def test_ask_opens_no_socket(tmp_path: Path) -> None:
    question = '{"ask": "zone", "from": "55802", "to": "97701"}\n'
    assert '"zone"' in watched(RUN, "ask", told=question, home=tmp_path).stdout


@pytest.mark.parametrize("code", [DEMO])
def test_the_window_opens_no_socket(tmp_path: Path, code: str) -> None:
    ended = watched(code, home=tmp_path)
    assert (ended.returncode, "opened a socket" in ended.stderr) == (0, False)
