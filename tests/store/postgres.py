"""A PostgreSQL server for the tests: made in a temporary folder, reached over a socket file, removed afterward."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

# The shell ends the server when its standard input closes, so the server stops even when the tests are killed.
KEPT = """
"$1/initdb" -D "$2/db" -U desk -A trust -E UTF8 --no-sync > "$2/log"
"$1/pg_ctl" -D "$2/db" -l "$2/log" -w -o "-k $2 -c listen_addresses= -c fsync=off" start >> "$2/log" || exit 1
echo ready
cat > /dev/null
"$1/pg_ctl" -D "$2/db" -m immediate stop >> "$2/log"
rm -rf "$2"
"""
INSTALLED = Path("/usr/lib/postgresql")


def programs() -> Path | None:
    """Return the folder of the newest installed server, or None."""
    folders = [folder for folder in INSTALLED.glob("*/bin") if (folder / "initdb").exists()]
    return max(folders, key=lambda folder: float(folder.parent.name), default=None)


def required() -> bool:
    """Whether a missing server is a failure and not a reason to skip."""
    return os.environ.get("CI") == "true" or os.environ.get("REQUIRE_POSTGRES") == "1"


def give_up(reason: str) -> None:
    if required():
        pytest.fail(reason)
    pytest.skip(reason)


@contextmanager
def running(folder: Path) -> Iterator[str]:
    """Start a server and yield its address, to which `options` may be added."""
    home = Path(tempfile.mkdtemp(prefix="tt-pg-"))  # short, since a socket's path has to fit in 107 bytes
    as_user: list[str] = []
    if os.geteuid() == 0:  # the server refuses to run as root
        shutil.chown(home, "postgres")
        as_user = ["runuser", "-u", "postgres", "--"]
    command = [*as_user, "sh", "-c", KEPT, "sh", str(folder), str(home)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=home) as server:
        assert server.stdin is not None
        assert server.stdout is not None
        assert server.stdout.readline() == "ready\n", (home / "log").read_text()
        yield f"postgresql://desk@/postgres?host={home}"
        server.stdin.close()
    shutil.rmtree(home, ignore_errors=True)
