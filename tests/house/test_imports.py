"""When modules are loaded: the window paints before anything heavy is loaded, and headless runs never load Qt."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

HEAVY = {
    "pydantic", "reportlab", "sqlalchemy", "alembic", "psycopg", "numpy", "babel", "pypdfium2", "pypdf", "zxingcpp",
    "uharfbuzz", "PIL", "xlsxwriter", "python_calamine", "rapidfuzz", "chardet", "stdnum", "regex",
}  # fmt: skip


def loaded_by(root, code: str) -> set[str]:
    """Return the top names of all modules loaded in a fresh Python after running the code."""
    show = "; import sys; print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    done = subprocess.run(
        [sys.executable, "-c", code + show], cwd=root, check=False, capture_output=True, text=True, timeout=50
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.split())


@pytest.mark.parametrize("start", ["desk.app.main", "desk.app.paths", "desk.domain.finding"])
def test_nothing_heavy_is_loaded_before_the_first_paint(root, start):
    loaded = loaded_by(root, f"import {start}")

    assert "desk" in loaded
    assert loaded & HEAVY == set()


@pytest.mark.parametrize("start", ["desk.app.main", "desk.app.run", "desk.app.ask", "desk.session"])
def test_the_headless_runs_never_load_qt(root, start):
    assert loaded_by(root, f"import {start}") & {"PySide6", "shiboken6"} == set()


def test_domain_needs_only_the_standard_library(root):
    modules = [f"desk.domain.{file.stem}" for file in (root / "desk/domain").glob("*.py") if file.stem != "__init__"]
    idle = loaded_by(root, "import sys")

    loaded = loaded_by(root, f"import {', '.join(modules)}")

    assert {name for name in loaded - idle if name not in sys.stdlib_module_names} == {"desk"}


def test_the_check_finds_loaded_modules(root):
    assert "numpy" in loaded_by(root, "import numpy")


def imported_while(root, *arguments: str, given: str = "") -> set[str]:
    """Return the top names imported by a whole run of the command, early or late."""
    command = [sys.executable, "-X", "importtime", "-m", "desk", *arguments]
    done = subprocess.run(
        command, cwd=root, check=False, capture_output=True, text=True, timeout=55, input=given, env=without_screen()
    )
    assert done.returncode in (0, 1), done.stderr[-2000:]
    assert "Traceback" not in done.stderr, done.stderr[-2000:]
    lines = [line for line in done.stderr.splitlines() if line.startswith("import time:")]
    return {line.rpartition("|")[2].strip().partition(".")[0] for line in lines}


def without_screen() -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "QT_QPA_PLATFORM")}


def test_a_headless_run_of_the_demo_never_imports_qt(root, tmp_path):
    demo = root / "resources/demo"
    files = ["--orders", demo / "orders.csv", "--weights", demo / "weights.csv", "--shop", demo / "shop.toml"]

    imported = imported_while(root, "run", *map(str, files), "--out", str(tmp_path / "out"))

    assert (tmp_path / "out/pieces.csv").exists()
    assert {"desk", "reportlab"} <= imported
    assert imported & {"PySide6", "shiboken6"} == set()


def test_an_answer_never_imports_qt(root):
    imported = imported_while(root, "ask", given='{"id": 1, "ask": "zone", "from": "10001", "to": "94105"}\n')

    assert "desk" in imported
    assert imported & {"PySide6", "shiboken6"} == set()
