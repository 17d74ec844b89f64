from __future__ import annotations

import logging
from pathlib import Path

import pytest

from desk.app.crash import KEPT_LINES, CrashReports, LastLines, report_text
from desk.domain.faults import Refused


def failing() -> BaseException:
    try:
        try:
            {}["41 Gluepot Rd"]
        except KeyError as error:
            raise ValueError("Ada Quist") from error
    except ValueError as error:
        return error
    raise AssertionError


def test_a_report_names_the_place_in_the_code_but_no_people() -> None:
    text = report_text(failing(), ["one line"])
    assert "app/test_crash.py" in text
    assert text.index("KeyError") < text.index("which led to") < text.index("ValueError")
    assert "one line" in text
    assert "Python 3" in text
    assert "Ada Quist" not in text
    assert "Harbor" not in text
    assert str(Path(__file__).parents[2]) not in text


def test_log_lines_keep_only_the_numbers() -> None:
    kept = LastLines()
    log = logging.getLogger("desk.tests.crash")
    log.addHandler(kept)
    log.propagate = False
    log.warning("piece %s of %s", 7, "Ada Quist")
    for number in range(KEPT_LINES):
        log.warning("line %d", number)
    log.warning("plain")
    assert len(kept.lines) == KEPT_LINES
    assert kept.lines[-1].endswith("WARNING desk.tests.crash: plain")
    assert not any("Ada" in line for line in kept.lines)


def test_a_report_is_written_and_its_path_is_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    reported: list[tuple[Path, str]] = []
    reports = CrashReports(tmp_path / "reports", lambda file, text: reported.append((file, text)))
    error = failing()
    reports.caught(type(error), error, error.__traceback__)
    [(file, text)] = reported
    assert file.read_text() == text
    assert "ValueError" in text
    assert "Ada Quist" in capsys.readouterr().err  # the person's own console


def test_a_folder_that_cannot_be_written_does_not_hide_the_bug(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    reported: list[Path] = []
    error = failing()
    CrashReports(tmp_path / "file", lambda file, _text: reported.append(file)).caught(
        type(error), error, error.__traceback__
    )
    assert len(reported) == 1


def test_a_refusal_is_shown_and_not_reported_as_a_bug(tmp_path: Path) -> None:
    reported: list[object] = []
    refused = Refused("The database server does not answer.")
    CrashReports(tmp_path, lambda file, _text: reported.append(file), reported.append).caught(Refused, refused, None)
    assert reported == [refused]
    assert list(tmp_path.iterdir()) == []


def test_an_interrupt_is_not_reported_as_a_bug(tmp_path: Path) -> None:
    reported: list[Path] = []
    stop = KeyboardInterrupt()
    CrashReports(tmp_path, lambda file, _text: reported.append(file)).caught(KeyboardInterrupt, stop, None)
    assert reported == []
