from pathlib import Path

import pytest

from desk.paper.spool import (
    CommandResult,
    PrintOutcome,
    QueueAnswer,
    Spooler,
    hand_to_queue,
    medium,
    queues,
    run_command,
)
from tests.paper.made import STOCK

IDLE = CommandResult(0, "printer label is idle.  enabled since Wed 25 Nov 2026 10:00:00")
TAKEN = CommandResult(0, "request id is label-12 (1 file(s))")
WAITS = CommandResult(0, "label-12   ada   1024   Wed 25 Nov 2026 10:00:01")


class Desk:
    """A spooler that answers from a list and records the requests."""

    def __init__(self, **answers):
        self.answers = {key: list(value) for key, value in answers.items()}
        self.asked = []
        self.slept = 0.0

    def run(self, words):
        self.asked.append(tuple(words))
        kinds = {"-p": "printer", "-o": "jobs", "-e": "names", "-l": "alerts"}
        left = self.answers.get(words[0] if words[0] == "lp" else kinds[words[1]], [CommandResult(0, "")])
        return left.pop(0) if len(left) > 1 else left[0]

    def sleep(self, seconds):
        self.slept += seconds

    def spooler(self):
        return Spooler(self.run, self.sleep, patience=1.0, interval=0.25)


def hand(desk, name="labels.pdf"):
    return hand_to_queue(Path(name), "label", STOCK["roll-4x6"].page, desk.spooler())


def test_the_medium_is_named_and_nothing_is_scaled():
    desk = Desk(printer=[IDLE], lp=[TAKEN], jobs=[CommandResult(0, "")])
    assert hand(desk, "-odd name.pdf") == QueueAnswer(PrintOutcome.PRINTED, "label-12")
    assert desk.asked[1] == (
        "lp", "-d", "label", "-o", "media=Custom.4x6in", "-o", "print-scaling=none", "--", "-odd name.pdf",
    )  # fmt: skip


def test_the_queue_is_polled_until_the_job_has_left_it():
    desk = Desk(printer=[IDLE], lp=[TAKEN], jobs=[WAITS, WAITS, CommandResult(0, "label-13 ada 1 x")])
    assert hand(desk).outcome is PrintOutcome.PRINTED
    assert desk.slept == 0.5


def test_a_job_that_stays_is_reported_as_waiting_after_the_timeout():
    desk = Desk(printer=[IDLE], lp=[TAKEN], jobs=[WAITS])
    assert hand(desk) == QueueAnswer(PrintOutcome.WAITING, "label-12", WAITS.output)
    assert desk.slept == 1.0


def test_a_job_number_with_the_same_beginning_is_another_job():
    desk = Desk(printer=[IDLE], lp=[TAKEN], jobs=[CommandResult(0, "label-123 ada 1 x")])
    assert hand(desk).outcome is PrintOutcome.PRINTED


def test_a_queue_that_cannot_be_asked_has_not_printed():
    desk = Desk(printer=[IDLE], lp=[TAKEN], jobs=[CommandResult(1, "lost connection")])
    assert hand(desk) == QueueAnswer(PrintOutcome.WAITING, "label-12", "lost connection")


@pytest.mark.parametrize(
    ("printer", "outcome"),
    [
        (CommandResult(0, "printer label disabled since Wed 25 Nov 2026 -\n\tPaused"), PrintOutcome.STOPPED),
        (CommandResult(1, 'lpstat: Invalid destination name in list "label"!'), PrintOutcome.NO_QUEUE),
        (CommandResult(127, ""), PrintOutcome.NO_SPOOLER),
        (CommandResult(124, ""), PrintOutcome.NO_SPOOLER),
    ],
)
def test_nothing_is_sent_to_a_queue_that_would_hold_it(printer, outcome):
    desk = Desk(printer=[printer])
    handed = hand(desk)
    assert (handed.outcome, handed.answer) == (outcome, printer.output)
    assert len(desk.asked) == 1


@pytest.mark.parametrize("given", [CommandResult(1, "lp: Error - not accepting"), CommandResult(0, "something else")])
def test_a_spooler_refusing_a_job_is_not_a_success(given):
    assert hand(Desk(printer=[IDLE], lp=[given])) == QueueAnswer(PrintOutcome.REFUSED, answer=given.output)


def test_a_queue_named_disabled_is_not_taken_for_a_stopped_one():
    desk = Desk(
        printer=[CommandResult(0, "printer disabled is idle.  enabled since x")],
        lp=[TAKEN],
        jobs=[CommandResult(0, "")],
    )
    assert hand(desk).outcome is PrintOutcome.PRINTED


@pytest.mark.parametrize(
    ("alerts", "outcome"),
    [
        # keywords of printer-state-reasons: RFC 8011, section 5.4.12
        ("\tAlerts: media-empty-error", PrintOutcome.OUT_OF_PAPER),
        ("\tAlerts: media-needed", PrintOutcome.OUT_OF_PAPER),
        ("\tAlerts: toner-low-report", PrintOutcome.WAITING),
        ("\tAlerts: none", PrintOutcome.WAITING),
    ],
)
def test_a_waiting_job_of_a_queue_without_paper_says_so(alerts, outcome):
    desk = Desk(
        printer=[IDLE], lp=[TAKEN], jobs=[WAITS], alerts=[CommandResult(0, f"printer label now printing\n{alerts}")]
    )
    assert hand(desk).outcome is outcome


@pytest.mark.parametrize(
    ("size", "name"),
    [
        (STOCK["roll-4x6"].page, "Custom.4x6in"),
        (STOCK["roll-4x2"].page, "Custom.4x2in"),
        ((2.25 * 72, 1.25 * 72), "Custom.2.25x1.25in"),
        (STOCK["roll-100x150"].page, "Custom.100x150mm"),
        (STOCK["letter"].page, "Letter"),
        (STOCK["a4"].page, "A4"),
    ],
)
def test_paper_sizes_have_the_names_of_the_spooler(size, name):
    assert medium(size) == name


def test_queues_are_listed_or_there_are_none():
    assert queues(Desk(names=[CommandResult(0, "label\npaper\n")]).spooler()) == ["label", "paper"]
    assert queues(Desk(names=[CommandResult(127, "")]).spooler()) == []


def test_commands_run_without_a_shell_and_in_english():
    assert run_command(("printenv", "LC_ALL")) == CommandResult(0, "C")
    assert run_command(("echo", "a; b $HOME")) == CommandResult(0, "a; b $HOME")
    assert run_command(("false",)).code == 1
    assert run_command(("there-is-no-such-command",)) == CommandResult(127, "")


def test_a_command_that_does_not_end_is_stopped(monkeypatch):
    monkeypatch.setattr("desk.paper.spool.COMMAND_SECONDS", 0.05)
    assert run_command(("sleep", "5")) == CommandResult(124, "")
