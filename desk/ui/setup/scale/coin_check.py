"""The card for checking the scale with coins or a check weight, with earlier checks."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QVBoxLayout

from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.domain.weight import Shown
from desk.session.scale.at_the_scale import Live
from desk.session.scale.coin_check import (
    COINS,
    CheckWeight,
    ScaleCheck,
    check_scale,
    checked_on,
    coins,
    own_weight,
    scale_checks,
)
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.scale_bridge import ScaleBridge
from desk.ui.setup.weighing import WeighButton, settled_weight

OWN = "own"
SHOWN = 5


class CheckCard(Card):
    """Checks the scale: put the chosen weight on, and it is read when it settles. Five quarters are an ounce."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Check", "Check with coins")
        self._desk = desk
        kinds = (*((name, plural) for name, (plural, _) in COINS.items()), (OWN, "my own check weight"))
        self.form = Form(
            [
                ChoiceField("what", "Check with", kinds),
                LineField("count", "How many"),
                LineField("own", "Weight", hint="200 g"),
            ]
        )
        self.form.fields["count"].put("5")
        self.weigh = WeighButton(lambda: settled_weight(desk), "check of the scale")
        self.live = Inked(size=typeface.STRONG, bold=True)
        self.found = Inked(size=typeface.BODY, bold=True)
        self.found.setWordWrap(True)
        self.before = QVBoxLayout()
        for part in (self.form, self.live, self.weigh, self.found):
            self.column.addWidget(part)
        self.column.addLayout(self.before)
        self.form.left.connect(lambda _name: self._choose())
        self.weigh.taken.connect(self._check)
        self._choose()
        if isinstance(desk.scale, ScaleBridge):
            desk.scale.told.connect(self._show_live)

    @Slot(object)
    def _show_live(self, live: Live) -> None:
        """Show the scale's display, with its state."""
        self.live.setText("  ".join(filter(None, (live.words, live.state))))

    def show_checks(self) -> None:
        """Show the saved checks, newest first."""
        checks = scale_checks(self._desk.sitting)
        self.found.setText(checks[0].sentence() if checks else "")
        self.found.setVisible(bool(checks))
        if checks:
            self.found.role = _role(checks[0])
        while (item := self.before.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        for check in checks[:SHOWN]:
            words = f"{checked_on(check)}  {check.words}: {check.error:+.1f}"
            self.before.addWidget(Inked(words, "soft_ink", typeface.SMALL))

    def _choose(self) -> None:
        own = self.form.fields["what"].value() == OWN
        self.form.fields["own"].setVisible(own)
        self.form.fields["count"].setVisible(not own)

    def _check(self, shown: Shown) -> None:
        for field in self.form.fields.values():
            field.say()
        own = self.form.fields["what"].value() == OWN
        try:
            true = self._true(own)
        except Refused as refused:
            self.form.fields["own" if own else "count"].say(Severity.STOP, refused.sentence)
            return
        self._desk.do(check_scale, shown, true)

    def _true(self, own: bool) -> CheckWeight:
        values = self.form.texts()
        if own:
            return own_weight(values["own"])
        count = values["count"]
        return coins(values["what"], int(count) if count.isdecimal() else 0)


def _role(check: ScaleCheck) -> str:
    return Severity.FINE if check.narrows else Severity.LOOK if check.inside else Severity.STOP
