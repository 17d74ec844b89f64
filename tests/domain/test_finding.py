"""Finding: the severities are the contract's, and a finding carries facts and no sentence."""

import pytest

from desk.domain.finding import SEVERITIES, Finding, Severity, finding, reason

STOPS = """no-service goods-in-letter-abroad destination-barred destination-suspended needs-export-filing
net-over-gross too-small address-incomplete address-too-long restricted-goods""".split()
LOOKS = """too-close-to-call weighed-twice no-weight no-order size-missing mailer-unknown mailer-too-small hs-missing
hs-not-in-edition words-too-vague origin-missing value-zero tax-id-malformed postal-code-odd not-enough-stamps
stamps-requested lighter-than-contents heavier-than-contents swapped-with zone-unknown form-may-be-needed
fee-unclear""".split()
NOTES = """over-one-ounce near-a-step not-machinable stiff-flat uneven-flat too-thick-for-letter hand-to-clerk
over-service-limit list-ends untracked form-edge eu-duty tax-id-missing charged-too-little zone-estimated
chart-out-of-date postal-code-mended over-included-cover""".split()


@pytest.mark.parametrize(
    ("code", "severity"),
    [(code, Severity.STOP) for code in STOPS]
    + [(code, Severity.LOOK) for code in LOOKS]
    + [(code, Severity.NOTE) for code in NOTES],
)
def test_each_published_code_has_its_severity(code, severity):
    assert SEVERITIES[code] is severity
    assert finding(code).severity is severity


def test_no_code_is_a_reason_by_contract():
    assert Severity.FINE not in SEVERITIES.values()


def test_codes_are_spelled_alike():
    assert [code for code in SEVERITIES if code != "-".join(code.lower().split())] == []


def test_a_finding_carries_facts_and_source():
    found = finding("over-one-ounce", source="DMM 133.1.2", ounces=2, shown="1.2", stamped=True)

    assert found == Finding(
        "over-one-ounce", Severity.NOTE, {"ounces": 2, "shown": "1.2", "stamped": True}, "DMM 133.1.2"
    )


def test_a_rule_may_say_another_severity():
    assert finding("zone-estimated").severity is Severity.NOTE
    assert finding("zone-estimated", severity=Severity.LOOK).severity is Severity.LOOK


def test_an_unknown_code_is_a_bug():
    with pytest.raises(KeyError):
        finding("nobody-wrote-this-down")


def test_a_reason_needs_no_published_code():
    assert reason("letter-by-size", source="DMM 101.1.1", side="11.5").severity is Severity.FINE


def test_findings_can_be_put_in_a_set():
    assert len({finding("untracked", service="a"), finding("untracked", service="a")}) == 1


@pytest.mark.parametrize(("severity", "word"), [("STOP", "stop"), ("LOOK", "look"), ("NOTE", "note"), ("FINE", "fine")])
def test_severities_as_written_in_tables(severity, word):
    assert Severity[severity] == word
