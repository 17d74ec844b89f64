"""The scale page: which scale and format, listening to it, its tray, and its check with coins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QSignalBlocker
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QVBoxLayout

from desk.session.scale.choice import OWN, ScaleChoice, ScaleKind, save_scale, scale_choice, usual_scale
from desk.session.scale.ports import BITS_WORDS, KIND_WORDS, ports, presets, speeds
from desk.session.setup.change_shop import FieldFault, save_policy
from desk.session.setup.shop_texts import policy_texts
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ChoiceField, YesNoField
from desk.ui.kit.fields.field import Field, FieldValue
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form, Scrolled, keep
from desk.ui.setup.page import Page
from desk.ui.setup.scale.coin_check import CheckCard
from desk.ui.setup.scale.listening import ListenCard, RightsCard
from desk.ui.setup.scale.status_bits import BitsCard
from desk.ui.setup.scale.tray import TrayCard

TITLE = "Scale"
UNITS = (("", "as shown"), ("oz", "oz"), ("lb", "lb"), ("g", "g"), ("kg", "kg"), ("lb-oz", "lb and oz"))
SERIAL_ONLY = ("port", "preset", "speed", "bits")
OWN_ONLY = ("own_expression", "own_request", "own_ends", "own_states")


class ScalePage(Page):
    """Each field is saved when you leave it, and the scale restarts."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.usual = usual_scale(is_demo=desk.is_demo)
        self._port = ChoiceField("port", "Port", ())
        self.form, self.steps = Form(_fields(self._port)), Form(_steps())
        self.listen, self.rights = ListenCard(desk), RightsCard()
        self.bits = BitsCard(desk, self.usual)
        self.tray, self.check = TrayCard(desk, self.usual), CheckCard(desk)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        parts = (self.form, self.listen, self.bits, self.rights, self.steps, self.tray, self.check)
        column.addWidget(Scrolled(TITLE, *parts))
        self.form.left.connect(self._leave)
        self.steps.left.connect(lambda name: keep(self.steps, name, self._save_step))
        self.listen.chosen.connect(self._take_proposal)
        self._seen = False

    @property
    def choice(self) -> ScaleChoice:
        """Return the scale chosen now."""
        return scale_choice(self.desk.sitting, self.usual)

    def refresh(self) -> None:
        """Show the current settings."""
        choice = self.choice
        self._list_ports(choice.port)
        values = {name: getattr(choice, name) for name in self.form.fields}
        self.form.show_values(values, fresh=not self._seen)
        self.steps.show_values(policy_texts(self.shop.policy), fresh=not self._seen)
        self._seen = True
        self.tray.show_choice(choice)
        self.bits.show_choice(choice)
        self.check.show_checks()
        self._show_parts()

    def _show_parts(self) -> None:
        """Show only the fields this kind of scale has, by the typed values, saved or not."""
        typed = self.form.texts()
        serial = typed["kind"] == ScaleKind.SERIAL
        visible = {
            **dict.fromkeys(SERIAL_ONLY, serial),
            "preset": serial or typed["kind"] == ScaleKind.VIRTUAL,
            **dict.fromkeys(OWN_ONLY, serial and typed["preset"] == OWN),
            "usb": typed["kind"] == ScaleKind.USB,
        }
        for name, is_shown in visible.items():
            self.form.fields[name].setVisible(is_shown)
        self.listen.setVisible(serial)
        self.rights.show_kind(typed["kind"])

    def _list_ports(self, chosen: str) -> None:
        """List the current ports, since one may have been plugged in."""
        box, typed = self._port.box, self._port.value()
        with QSignalBlocker(box):
            box.clear()
            for name, words in (("", "choose one"), *ports(typed or chosen)):
                box.addItem(words, name)
        self._port.put(typed)

    def arrive(self) -> None:
        """Put the focus where work continues."""
        self.form.fields["kind"].setFocus()

    def showEvent(self, event: QShowEvent) -> None:
        """Look for ports again."""
        super().showEvent(event)
        self._list_ports(self.choice.port)

    def hideEvent(self, event: QHideEvent) -> None:
        """Stop listening when the page is left, since the bench needs the scale."""
        self.listen.stop()
        super().hideEvent(event)

    def _leave(self, name: str) -> None:
        keep(self.form, name, self._save)
        self._show_parts()

    def _save(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(save_scale, values, self.usual)

    def _save_step(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(save_policy, {**policy_texts(self.shop.policy), **values})

    def _take_proposal(self, preset: str, seven_bits: bool) -> None:
        """Use the format that fits, and read with it at once."""
        bits = {"bits": "7E1"} if seven_bits else {}
        self.listen.stop()
        self._save({"preset": preset, **bits})


def _fields(port: ChoiceField) -> list[Field | str]:
    return [
        "The scale",
        ChoiceField("kind", "Scale", KIND_WORDS),
        port,
        ChoiceField("preset", "Format", presets()),
        ChoiceField("speed", "Speed", speeds()),
        ChoiceField("bits", "Bits and parity", tuple(BITS_WORDS.items())),
        LineField("usb", "Serial number, if several are plugged in", hint="the first one"),
        LineField("own_expression", "Pattern of a line, with groups value, unit and status"),
        LineField("own_request", "What to send, such as W\\r", hint="nothing, it sends on its own"),
        ChoiceField("own_ends", "What ends a line", (("line", "CR or LF"), ("etx", "ETX"))),
        LineField("own_states", "Words of the status group", hint="ST stable, US moving, OL over"),
    ]


def _steps() -> list[Field | str]:
    return [
        "Readings",
        LineField("scale_division", "Resolution, as printed on the scale", hint="smallest digit shown"),
        ChoiceField("scale_unit", "Unit of the resolution", UNITS),
        YesNoField("scale_rounds_up", "Scale rounds up"),
    ]
