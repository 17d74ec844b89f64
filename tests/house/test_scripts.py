"""The scripts: budgets are enforced exactly, and what the system lacks is reported in one line."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

DOC = '"""Says what it is for."""\n'


@pytest.fixture
def project(tmp_path) -> Path:
    """Return a small source tree within every budget."""
    write(tmp_path / "desk/plain.py", DOC + "x = 1\n")
    write(tmp_path / "tests/test_plain.py", "x = 1\n" * 400)
    write(tmp_path / "tests/test_more.py", "x = 1\n" * 400)
    return tmp_path


def write(file: Path, text: str) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")


def sizes(root: Path, project: Path) -> tuple[int, list[str]]:
    """Return the exit code of scripts/sizes, and its lines before the totals."""
    done = subprocess.run(
        [sys.executable, root / "scripts/sizes", project], capture_output=True, text=True, check=False, timeout=30
    )
    assert not done.stderr
    return done.returncode, done.stdout.splitlines()[:-1]


def function(lines: int, head: str = "def act():", indent: str = "") -> str:
    """Return a function of so many lines, with a docstring."""
    body = [f'{indent}    """Does it."""'] + [f"{indent}    x = 1"] * (lines - 2)
    return "\n".join([indent + head, *body]) + "\n"


def test_a_source_tree_within_its_budgets_passes(root, project):
    assert sizes(root, project) == (0, [])


@pytest.mark.parametrize(
    ("place", "text", "offence"),
    [
        ("desk/a.py", function(61), "desk/a.py:1: act has 61 lines, at most 60"),
        ("desk/a.py", DOC + "x = 1\n" * 400, "desk/a.py: 401 lines, at most 400"),
        ("desk/ui/main_window.py", DOC + "x = 1\n" * 350, "desk/ui/main_window.py: 351 lines, at most 350"),
        ("desk/a.py", "class A:\n" + '    """An A."""\n' + "    x = 1\n" * 249, "desk/a.py:1: A has 251 lines, at most 250"),
        ("desk/ui/a.py", 'class A:\n    """An A."""\n' + function(41, "def __init__(self):", "    "),
         "desk/ui/a.py:3: A.__init__ has 41 lines, at most 40"),
        ("desk/a.py", "def act():\n    pass\n", "desk/a.py:1: act has no docstring"),
        ("desk/a.py", 'class A:\n    """An A."""\n    def act(self):\n        pass\n', "desk/a.py:3: A.act has no docstring"),
        ("tests/a.py", function(61), "tests/a.py:1: act has 61 lines, at most 60"),
    ],
)  # fmt: skip
def test_one_line_too_many_is_reported(root, project, place, text, offence):
    write(project / place, text)

    assert sizes(root, project) == (1, [offence])


@pytest.mark.parametrize(
    ("folder", "files", "offences"),
    [
        ("scripts/long", 20, []),
        ("scripts/long", 21, ["scripts/long: 21 files, at most 20"]),
        ("resources/pictures", 21, ["resources/pictures: 21 files, at most 20"]),
        ("desk/ui/kit", 21, []),
        ("desk/ui/bench", 21, ["desk/ui/bench: 21 files, at most 20"]),
        ("tests/rates", 21, []),
    ],
)
def test_a_folder_holds_at_most_twenty_files(root, project, folder, files, offences):
    for number in range(files):
        write(project / folder / f"n{number}.py", "")

    assert sizes(root, project) == (1 if offences else 0, offences)


@pytest.mark.parametrize(
    ("place", "text"),
    [
        ("desk/a.py", function(60)),
        ("desk/a.py", DOC + "x = 1\n" * 399),
        ("desk/costs/a.py", 'class A:\n    """An A."""\n' + function(41, "def __init__(self):", "    ")),
        ("desk/a.py", "def _act():\n    pass\n\n\nclass _A:\n    def act(self):\n        pass\n"),
        ("desk/a.py", function(5) + "    def inner():\n        pass\n"),
        ("tests/a.py", "def test_act():\n    pass\n"),
    ],
)
def test_sizes_at_the_limit_pass(root, project, place, text):
    write(project / place, text)

    assert sizes(root, project) == (0, [])


def test_having_less_test_code_than_code_is_reported(root, project):
    write(project / "desk/a.py", DOC + "x = 1\n" * 390)
    write(project / "desk/b.py", DOC + "x = 1\n" * 390)
    write(project / "desk/c.py", DOC + "x = 1\n\n" * 100)  # blank lines do not count as code

    code, lines = sizes(root, project)

    assert code == 1
    assert lines == ["tests: 800 lines of test for 885 lines of code; there should be at least as many"]


def shell(root: Path, script: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a line of shell after sourcing the setup file."""
    return subprocess.run(
        ["bash", "-euo", "pipefail", "-c", f"source scripts/setup.sh; {script}"],
        cwd=root, env={**os.environ, **environment}, capture_output=True, text=True, check=False, timeout=30,
    )  # fmt: skip


