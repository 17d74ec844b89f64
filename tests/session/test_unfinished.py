"""What the last window left unfinished: its last saved step, and what it was printing or importing."""

from __future__ import annotations

import pytest

from desk.domain.faults import Refused
from desk.session.setup.forgetting import keep_addresses_for
from desk.session.sitting import Sitting
from desk.session.undo import undo
from desk.session.unfinished import LastSession, WorkKind, begin, dismiss, end, last_session
from desk.store import unfinished as marks


def test_finished_work_leaves_nothing_to_report(sitting: Sitting) -> None:
    begin(sitting, WorkKind.PRINTING, "labels")
    end(sitting, WorkKind.PRINTING)
    assert last_session(sitting) == LastSession()


def test_unfinished_work_is_reported_until_dismissed(sitting: Sitting) -> None:
    keep_addresses_for(sitting, 30)
    begin(sitting, WorkKind.PRINTING, "labels")
    begin(sitting, WorkKind.IMPORTING, "fair.csv")
    left = last_session(sitting)
    assert left.unfinished == {WorkKind.PRINTING: "labels", WorkKind.IMPORTING: "fair.csv"}
    assert left.last_step == "Time to keep addresses saved"
    dismiss(sitting)
    assert last_session(sitting).unfinished == {}


def test_the_last_step_may_be_an_undo(sitting: Sitting) -> None:
    keep_addresses_for(sitting, 30)
    undo(sitting)
    assert last_session(sitting).last_step == "Undone: Time to keep addresses saved"


def test_work_starts_even_if_the_data_is_busy(sitting: Sitting, monkeypatch: pytest.MonkeyPatch) -> None:
    def busy(*_words: object) -> None:
        raise Refused("busy")

    for name in ("begin", "end"):
        monkeypatch.setattr(marks, name, busy)
    begin(sitting, WorkKind.PRINTING, "labels")
    end(sitting, WorkKind.PRINTING)
