"""Findings: the severities of resources/handbook/headless.md, and facts without sentences."""

import pytest

from desk.domain.finding import Code, Finding, Severity, finding, reason

STOPS = """contents-unknown value-not-compared no-service goods-in-letter-abroad destination-barred needs-export-filing
net-over-gross too-small address-incomplete address-too-long restricted-goods""".split()
LOOKS = """status-unsorted choice-unsorted mailer-guessed weighed-after-paid hazard-surface-only hazard-abroad
media-doubtful cover-short buyer-id-missing latin-line-missing too-close-to-call weighed-twice no-weight no-order
size-missing mailer-unknown mailer-too-small hs-missing hs-not-in-edition words-too-vague origin-missing value-zero
tax-id-malformed postal-code-odd not-enough-stamps stamps-requested lighter-than-contents heavier-than-contents
swapped-with destination-suspended zone-unknown form-may-be-needed fee-unclear product-unknown""".split()
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
    assert Code(code).severity is severity


def test_the_text_of_a_code_follows_from_its_name():
    assert [code for code in Code if code != code.name.lower().replace("_", "-")] == []


def test_a_finding_carries_facts_and_source():
    found = finding(Code.OVER_SIZE, source="DMM 101.3.2", limit="108", measure="length plus girth")

    assert found == Finding(
        Code.OVER_SIZE, Severity.FINE, {"limit": "108", "measure": "length plus girth"}, "DMM 101.3.2"
    )


def test_a_rule_may_give_another_severity():
    facts = {"zone": "5", "edition": "2024", "military": True}
    assert finding(Code.ZONE_ESTIMATED, **facts).severity is Severity.NOTE
    assert finding(Code.ZONE_ESTIMATED, severity=Severity.LOOK, **facts).severity is Severity.LOOK


def test_an_unknown_code_is_a_bug():
    with pytest.raises(ValueError, match="nobody-wrote-this-down"):
        Code("nobody-wrote-this-down")


def test_a_reason_has_no_severity_whatever_its_code():
    assert reason(Code.STIFF_FLAT).severity is Severity.FINE


def test_findings_can_be_put_in_a_set():
    assert len({finding(Code.UNTRACKED, service="a"), finding(Code.UNTRACKED, service="a")}) == 1


@pytest.mark.parametrize(("severity", "word"), [("STOP", "stop"), ("LOOK", "look"), ("NOTE", "note"), ("FINE", "fine")])
def test_severities_have_the_words_of_the_tables(severity, word):
    assert Severity[severity] == word


def test_the_most_serious_comes_first():
    assert sorted(Severity, key=lambda severity: severity.rank) == ["stop", "look", "note", "fine"]


def test_only_stops_and_issues_to_check_need_a_person():
    assert [severity.value for severity in Severity if severity.is_issue] == ["stop", "look"]