def test_a_missing_library_is_named_by_its_package(root):
    done = shell(root, "missing_libraries libc.so.6=libc6 libnobody.so.9=libnobody9")

    assert done.stdout.split() == ["libnobody9"]


def test_packages_that_cannot_be_installed_are_named_in_one_line(root):
    done = shell(root, "PATH=/nowhere; need_packages libgl1 xvfb")

    assert done.returncode == 3
    assert (
        done.stderr
        == "Missing on this system. Run once as root:  apt-get install --no-install-recommends libgl1 xvfb\n"
    )


def test_nothing_missing_installs_nothing(root):
    done = shell(root, "PATH=/nowhere; need_packages; echo on")

    assert (done.returncode, done.stdout, done.stderr) == (0, "on\n", "")


@pytest.mark.parametrize(
    ("display", "expected"), [({"DISPLAY": ":1"}, "yes"), ({"WAYLAND_DISPLAY": "wayland-0"}, "yes"), ({}, "no")]
)
def test_an_existing_display_is_detected(root, display, expected):
    environment = {"DISPLAY": "", "WAYLAND_DISPLAY": ""} | display

    assert shell(root, "has_display && echo yes || echo no", **environment).stdout.strip() == expected


def test_an_environment_is_rebuilt_when_its_recipe_changes(root, tmp_path):
    venv = str(tmp_path)
    check = "is_made && echo made || echo not made"

    assert shell(root, check, TARE_AND_TAG_VENV=venv).stdout.strip() == "not made"
    shell(root, 'recipe >"$venv/stamp"', TARE_AND_TAG_VENV=venv)
    assert shell(root, check, TARE_AND_TAG_VENV=venv).stdout.strip() == "made"
    (tmp_path / "stamp").write_text("of another lock\n", encoding="utf-8")
    assert shell(root, check, TARE_AND_TAG_VENV=venv).stdout.strip() == "not made"


