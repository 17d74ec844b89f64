"""Installed as a wheel and from the checkout, the program finds its own files and its command starts."""

from __future__ import annotations

import site
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

FOLDERS = ("charts", "demo", "destinations", "fonts", "goods", "zones")
WHERE = (
    "from desk.domain.resources import resources; print(*sorted(p.name for p in resources().iterdir() if p.is_dir()))"
)


def run(*command: object, cwd: Path | None = None) -> str:
    """Return the output of the command; its errors fail the test."""
    words = [str(word) for word in command]
    done = subprocess.run(words, cwd=cwd, capture_output=True, text=True, timeout=55, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(root, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, cwd=root)
    return next(folder.glob("*.whl"))


def make_environment(folder: Path) -> Path:
    """Return a fresh environment with the libraries of this one, but without the project."""
    run(sys.executable, "-m", "venv", "--without-pip", folder)
    own = next((folder / "lib").glob("python*/site-packages"))
    (own / "libraries.pth").write_text("\n".join(site.getsitepackages()), encoding="utf-8")
    return folder


def install(environment: Path, *what: object) -> None:
    """Install without any network."""
    pip = [sys.executable, "-m", "pip", "--python", environment, "install", "--quiet", "--no-index", "--no-deps"]
    run(*pip, "--ignore-installed", "--no-build-isolation", *what, cwd=environment)


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_wheel_contains_every_resource(root, wheel, folder):
    here = {file.relative_to(root).as_posix() for file in (root / "resources" / folder).rglob("*") if file.is_file()}
    with zipfile.ZipFile(wheel) as packed:
        inside = {name.removeprefix("desk/") for name in packed.namelist()}

    assert here
    assert sorted(here - inside) == []


def test_the_wheel_contains_only_the_program(wheel):
    with zipfile.ZipFile(wheel) as packed:
        tops = {name.partition("/")[0] for name in packed.namelist()}

    assert {top for top in tops if not top.endswith(".dist-info")} == {"desk"}


@pytest.fixture(scope="module")
def from_wheel(wheel, tmp_path_factory) -> Path:
    environment = make_environment(tmp_path_factory.mktemp("from-wheel"))
    install(environment, wheel)
    return environment


@pytest.fixture
def from_checkout(root, tmp_path) -> Path:
    environment = make_environment(tmp_path / "from-checkout")
    install(environment, "--editable", root)
    return environment


def found_by(environment: Path, elsewhere: Path) -> tuple[set[str], Path]:
    """Return the resource folders seen by an installed program, and the folder of its code."""
    python = (environment / "bin/python", "-I", "-c")
    place = run(*python, "import desk; print(desk.__file__)", cwd=elsewhere)
    return set(run(*python, WHERE, cwd=elsewhere).split()), Path(place.strip())


def test_a_wheel_finds_its_own_files(from_wheel, tmp_path):
    folders, place = found_by(from_wheel, tmp_path)

    assert folders >= set(FOLDERS)
    assert place.is_relative_to(from_wheel)


def test_an_editable_install_finds_the_files_of_the_checkout(root, from_checkout, tmp_path):
    folders, place = found_by(from_checkout, tmp_path)

    assert folders >= set(FOLDERS)
    assert place.is_relative_to(root)


def test_a_wheel_installs_a_command_that_starts(wheel, from_wheel, tmp_path):
    version = run(from_wheel / "bin/tare-and-tag", "--version", cwd=tmp_path)

    assert version.split()[-1] == wheel.name.split("-")[1]
