"""The scripts that look at the window: the handbook's pictures, and the bench of the batch table."""

from __future__ import annotations

import os
import struct
import subprocess
import sys


def run(root, *words: str) -> str:
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, *words], cwd=root, check=False, capture_output=True, text=True, timeout=55, env=env
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout


def test_a_screen_is_taken_in_every_kind(root, tmp_path):
    run(root, "scripts/shots", str(tmp_path), "Costs")

    sizes = {file.name: struct.unpack(">II", file.read_bytes()[16:24]) for file in tmp_path.iterdir()}
    assert sizes == {
        "costs-light-empty.png": (1280, 800),
        "costs-light-full.png": (1280, 800),
        "costs-light-trouble.png": (1280, 800),
        "costs-dark-full.png": (1280, 800),
        "costs-double-full.png": (1024, 640),
    }


def test_the_bench_of_the_table_measures_and_judges(root):
    told = run(root, "scripts/bench-table", "2000")

    assert told.startswith("2000 pieces\n")
    assert told.count(" ms, a bare list ") == 6
    assert "scroll step: " in told
