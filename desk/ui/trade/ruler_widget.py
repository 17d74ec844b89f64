"""The ounce ruler as a widget: it shows one picture and gives a screen reader the same in words."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.session.words.figures import measure
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force
from desk.ui.trade.ruler import RulerPicture, paint_ruler


class RulerWidget(QWidget):
    """Paints a ruler as wide as it is."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.picture = RulerPicture()

    def show_picture(self, picture: RulerPicture) -> None:
        """Show a picture; showing the same one again is free."""
        if picture == self.picture:
            return
        self.picture = picture
        steps = ", ".join(f"{pennant.text} up to {pennant.at:g} oz" for pennant in picture.pennants)
        weight = "" if picture.weight is None else f"{picture.weight:.2f} oz. "
        self.setAccessibleDescription(measure(f"{weight}{steps}"))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(320, self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(240, round(56 + 44 * typeface.scale()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        paint_ruler(QPainter(self), self.picture, QRectF(self.rect()), sheet_in_force())
