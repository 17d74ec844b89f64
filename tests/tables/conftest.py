"""Workbooks are read in another process. Tests that use `process` also read them in this one, where lines are counted."""

from __future__ import annotations

import io
import sys
from typing import IO, Any

import pytest

from desk.tables import workbook, workbook_process


class ReadHere:
    """A fake for the other process: does the same work here, without its limits of memory and time."""

    def __init__(self, command: list[str], *, stdin: IO[bytes], stdout: IO[bytes], stderr: IO[bytes], env: Any) -> None:
        assert command[1:3] == ["-m", "desk.tables.workbook_process"]
        assert "PYTHONPATH" in env
        kept = sys.stdin, sys.stdout, sys.stderr
        sys.stdin, sys.stdout, sys.stderr = map(io.TextIOWrapper, (stdin, stdout, stderr))
        try:
            self.code = workbook_process.main(int(command[3]), int(command[4]))
        finally:
            for stream in (sys.stdin, sys.stdout, sys.stderr):
                stream.flush()
                stream.detach()
            sys.stdin, sys.stdout, sys.stderr = kept

    def poll(self) -> int:
        return self.code

    def kill(self) -> None:
        pass

    def wait(self) -> int:
        return self.code


@pytest.fixture(params=["another process", "this process"])
def process(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "this process":
        monkeypatch.setattr(workbook_process, "_limit", lambda *_: None)
        monkeypatch.setattr("gc.disable", lambda: None)  # this process goes on
        monkeypatch.setattr(workbook.subprocess, "Popen", ReadHere)
