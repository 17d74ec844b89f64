"""The scripts that use the window: the handbook's pictures, and the benchmark of the batch table."""

from __future__ import annotations

import os
import struct
import subprocess
import sys

import pytest


def run(root, *words: str, ends=(0,)) -> str:
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, *words], cwd=root, check=False, capture_output=True, text=True, timeout=55, env=env
    )
    assert done.returncode in ends, done.stderr[-2000:]
    return done.stdout


def test_a_screenshot_is_taken_of_every_kind(root, tmp_path):
    run(root, "scripts/shots", str(tmp_path), "Costs")

    sizes = {
        str(file.relative_to(tmp_path)): struct.unpack(">II", file.read_bytes()[16:24])
        for file in tmp_path.rglob("*.png")
    }
    assert sizes == {
        "costs/light-empty.png": (1280, 800),
        "costs/light-full.png": (1280, 800),
        "costs/light-trouble.png": (1280, 800),
        "costs/dark-full.png": (1280, 800),
        "costs/double-full.png": (1024, 640),
    }


def test_the_benchmark_of_the_table_prints_its_times_and_limits(root):
    reported = run(root, "scripts/bench", "table", "2000", ends=(0, 1))  # a busy machine may be too slow

    assert reported.startswith("2000 pieces\n")
    assert reported.count(" ms, a bare list ") == 6
    assert "scroll step: " in reported


@pytest.mark.parametrize(("limit", "ended"), [("LIMIT_MS, TIMES", 1), ("SCROLL_MS", 1)])
def test_a_table_slower_than_its_limit_exits_with_1(root, tmp_path, limit, ended):
    script = (root / "scripts" / "measure" / "table").read_text(encoding="utf-8")
    strict = tmp_path / "scripts" / "measure" / "table"
    strict.parent.mkdir(parents=True)
    strict.write_text(
        script.replace('if __name__ == "__main__":', f"{limit} = {'0, 0' if ',' in limit else 0}\nif True:")
    )
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(root)}
    done = subprocess.run(
        [sys.executable, strict, "500"], capture_output=True, text=True, timeout=55, env=env, check=False
    )

    assert done.returncode == ended
    assert "TOO SLOW" in done.stdout


def test_every_benchmark_runs_and_one_failure_fails_them_all(root, tmp_path):
    names = ("table", "start", "scale", "quote", "intake", "learning", "stamps", "pieces", "years", "blocks", "labels")
    scripts = tmp_path / "scripts"
    (scripts / "measure").mkdir(parents=True)
    whole = (root / "scripts" / "bench").read_text(encoding="utf-8")
    (scripts / "bench").write_text(whole.replace('    "run": (),\n', ""))  # complete runs take minutes
    for name in names:
        code = 1 if name == "scale" else 0
        (scripts / "measure" / name).write_text(f"print('measures {name}')\nraise SystemExit({code})\n")
    done = subprocess.run([sys.executable, scripts / "bench"], capture_output=True, text=True, timeout=55, check=False)

    assert [line for line in done.stdout.splitlines() if line.startswith("measures")] == [
        f"measures {n}" for n in names
    ]
    assert done.stdout.splitlines()[-1] == (
        "== table fine, start fine, scale missed its limit, quote fine, intake fine, learning fine, stamps fine, pieces fine, "
        "years fine, blocks fine, labels fine"
    )
    assert done.returncode == 1
