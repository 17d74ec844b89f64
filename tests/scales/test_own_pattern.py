"""A pattern typed by a person: a refusal names the reason, and an accepted pattern never delays the bench."""

import time

import pytest
import regex

from desk.domain.faults import Refused
from desk.scales.drivers.own_pattern import LONGEST_PATTERN, check_expression


@pytest.mark.parametrize(
    "expression",
    [
        r"(?P<value>\d+\.\d)",
        r" *(?P<value>[+-]?\d{1,6}(?:\.\d{1,3})?) *(?P<unit>oz|g) *",
        r"(?P<lb>\d+) lb (?P<oz>\d+\.\d) oz",
        r"(?P<status>ST|US),(?P<value>\d+)(?i:OZ)",
        "(?P<value>1)" + "x" * (LONGEST_PATTERN - 12),
    ],
)
def test_a_plain_pattern_passes(expression):
    check_expression(expression)


@pytest.mark.parametrize(
    ("expression", "reported"),
    [
        ("(?P<value>1)" + "x" * (LONGEST_PATTERN - 11), "more than 300 characters. Shorten it"),
        (r"(?P<value>\d+", "cannot be read"),
        (r"(?P<value>[)", "cannot be read"),
        (r"(?P<value>*)", "cannot be read"),
        (r"\d+", "names no value"),
        (r"(?P<lb>\d+) lb", "names no value"),
        (r"(?P<weight>\d+)", "names no value"),
        ("", "names no value"),
        (r"(?=1)(?P<value>\d)", "looks around or refers back"),
        (r"(?<!1)(?P<value>\d)", "looks around or refers back"),
        (r"(?P<value>\d)\1", "looks around or refers back"),
        (r"(?P<value>\d)(?P=value)", "looks around or refers back"),
        (r"(?P<value>\d|(?R))", "looks around or refers back"),
        (r"(?P<value>\d)(?(value)1|2)", "looks around or refers back"),
        (r"(?P<value>(?:1|11)+)A", "takes too long on some lines"),
        (r"(?P<value>(?:1|1A|[1A]1)*)[xy]", "takes too long on some lines"),
    ],
)
def test_a_refused_pattern_has_a_one_sentence_reason(expression, reported):
    with pytest.raises(Refused, match=reported) as refused:
        check_expression(expression)
    assert refused.value.sentence.endswith(".")


def test_a_slow_pattern_is_detected_quickly():
    began = time.thread_time()
    with pytest.raises(Refused):
        check_expression(r"(?P<value>(?:1|11)+)A")
    assert time.thread_time() - began < 1.0


def test_accepted_patterns_are_quick_on_the_longest_line():
    expression = r" *(?P<value>[+-]?\d{1,6}(?:\.\d{1,3})?) *(?P<unit>oz|g)? *"
    check_expression(expression)
    whole, began = regex.compile(expression), time.thread_time()
    for sign in "1 .+-Ao":
        whole.fullmatch(sign * 96)
    assert time.thread_time() - began < 0.1
