from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from desk.domain.finding import Severity
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.session.scale.at_the_scale import Live
from desk.ui.bridge import Desk, Event
from desk.ui.kit.fields.text_fields import EditField
from desk.ui.kit.scheme import chosen_scheme
from desk.ui.kit.sound import is_sound_on
from desk.ui.setup.records import RecordsPage
from desk.ui.setup.view import PAGES, SetupView, build
from desk.ui.setup.weighing import WeighButton
from tests.ui.screens import show_screen


def show(qtbot: QtBot, desk: Desk) -> SetupView:
    view = build(desk)
    assert isinstance(view, SetupView)
    return show_screen(qtbot, view, (1024, 560), in_front=True)


pytestmark = pytest.mark.screen(SetupView, size=(1024, 560), in_front=True)


def records(view: SetupView, title: str) -> RecordsPage:
    view.open_page(title)
    page = view.page
    assert isinstance(page, RecordsPage)
    return page


def edit(page: QWidget, name: str) -> QLineEdit:
    field = page.form.fields[name]  # type: ignore[attr-defined]
    assert isinstance(field, EditField)
    return field.edit


def retype(qtbot: QtBot, page: QWidget, name: str, text: str) -> None:
    line = edit(page, name)
    line.setFocus()
    line.selectAll()
    qtbot.keyClick(line, Qt.Key.Key_Backspace)
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Tab)


def fault(page: QWidget, name: str) -> str:
    return str(page.form.fields[name].fault.label.text())  # type: ignore[attr-defined]


