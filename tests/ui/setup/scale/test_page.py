"""The scale page: settings are saved field by field, bytes are shown, a fitting protocol is used, coins are checked."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton

from desk.domain.weight import Shown, WeightUnit
from desk.scales.find import RULE
from desk.scales.port import Link, LinkState
from desk.scales.reading import State, shown_reading
from desk.session.scale.choice import scale_choice, tray_of, trusted_bit
from desk.session.scale.coin_check import check_scale, coins, scale_checks
from desk.session.verdict.scale_trust import tolerance_scale
from desk.ui.scale_bridge import ScaleBridge
from desk.ui.setup.view import build

LINE = b"ST,GS,+   1.25,oz\r\n"


class Source:
    """Remembers whether it was asked to listen."""

    def __init__(self):
        self.asked = []

    def listen(self, on):
        self.asked.append(on)


@pytest.fixture
def page(qtbot, desk):
    desk.scale = ScaleBridge(desk, lambda: 0.0)
    desk.scale.source = Source()
    view = build(desk)
    qtbot.addWidget(view)
    view.resize(1024, 640)
    view.show()
    view.open_page("Scale")
    desk.changed.connect(view.refresh)
    return view.page


def choose(page, name, value):
    field = page.form.fields[name]
    field.put(value)
    field.commit()


def shown_fields(page):
    return {name for name, field in page.form.fields.items() if not field.isHidden()}


def serial(page):
    page._port.box.addItem("ttyX", "/dev/ttyX")
    choose(page, "port", "/dev/ttyX")
    choose(page, "kind", "serial")


def test_at_first_only_the_kind_of_scale_is_asked_for(page):
    assert shown_fields(page) == {"kind"}
    assert page.listen.isHidden()
    assert page.rights.isHidden()


def test_a_serial_scale_is_saved_field_by_field(page, desk):
    serial(page)
    choose(page, "preset", "poll-etx")
    choose(page, "speed", "2400")
    choose(page, "bits", "7E1")
    got = scale_choice(desk.sitting)
    assert (got.kind, got.port, got.preset, got.speed, got.bits) == ("serial", "/dev/ttyX", "poll-etx", 2400, "7E1")
    assert shown_fields(page) == {"kind", "port", "preset", "speed", "bits"}
    desk.undo()
    assert page.form.fields["bits"].value() == "8N1"


def test_a_serial_scale_without_a_port_is_reported_at_the_port(page, desk):
    choose(page, "kind", "serial")
    assert scale_choice(desk.sitting).kind == "none"
    assert "port" in page.form.fields["port"].fault.label.text()


def test_a_virtual_scale_on_a_serial_port_has_only_its_protocol_to_choose(page, desk):
    choose(page, "kind", "virtual")
    assert shown_fields(page) == {"kind", "preset"}
    choose(page, "kind", "virtual-usb")
    assert shown_fields(page) == {"kind"}
    assert page.rights.isHidden()


def test_a_fault_can_be_seen_and_corrected(page, desk):
    choose(page, "kind", "serial")
    assert not page.form.fields["port"].isHidden()
    serial(page)
    assert scale_choice(desk.sitting).kind == "serial"


def test_a_custom_pattern_has_its_fields(page, desk):
    serial(page)
    choose(page, "preset", "own")
    assert {"own_expression", "own_states"} <= shown_fields(page)
    choose(page, "own_expression", r"(?P<weight>1)")
    assert "names no value" in page.form.fields["own_expression"].fault.label.text()
    choose(page, "own_expression", r"(?P<value>\d+\.\d) (?P<unit>oz)")
    assert scale_choice(desk.sitting).preset == "own"


def test_listening_shows_bytes_and_uses_the_protocol_that_fits(page, desk, qtbot):
    serial(page)
    choose(page, "preset", "framed-words")
    page.listen.button.click()
    assert desk.scale.source.asked == [True]
    desk.scale.raw.emit(b"\x80junk\r\n" + LINE * 6)
    qtbot.waitUntil(lambda: "ST,GS" in page.listen.raw.toPlainText())
    assert page.listen.raw.toPlainText().startswith("<80>junk")
    (take,) = (one for one in page.listen.findChildren(QPushButton) if one.text().startswith("Use: "))
    take.click()
    assert scale_choice(desk.sitting).preset == "status-prefixed"
    assert desk.scale.source.asked == [True, False]
    assert not page.listen.is_listening


def test_leaving_the_page_ends_listening(page, desk):
    serial(page)
    page.listen.button.click()
    page.hide()
    assert desk.scale.source.asked == [True, False]


def test_bytes_are_not_shown_when_listening_is_off(page, desk):
    serial(page)
    desk.scale.raw.emit(LINE * 6)
    assert page.listen.raw.toPlainText() == ""


def poll_scale(page):
    serial(page)
    choose(page, "preset", "poll-etx")
    return page.bits


def hear_bits(desk, *statuses):
    for status in statuses:
        raw = b"\n 001.25OZ\r\nS" + status + b"\r"
        desk.scale._hear((0.0, shown_reading(Decimal("1.25"), "oz", State.STABLE, raw)))


def buttons(card):
    return [one.text() for one in card.findChildren(QPushButton) if not one.isHidden()]


def test_disputed_bits_are_detected_accepted_and_forgotten(page, desk):
    assert page.bits.isHidden()
    card = poll_scale(page)
    assert not card.isHidden()
    assert "equal readings decide" in card.words.text()
    assert buttons(card) == ["Find out"]
    card.begin.click()
    for ask, status in (("Clear the scale.", b"10"), ("Press on", b"00"), ("Put something on", b"10")):
        assert card.words.text().startswith(ask)
        assert buttons(card) == ["Done"]
        hear_bits(desk, b"70")  # not asked for yet
        card.so.click()
        assert buttons(card) == []
        hear_bits(desk, *[status] * 8)
    assert card.words.text().endswith("Bit 0 of the first status byte means moving when it is 0.")
    assert trusted_bit(scale_choice(desk.sitting)) is None  # not before it is accepted
    assert buttons(card) == ["Trust it", "Try again"]
    card.trust.click()
    assert trusted_bit(scale_choice(desk.sitting)).when is False
    assert card.words.text().startswith("Trusted: ")
    assert buttons(card) == ["Try again", "Forget it"]
    card.forget.click()
    assert trusted_bit(scale_choice(desk.sitting)) is None
    assert buttons(card) == ["Find out"]


def test_a_trial_without_a_result_can_be_repeated(page, desk):
    card = poll_scale(page)
    card.begin.click()
    for _ in range(3):
        card.so.click()
        hear_bits(desk, *[b"00"] * 8)
    assert card.words.text().startswith("No single bit shows")
    assert buttons(card) == ["Try again"]
    card.begin.click()
    assert card.words.text() == "Clear the scale."
    card.trust.click()
    assert trusted_bit(scale_choice(desk.sitting)) is None


def test_a_trial_that_is_left_is_canceled(page, desk):
    card = poll_scale(page)
    card.begin.click()
    page.hide()
    page.show()
    assert buttons(card) == ["Find out"]
    card.begin.click()
    choose(page, "preset", "poll-etx-lb-oz")
    assert buttons(card) == ["Find out"]
    card._go_on()
    assert buttons(card) == ["Find out"]


def test_the_rule_for_usb_is_copied(page):
    choose(page, "kind", "usb")
    assert not page.rights.isHidden()
    assert "usb" in shown_fields(page)
    page.rights.copy.click()
    assert RULE in QGuiApplication.clipboard().text()


def test_access_to_a_serial_port_is_explained_by_its_group(page):
    serial(page)
    assert page.rights.rule.isHidden()
    assert "dialout" in page.rights.words.text()


def test_step_and_unit_are_saved_in_the_policy(page, desk):
    field = page.steps.fields["scale_division"]
    field.put("0.05")
    field.commit()
    assert desk.pile.terms.shop.policy.scale_division == Decimal("0.05")


def test_how_the_scale_rounds_is_asked_once_and_saved(page, desk):
    box = page.steps.fields["scale_rounds_up"].box
    assert "rounds up" in box.text()
    box.click()
    assert desk.pile.terms.shop.policy.scale_rounds_up is True
    desk.undo()
    assert (desk.pile.terms.shop.policy.scale_rounds_up, box.isChecked()) == (False, False)


def ounces(value):
    return Shown(Decimal(value), WeightUnit.OUNCE, Decimal("0.1"))


def test_five_quarters_are_checked_with_the_live_weight(page, desk):
    page.check.weigh.taken.emit(ounces("1.0"))
    (check,) = scale_checks(desk.sitting)
    assert (check.words, round(check.error, 2), check.narrows) == ("5 quarters", Decimal("0.00"), True)
    assert page.check.found.text() == check.sentence()
    assert page.check.found.role == "fine"
    assert tolerance_scale(desk.sitting) == Decimal("0.5")
    desk.undo()
    assert (scale_checks(desk.sitting), page.check.found.text()) == ((), "")


@pytest.mark.parametrize(("shown", "role"), [("1.0", "fine"), ("1.1", "look"), ("1.5", "stop")])
def test_the_result_of_a_check_has_a_color_and_a_sentence(page, desk, shown, role):
    check_scale(desk.sitting, ounces(shown), coins("quarter", 5))
    assert page.check.found.role == role


def test_an_invalid_count_is_reported_at_its_field(page, desk):
    page.check.form.fields["count"].put("many")
    page.check.weigh.taken.emit(ounces("1.0"))
    assert scale_checks(desk.sitting) == ()
    assert "number of coins" in page.check.form.fields["count"].fault.label.text()


def test_a_custom_check_weight_can_be_used(page, desk):
    page.check.form.fields["what"].put("own")
    page.check.form.fields["what"].commit()
    page.check.form.fields["own"].put("4 oz")
    page.check.weigh.taken.emit(ounces("4.1"))
    assert [str(check.error) for check in scale_checks(desk.sitting)] == ["1"]


def test_the_history_is_listed_newest_first_and_short(page, desk):
    for value in ("1.0", "1.1", "1.2", "1.3", "1.4", "0.9"):
        check_scale(desk.sitting, ounces(value), coins("quarter", 5))
    words = [page.check.before.itemAt(place).widget().text() for place in range(page.check.before.count())]
    assert len(words) == 5
    assert words[0].endswith("5 quarters: -1.0")


def test_a_tray_is_weighed_and_removed(page, desk):
    page.tray.weigh.taken.emit(ounces("3.2"))
    assert tray_of(scale_choice(desk.sitting)).words() == "3.2 oz"
    assert "3.2 oz; that is subtracted" in page.tray.words.text()
    page.tray.away.click()
    assert tray_of(scale_choice(desk.sitting)) is None


def test_a_port_plugged_in_meanwhile_is_listed_and_the_chosen_one_stays(page, desk, monkeypatch):
    serial(page)
    monkeypatch.setattr("desk.session.scale.ports.serial_names", lambda: ("/dev/ttyNEW",))
    page.hide()
    page.show()
    names = [page._port.box.itemData(place) for place in range(page._port.box.count())]
    assert names == ["", "/dev/ttyNEW", "/dev/ttyX"]
    assert page._port.value() == "/dev/ttyX"


def test_the_live_weight_is_shown_next_to_the_check(page, desk):
    desk.scale._hear(LinkState(Link.LIVE))
    desk.scale._hear((0.0, shown_reading(Decimal("1.0"), "oz", State.STABLE, b"")))
    desk.scale.clock = lambda: 1.0
    desk.scale._tick()
    assert page.check.live.text().startswith("1.0 oz")
