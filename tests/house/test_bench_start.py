"""The benchmark of a start runs and reports both windows; its times need a quiet machine, so only its form is tested."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path


def test_the_benchmark_reports_first_paint_and_first_key_of_both_windows(root: Path) -> None:
    env = {**os.environ, "PATH": "/nowhere"}  # no virtual display in this test
    done = subprocess.run(
        [sys.executable, root / "scripts/measure/start", "1"],
        capture_output=True, text=True, check=True, timeout=90, env=env,
    )  # fmt: skip
    lines = done.stdout.splitlines()
    assert [line.split()[0].rstrip(",") for line in lines] == ["offscreen", "bare", "ours", "times"]
    assert re.findall(r"paint|key|at work", lines[2]) == ["paint", "key", "at work"]
    assert all(0 < float(ratio) < 6 for ratio in re.findall(r"\d+\.\d+", lines[3]))