def test_two_first_starts_at_once_set_up_only_once(root, tmp_path):
    """The second run waits for the lock and finds nothing left to do."""
    fill = 'fill_environment() { sleep 0.5; recipe >"$venv/stamp"; echo filled >>"$venv/times"; }; make_environment'
    starts = [
        subprocess.Popen(
            ["bash", "-euo", "pipefail", "-c", f"source scripts/setup.sh; {fill}; echo started"],
            cwd=root, env={**os.environ, "TARE_AND_TAG_VENV": str(tmp_path)}, text=True,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for _ in range(2)
    ]  # fmt: skip
    reported = [start.communicate(timeout=30) for start in starts]

    assert [start.returncode for start in starts] == [0, 0]
    assert [messages for messages, _ in reported] == ["started\n", "started\n"]
    assert (tmp_path / "times").read_text() == "filled\n"
    assert sorted(waits for _, waits in reported) == ["", "Another start is setting this up; waiting for it.\n"]


@pytest.mark.parametrize("script", ["start", "test", "setup.sh", "lock", "bare-root"])
def test_no_script_names_a_host(root, script):
    text = (root / "scripts" / script).read_text(encoding="utf-8")

    assert "://" not in text
    subprocess.run(["bash", "-n", root / "scripts" / script], check=True, timeout=10)


@pytest.mark.parametrize("words", [[], ["run", "--out", "a b", ""], ["ask"], ["--", "*"]])
def test_start_passes_every_argument_on(root, tmp_path, words):
    """Use an existing environment and a linker that cannot be asked, so that the system is not touched."""
    for name, line in (("python", 'printf "%s\\n" "$#" "$@"'), ("ldconfig", "exit 1")):
        write(tmp_path / "bin" / name, f"#!/bin/sh\n{line}\n")
        (tmp_path / "bin" / name).chmod(0o755)
    shell(root, 'recipe >"$venv/stamp"', TARE_AND_TAG_VENV=str(tmp_path))
    environment = {**os.environ, "TARE_AND_TAG_VENV": str(tmp_path), "PATH": f"{tmp_path}/bin:{os.environ['PATH']}"}
    done = subprocess.run(
        [root / "scripts/start", *words], env=environment, capture_output=True, text=True, check=True, timeout=30
    )
    assert done.stdout == "\n".join([str(len(words) + 2), "-m", "desk", *words]) + "\n"
    assert not done.stderr


def test_another_path_to_the_same_python_needs_no_new_environment(root, tmp_path):
    python = subprocess.run(
        ["bash", "-c", "command -v python3"], capture_output=True, text=True, check=True
    ).stdout.strip()
    real = subprocess.run(
        [python, "-c", "import sys; print(sys._base_executable)"], capture_output=True, text=True, check=True
    ).stdout.strip()
    (tmp_path / "python3").symlink_to(real)
    plain = shell(root, "recipe", PATH=f"{Path(real).parent}:{os.environ['PATH']}").stdout
    linked = shell(root, "recipe", PATH=f"{tmp_path}:{os.environ['PATH']}").stdout

    assert linked == plain
    (tmp_path / "python3").unlink()
    write(tmp_path / "python3", "#!/bin/sh\necho 3.99.0 /elsewhere\n")
    (tmp_path / "python3").chmod(0o755)
    assert shell(root, "recipe", PATH=f"{tmp_path}:{os.environ['PATH']}").stdout != plain


@pytest.fixture
def repository(tmp_path) -> Path:
    """Return a repository with a module with its own test, one without, and a branch."""
    for file in ("desk/rates/zone.py", "desk/rates/lists/chart.py", "tests/rates/test_zone.py",
                 "tests/rates/lists/test_cells.py", "tests/rates/conftest.py", "README.md"):  # fmt: skip
        write(tmp_path / file, DOC)
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "add", ".")
    git(tmp_path, "commit", "-qm", "Start")
    git(tmp_path, "checkout", "-qb", "work")
    return tmp_path


def git(folder: Path, *arguments: str) -> None:
    identity = ["-c", "user.name=Maker", "-c", "user.email=maker@shop.example"]
    subprocess.run(["git", *identity, *arguments], cwd=folder, check=True, capture_output=True, timeout=30)


@pytest.mark.parametrize(
    ("file", "tests"),
    [
        ("desk/rates/zone.py", ["tests/rates/test_zone.py"]),
        ("desk/rates/lists/chart.py", ["tests/rates/lists"]),
        ("desk/rates/lists/deeper/new.py", ["tests/rates/lists"]),
        ("desk/__main__.py", []),
        ("tests/rates/test_zone.py", ["tests/rates/test_zone.py"]),
        ("tests/rates/conftest.py", ["tests/rates"]),
        ("resources/charts/a.csv", ["tests/rates"]),
        ("README.md", []),
    ],
)
@pytest.mark.parametrize("is_committed", [True, False])
def test_changed_modules_select_their_tests(root, repository, file, tests, is_committed):
    write(repository / file, DOC + "x = 2\n")
    if is_committed:
        git(repository, "add", ".")
        git(repository, "commit", "-qm", "Change a file")
    done = subprocess.run(
        [sys.executable, root / "scripts/changed", repository], capture_output=True, text=True, check=True, timeout=30
    )
    assert done.stdout.split() == tests


def test_without_changes_no_test_is_selected(root, repository):
    done = subprocess.run(
        [sys.executable, root / "scripts/changed", repository], capture_output=True, text=True, check=True, timeout=30
    )
    assert done.stdout.split() == []
