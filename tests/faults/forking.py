"""A process that forks a child for each line it is given, so that what is killed does not import everything each time."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]


@contextmanager
def forking(program: str) -> Iterator[subprocess.Popen[str]]:
    """Run a Python program from the checkout; it ends when its input is closed."""
    with subprocess.Popen(
        [sys.executable, "-c", program],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    ) as running:
        assert running.stdin is not None
        yield running
        running.stdin.close()
