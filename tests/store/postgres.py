"""A PostgreSQL of the tests' own: made in a temporary folder, reached over a socket file, gone afterwards."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

INSTALLED = Path("/usr/lib/postgresql")


def programs() -> Path | None:
    """The folder of the newest server installed, or None."""
    folders = [folder for folder in INSTALLED.glob("*/bin") if (folder / "initdb").exists()]
    return max(folders, key=lambda folder: float(folder.parent.name), default=None)


def required() -> bool:
    """True where a missing server is a failure and not a reason to skip."""
    return os.environ.get("CI") == "true" or os.environ.get("REQUIRE_POSTGRES") == "1"


def give_up(reason: str) -> None:
    if required():
        pytest.fail(reason)
    pytest.skip(reason)


@contextmanager
def running(folder: Path) -> Iterator[str]:
    """Start a server; its address, to which `options` may be added."""
    home = Path(tempfile.mkdtemp(prefix="tt-pg-"))  # short: a socket's path has to fit into 107 bytes
    as_user: list[str] = []
    if os.geteuid() == 0:  # the server refuses to run as root
        shutil.chown(home, "postgres")
        as_user = ["runuser", "-u", "postgres", "--"]

    def call(program: str, *arguments: str) -> None:
        command = [*as_user, str(folder / program), *arguments]
        subprocess.run(command, check=True, cwd=home, stdout=subprocess.DEVNULL, timeout=50)

    server = f"-k {home} -c listen_addresses='' -c fsync=off -c unix_socket_permissions=0777"
    started = ["-D", str(home / "db"), "-l", str(home / "log"), "-w"]
    try:
        call("initdb", "-D", str(home / "db"), "-U", "desk", "-A", "trust", "-E", "UTF8", "--no-sync")
        call("pg_ctl", *started, "-o", server, "start")
        try:
            yield f"postgresql://desk@/postgres?host={home}"
        finally:
            call("pg_ctl", *started, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(home, ignore_errors=True)
