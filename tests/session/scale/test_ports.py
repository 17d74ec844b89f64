"""What Setup offers about scales: everything that can be chosen has words, and what opens a scale can be copied."""

from __future__ import annotations

import pytest

from desk.scales.drivers.presets import PRESETS
from desk.scales.find import RULE
from desk.session.scale import ports as scale_setup
from desk.session.scale.choice import BITS, OWN, SPEEDS, ScaleKind


def test_every_choice_has_its_own_words() -> None:
    assert [name for name, _ in scale_setup.presets()] == [*PRESETS, OWN]
    assert [name for name, _ in scale_setup.KIND_WORDS] == ["none", "virtual", "virtual-usb", "usb", "serial"]
    assert {name for name, _ in scale_setup.KIND_WORDS} == set(ScaleKind)
    assert tuple(scale_setup.BITS_WORDS) == BITS
    assert scale_setup.speeds() == tuple((str(speed), str(speed)) for speed in SPEEDS)
    for words in (
        scale_setup.PRESET_WORDS.values(),
        scale_setup.BITS_WORDS.values(),
        dict(scale_setup.KIND_WORDS).values(),
    ):
        assert len(set(words)) == len(words)


@pytest.mark.parametrize("preset", PRESETS)
def test_the_words_of_a_protocol_say_who_sends_first(preset: str) -> None:
    request = PRESETS[preset].request.strip(b"\r\n").decode()
    words = scale_setup.preset_words(preset)
    assert words.startswith("answers ") is bool(request)
    assert f" {request}:" in words if request else words.startswith("sends on its own")


def test_a_virtual_scale_says_that_its_weights_are_invented() -> None:
    assert all("invented" in words for name, words in scale_setup.KIND_WORDS if name.startswith("virtual"))


def test_a_chosen_port_that_is_missing_stays_listed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scale_setup, "serial_names", lambda: ("COM3", "COM4"))
    assert scale_setup.ports() == (("COM3", "COM3"), ("COM4", "COM4"))
    assert scale_setup.ports("COM4") == scale_setup.ports()
    assert scale_setup.ports("COM9")[-1] == ("COM9", "COM9 (not connected)")


def test_the_permission_rule_is_copied_completely() -> None:
    text = scale_setup.rule_to_copy()
    assert RULE in text
    assert text.startswith("sudo tee /etc/udev/rules.d/70-hid-scale.rules")
    assert "udevadm control --reload-rules" in text
    assert "idVendor" not in text
