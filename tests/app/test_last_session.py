"""The start after a killed window says what was unfinished; the start after a proper close says nothing."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from desk.app.background.last_session import STRIP, report_last_session, words_for
from desk.app.sitting import open_own
from desk.session.unfinished import LastSession, WorkKind, dismiss, last_session
from desk.store.times import to_utc_text
from desk.store.unfinished import begin_run
from desk.ui.bridge import Desk
from tests.conftest import ROOT
from tests.ui.conftest import *  # noqa: F403

DEMO_FILES = {"orders": "orders.csv", "weights": "weights.csv", "shop": "shop.toml"}
WINDOW = """
import os, sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from desk.app.wiring import Opening, prepare, words
from desk.session.setup.forgetting import keep_addresses_for
from desk.session.unfinished import WorkKind, begin
from desk.ui.window import Window
app = QApplication([])
prepare(app)
opening = Opening(Window(words()))
opening.open(Path(sys.argv[1]))
opening.desk.do(keep_addresses_for, 30)
begin(opening.desk.sitting, WorkKind.PRINTING, "labels: 12 packages")
begin(opening.desk.sitting, WorkKind.IMPORTING, "fair.csv")
end = __import__("time").monotonic() + 1
while __import__("time").monotonic() < end:
    app.processEvents()
if sys.argv[2] == "kill":
    os.kill(os.getpid(), 9)
from desk.session.unfinished import dismiss
dismiss(opening.desk.sitting)
opening.close()
"""


def strip_after(how: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """Return the words of the strip after a window that ended that way; empty without one."""
    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(folder))
    file = folder / "store.sqlite"
    ended = subprocess.run([sys.executable, "-c", WINDOW, str(file), how], cwd=ROOT, check=False, env=os.environ)
    assert ended.returncode == (-signal.SIGKILL if how == "kill" else 0)
    desk = open_own(file)
    report_last_session(desk)
    messages = [state.words for state in desk.states if "stopped unexpectedly" in state.words]
    for state in desk.states:
        if state.dismissed is not None:
            state.dismissed()
    assert not [state for state in desk.states if "stopped unexpectedly" in state.words], STRIP
    desk.sitting.store.close()
    return " ".join(messages)


def test_a_killed_window_is_reported_at_the_next_start(
    qtbot: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = strip_after("kill", tmp_path, monkeypatch)
    assert "The last step saved is “Time to keep addresses saved”." in words
    assert "It was printing labels: 12 packages. Check what came out before you print again." in words
    assert "It was importing fair.csv. Import it again; what is already here stays as it is." in words


def test_a_window_that_was_closed_leaves_nothing_to_report(
    qtbot: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert strip_after("close", tmp_path, monkeypatch) == ""


def test_a_window_killed_before_its_first_step_is_reported_as_that() -> None:
    assert (
        words_for(LastSession(was_cut_off=True))
        == "The program stopped unexpectedly last time. Nothing had been done yet."
    )
    assert words_for(LastSession()) == ""
    assert "printing" in words_for(LastSession(unfinished={WorkKind.PRINTING: "labels"}))


RUN = """
import os, sys
from desk.app import run
if sys.argv[1] == "kill":
    run.leave_results = lambda *_words, **_options: os.kill(os.getpid(), 9)
sys.exit(run.run(sys.argv[2:]))
"""


def test_a_killed_run_is_reported_at_the_next_start_until_it_is_run_again(
    qtbot: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    demo = ROOT / "resources" / "demo"
    files = [f"--{name}={demo / file}" for name, file in DEMO_FILES.items()]
    words = [*files, f"--out={tmp_path / 'out'}", f"--store={tmp_path / 'store.sqlite'}", "--date=2026-11-25"]

    def strip_after_run(how: str) -> str:
        subprocess.run([sys.executable, "-c", RUN, how, *words], cwd=ROOT, check=False, capture_output=True)
        desk = open_own(tmp_path / "store.sqlite")
        report_last_session(desk)
        messages = [state.words for state in desk.states if "without the window" in state.words]
        desk.closing.emit()
        desk.sitting.store.close()
        return " ".join(messages)

    killed = strip_after_run("kill")
    assert killed.startswith("A run without the window over orders.csv, begun on ")
    assert killed.endswith(
        "has not finished. If it isn't still going, run it again; what is already here stays as it is."
    )
    assert strip_after_run("whole") == ""


def test_a_dismissed_report_of_a_run_does_not_come_back(empty_desk: Desk) -> None:
    sitting = empty_desk.sitting
    begin_run(sitting.store, "fair.csv", to_utc_text(sitting.clock.now()))
    assert [*last_session(sitting).runs] == ["fair.csv"]
    dismiss(sitting)
    assert last_session(sitting).runs == {}
