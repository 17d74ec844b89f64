"""A report of a bug holds no names, addresses, numbers of orders or folders, whatever the error carries."""

from __future__ import annotations

import logging
import re
from pathlib import Path

import pytest

from desk.app.crash import CrashReports, LastLines, report_text
from desk.domain.faults import FileFault, Refused, Unreadable
from desk.domain.places.address import Address

SECRETS = ("Wren Abara", "41 Gluepot Rd", "Aldermoor", "wren@shop.example", "207-555-0143", "SORREL-1043")


def raised(error: BaseException) -> BaseException:
    wren, street = SECRETS[:2]  # local variables of a frame must not be reported either
    try:
        assert wren != street
        raise error
    except BaseException as caught:  # noqa: BLE001 - any of them
        return caught


ERRORS = [
    ValueError(*SECRETS),
    KeyError("Wren Abara"),
    OSError(2, "No such file", "/home/wren/41 Gluepot Rd/orders.csv"),
    Refused("Wren Abara, 41 Gluepot Rd: cannot be done."),
    Unreadable([FileFault("Aldermoor.csv", 3, "name", "Wren Abara", "a name")]),
    UnicodeDecodeError("utf-8", b"Wren Abara", 0, 1, "Aldermoor"),
    RuntimeError(Address(recipient="Wren Abara", city="Aldermoor")),
]


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_no_text_of_an_error_is_reported(error: BaseException) -> None:
    text = report_text(raised(error))
    assert [secret for secret in (*SECRETS, "/home/", "wren") if secret in text] == []
    assert type(error).__qualname__ in text


@pytest.mark.parametrize("depth", [1, 2, 5])
def test_only_the_type_of_each_cause_is_reported(depth: int) -> None:
    error: BaseException = ValueError("Wren Abara")
    for _ in range(depth):
        try:
            raise RuntimeError("41 Gluepot Rd") from raised(error)
        except RuntimeError as next_one:
            error = next_one
    text = report_text(error)
    assert text.count("which led to") == depth
    assert text.count("RuntimeError") == depth
    assert "Wren" not in text
    assert "Harbor" not in text


def test_a_frame_is_reported_with_file_line_and_function() -> None:
    text = report_text(raised(ValueError("x")))
    assert re.search(r"tests/app/test_crash_privacy\.py:\d+ in raised", text)


def test_parent_folders_are_left_out() -> None:
    text = report_text(raised(ValueError("x")))
    assert str(Path.home()) not in text
    assert all(not line.strip().startswith("/") for line in text.splitlines())


@pytest.mark.parametrize(
    ("pattern", "given", "kept"),
    [
        ("order %s taken in", ("SORREL-1043",), "order %s taken in"),
        ("%d of %d", (3, 7), "%d of %d 3 7"),
        ("%s weighed", ("Wren Abara",), "%s weighed"),
        ("%(name)s", ({"name": "Wren Abara"},), "%(name)s"),
        ("plain", (), "plain"),
    ],
)
def test_log_lines_are_kept_by_their_pattern(pattern: str, given: tuple[object, ...], kept: str) -> None:
    lines = LastLines()
    log = logging.getLogger("desk.tests.privacy")
    log.propagate = False
    log.handlers = [lines]
    log.warning(pattern, *given)
    (line,) = lines.lines
    assert line.endswith(f"WARNING desk.tests.privacy: {kept}")


def test_the_screen_shows_what_is_in_the_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    announced: list[tuple[Path, str]] = []
    reports = CrashReports(tmp_path / "new" / "reports", lambda file, text: announced.append((file, text)))
    reports.lines.lines.append("2026-11-25 WARNING desk: 3 left out")
    error = raised(ValueError("Wren Abara"))
    reports.caught(type(error), error, error.__traceback__)
    ((file, text),) = announced
    assert file.parent == tmp_path / "new" / "reports"
    assert file.read_text(encoding="utf-8") == text
    assert "3 left out" in text
    assert re.fullmatch(r"report-\d{4}-\d\d-\d\d-\d{6}\.txt", file.name)
    assert "Wren" not in text
    capsys.readouterr()
