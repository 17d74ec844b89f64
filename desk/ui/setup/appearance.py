"""The appearance page: theme, text size, and sound."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout

from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.form import Form, Scrolled
from desk.ui.kit.scheme import choose_scheme, chosen_scheme
from desk.ui.kit.sound import choose_loudness, loudness, sound
from desk.ui.setup.page import Page

TITLE = "Appearance"
SIZES = tuple((size, "same as system" if size == "100" else f"{size} %") for size in typeface.CHOICES)
SOUNDS = (("loud", "louder (play twice)"), ("on", "quieter (play once)"), ("off", "off"))


class AppearancePage(Page):
    """Choices of this computer, not of the shop; they can't be undone."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        schemes = (("system", "same as system"), ("light", "light"), ("dark", "dark"))
        self.form = Form(
            [
                ChoiceField("scheme", "Theme", schemes),
                ChoiceField("type", "Text size", SIZES),
                ChoiceField("sound", "Sound", SOUNDS),
            ]
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.form))
        self.form.left.connect(self._choose)

    def refresh(self) -> None:
        """Show the current settings."""
        self.form.show_values(
            {"scheme": chosen_scheme(), "type": typeface.chosen_size(), "sound": loudness()}, fresh=True
        )

    def arrive(self) -> None:
        """Put the focus where work continues."""
        self.form.fields["scheme"].setFocus()

    def _choose(self, name: str) -> None:
        value = self.form.texts()[name]
        if name == "scheme":
            choose_scheme(value)
        elif name == "type":
            typeface.choose_size(value)
            self.desk.look_changed.emit()
        else:
            choose_loudness(value)
            sound()
        self.refresh()