def test_a_typed_field_is_saved_when_left_and_undo_restores_it(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    page = records(view, "Mailers")
    messages: list[Event] = []
    desk.happened.connect(messages.append)
    retype(qtbot, page, "tare", "0.5")
    assert desk.pile.terms.shop.mailers[0].tare == Weight.of("0.5", "oz")
    assert (messages[-1].words, messages[-1].undo) == ("Mailer saved: A7 envelope", True)
    desk.undo()
    assert edit(page, "tare").text() == "0.28"


def test_a_fault_is_at_its_field_and_the_typed_text_stays(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    page = records(view, "Mailers")
    before = desk.pile.terms.shop.mailers[0]
    retype(qtbot, page, "tare", "heavy")
    assert fault(page, "tare") == "Expected a number such as 12.50."
    retype(qtbot, page, "pack_count", "100")
    assert desk.pile.terms.shop.mailers[0].pack_count == 100
    assert desk.pile.terms.shop.mailers[0].tare == before.tare
    assert edit(page, "tare").text() == "heavy"
    retype(qtbot, page, "tare", "0.3")
    assert (fault(page, "tare"), desk.pile.terms.shop.mailers[0].tare) == ("", Weight.of("0.3", "oz"))


def test_another_record_shows_its_own_fields(qtbot: QtBot, view: SetupView) -> None:
    page = records(view, "Mailers")
    retype(qtbot, page, "tare", "heavy")
    page.list.setCurrentRow(1)
    assert (edit(page, "name").text(), edit(page, "tare").text()) == ("No. 10 envelope", "0.16")
    assert fault(page, "tare") == ""


@pytest.mark.parametrize(
    ("title", "name"),
    [("Mailers", "New mailer"), ("Products", "New product"), ("Shipping choices", "New choice 1"), ("Stamps", "")],
)
def test_records_are_added_and_removed(view: SetupView, desk: Desk, title: str, name: str) -> None:
    page = records(view, title)
    count = page.list.count()
    view.add()
    assert page.list.count() == count + 1
    assert page.place == count
    assert name in page.list.item(count).text()
    page.remove_button.click()
    assert page.list.count() == count
    desk.undo()
    assert page.list.count() == count + 1


def test_a_renamed_record_keeps_its_position(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    page = records(view, "Products")
    page.list.setCurrentRow(2)
    retype(qtbot, page, "name", "Another thing")
    assert page.list.item(2).text() == desk.pile.terms.shop.products[2].name == "Another thing"
    assert page.place == 2
    retype(qtbot, page, "origin", "Nowhere")
    assert "two-letter code" in fault(page, "origin")


def test_a_choice_is_renamed_and_allows_other_services(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    page = records(view, "Shipping choices")
    retype(qtbot, page, "name", "By letter")
    page.form.fields["services"].boxes["media"].click()  # type: ignore[attr-defined]
    assert desk.pile.terms.shop.choices["By letter"] == ("letter-stamped", "flat", "media")
    retype(qtbot, page, "name", "")
    assert fault(page, "name") == "Type the words the buyer chooses by."


def test_counting_stamps_sets_the_stock(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    page = records(view, "Stamps")
    retype(qtbot, page, "count", "12")
    assert desk.pile.terms.shop.stamps[0].count == 12
    assert page.list.item(0).text().endswith(": 12")


def test_changed_rules_apply_at_once(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    view.open_page("Rules")
    page = view.page
    page.form.fields["parcel_services"].boxes["ground-retail"].click()  # type: ignore[attr-defined]
    assert "ground-retail" not in desk.pile.terms.shop.policy.parcel_services
    retype(qtbot, page, "max_stamps", "many")
    assert fault(page, "max_stamps") == "Expected a whole number."
    retype(qtbot, page, "skip_status", "canceled, refunded")
    assert desk.pile.terms.shop.policy.skip_status == ("canceled", "refunded")


def test_sender_and_tax_numbers_are_saved(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    page = view.page
    retype(qtbot, page, "city", "")
    assert fault(page, "city") == "Needed on labels and forms."
    assert desk.pile.terms.shop.sender.city == ""
    assert [jump.words for jump in view.jumps()] == ["sender incomplete"]
    voec = page.taxes.fields["voec"]  # type: ignore[attr-defined]
    voec.put("0000000")
    voec.commit()
    assert desk.pile.terms.shop.tax_ids["voec"] == "0000000"


def test_an_empty_store_says_what_a_sender_needs_and_takes_records(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    assert fault(view.page, "name") == "Needed: a name or a company."
    page = records(view, "Mailers")
    assert (page.nothing.isVisible(), page.scrolled.isVisible(), page.remove_button.isEnabled()) == (True, False, False)
    page.add_button.click()
    assert (page.nothing.isVisible(), page.scrolled.isVisible()) == (False, True)
    retype(qtbot, page, "name", "Card")
    assert empty_desk.pile.terms.shop.mailer("Card") is not None


def test_light_dark_and_sound_can_be_chosen(view: SetupView) -> None:
    view.open_page("Appearance")
    fields = view.page.form.fields  # type: ignore[attr-defined]
    fields["scheme"].box.setCurrentIndex(2)
    fields["sound"].put("off")
    fields["sound"].commit()
    assert (chosen_scheme(), is_sound_on()) == ("dark", False)


def test_pages_are_turned_by_keys_and_opened_by_name(qtbot: QtBot, view: SetupView) -> None:
    titles = [title for title, _ in PAGES]
    qtbot.keyClick(view.page, Qt.Key.Key_PageDown, Qt.KeyboardModifier.ControlModifier)
    assert view.page.name == titles[1]
    view.turn(-2)
    assert view.page.name == titles[-1]
    view.add()  # a page without records adds nothing
    view.words["Stamps"].click()
    assert view.page.name == "Stamps"
    assert [title for title, word in view.words.items() if word.isChecked()] == ["Stamps"]


@dataclass
class Scale:
    """A scale that shows a given reading."""

    shown: Shown | None = None
    mark: Severity = Severity.FINE

    @property
    def live(self) -> Live:
        return Live(shown=self.shown, mark=self.mark)


def button(page: QWidget) -> WeighButton:
    return page.findChildren(WeighButton)[0]


@pytest.mark.parametrize("title", ["Mailers", "Products"])
def test_a_weight_is_read_from_the_scale_where_one_is_asked_for(view: SetupView, desk: Desk, title: str) -> None:
    desk.scale = Scale(Shown(Decimal("41"), WeightUnit.GRAM, Decimal(1)))  # type: ignore[assignment]
    page = records(view, title)
    button(page).click()
    shop = desk.pile.terms.shop
    taken = shop.mailers[0].tare if title == "Mailers" else shop.products[0].unit_weight
    assert taken == Weight.of(41, "g")


def test_reading_a_weight_waits_until_the_scale_has_settled(qtbot: QtBot, view: SetupView, desk: Desk) -> None:
    scale = Scale(Shown(Decimal("19.2"), WeightUnit.POUND_OUNCE, Decimal("0.1")), mark=Severity.NOTE)
    desk.scale = scale  # type: ignore[assignment]
    page = records(view, "Mailers")
    button(page).click()
    assert (button(page).is_waiting, button(page).text()) == (True, "Stop waiting")
    scale.mark = Severity.FINE
    qtbot.waitUntil(lambda: not button(page).is_waiting)
    assert desk.pile.terms.shop.mailers[0].tare == Weight.of("19.2", "oz")


def test_waiting_for_the_scale_ends_when_clicked_again_or_left(view: SetupView, desk: Desk) -> None:
    desk.scale = None  # type: ignore[assignment]
    page = records(view, "Mailers")
    button(page).click()
    button(page).click()
    assert not button(page).is_waiting
    button(page).click()
    view.open_page("Stamps")
    assert not button(page).is_waiting


@pytest.mark.parametrize(("pose", "words"), [("full", ""), ("trouble", "Expected a number such as 12.50.")])
def test_the_screen_has_poses_for_pictures(view: SetupView, pose: str, words: str) -> None:
    view.pose(pose)
    assert fault(view.page, "tare") == words


def test_large_type_puts_the_list_above_its_form(qtbot: QtBot, desk: Desk, qapp: QApplication) -> None:
    font, larger = qapp.font(), qapp.font()
    larger.setPointSizeF(font.pointSizeF() * 2)
    qapp.setFont(larger)
    try:
        page = records(show(qtbot, desk), "Shipping choices")
        assert page.scrolled.mapTo(page, QPoint()).y() > page.list.geometry().bottom()
        assert page.scrolled.horizontalScrollBar().maximum() == 0
    finally:
        qapp.setFont(font)


def test_tab_goes_from_the_list_into_the_first_field(qtbot: QtBot, desk: Desk) -> None:
    page = records(show(qtbot, desk), "Mailers")
    page.list.setFocus()
    qtbot.keyClick(page.list, Qt.Key.Key_Tab)
    assert page.form.fields["name"].editor().hasFocus()
