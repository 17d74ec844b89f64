"""The preview: pages in a column as they will be printed. Only visible pages are drawn, and a few are cached."""

from __future__ import annotations

from bisect import bisect_right
from collections import OrderedDict
from itertools import pairwise

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QImage, QKeyEvent, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QAbstractScrollArea, QFrame

from desk.session.papers.pictures import PagePictures, open_pages
from desk.ui.kit import type as typeface
from desk.ui.kit.palette import sheet_in_force

DPI = 96
GAP = 16
KEPT = 8


class PagesView(QAbstractScrollArea):
    """The pages of one PDF at 96 dots an inch, smaller where the view is narrower."""

    def __init__(self) -> None:
        super().__init__()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.viewport().setBackgroundRole(QPalette.ColorRole.Window)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._pages: PagePictures | None = None
        self._drawn: OrderedDict[int, QImage] = OrderedDict()
        self._tops: list[int] = [0]
        self._name()

    def show_pdf(self, pdf: bytes) -> None:
        """Show the pages of a PDF from its first one; empty: none."""
        if self._pages is not None:
            self._pages.close()
        self._pages = open_pages(pdf) if pdf else None
        self._drawn.clear()
        self._place()
        self.verticalScrollBar().setValue(0)
        self._name()
        self.viewport().update()

    def __len__(self) -> int:
        return len(self._pages) if self._pages else 0

    @property
    def drawn(self) -> tuple[int, ...]:
        """The pages drawn and cached now."""
        return tuple(self._drawn)

    def close_pages(self) -> None:
        """Close the document."""
        self.show_pdf(b"")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar = self.verticalScrollBar()
        ends = {Qt.Key.Key_Home: 0, Qt.Key.Key_End: bar.maximum()}
        steps = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_PageUp: -1, Qt.Key.Key_Down: 0.1, Qt.Key.Key_Up: -0.1}
        key = Qt.Key(event.key())
        if key in ends:
            bar.setValue(ends[key])
        elif key in steps:
            bar.setValue(bar.value() + round(steps[key] * bar.pageStep()))
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._drawn.clear()
        self._place()
        super().resizeEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, sheet = QPainter(self.viewport()), sheet_in_force()
        top, bottom = self.verticalScrollBar().value(), self.verticalScrollBar().value() + self.viewport().height()
        number = max(0, bisect_right(self._tops, top) - 1)
        while self._pages is not None and number < len(self._pages) and self._tops[number] < bottom:
            box = self._box(number).translated(0, -top)
            painter.drawImage(box, self._image(number))
            painter.setPen(sheet.color("soft_ink"))
            painter.drawRect(box.adjusted(-1, -1, 0, 0))
            if self.hasFocus():
                painter.setPen(sheet.color("teal"))
                painter.drawRect(self.viewport().rect().adjusted(0, 0, -1, -1))
            number += 1

    def scrollContentsBy(self, _across: int, _down: int) -> None:
        self.viewport().update()

    def _image(self, number: int) -> QImage:
        if number in self._drawn:
            self._drawn.move_to_end(number)
            return self._drawn[number]
        assert self._pages is not None
        ratio = self.devicePixelRatioF()
        drawn = self._pages.picture(number, DPI * self._shrunk(number) * ratio)
        wrapped = QImage(drawn.rgb, drawn.width, drawn.height, drawn.stride, QImage.Format.Format_RGB888)
        self._drawn[number] = wrapped.copy()  # the copy owns its bytes
        while len(self._drawn) > KEPT:
            self._drawn.popitem(last=False)
        return self._drawn[number]

    def _shrunk(self, number: int) -> float:
        """Return the factor that makes a page fit, at most 1 (96 dots per inch)."""
        assert self._pages is not None
        wanted = self._pages.sizes[number][0] / 72 * DPI
        return min(1.0, max(40, self.viewport().width() - 2 * GAP) / wanted)

    def _box(self, number: int) -> QRect:
        assert self._pages is not None
        width, height = (round(side / 72 * DPI * self._shrunk(number)) for side in self._pages.sizes[number])
        return QRect((self.viewport().width() - width) // 2, self._tops[number] + GAP // 2, width, height)

    def _place(self) -> None:
        """Return the start of each page; the last number is the end of all."""
        self._tops = [0]
        for number in range(len(self)):
            height = self._pages.sizes[number][1] / 72 * DPI * self._shrunk(number) if self._pages else 0
            self._tops.append(self._tops[-1] + round(height) + GAP)
        assert all(after > before for before, after in pairwise(self._tops))
        bar, page = self.verticalScrollBar(), self.viewport().height()
        bar.setPageStep(page)
        bar.setSingleStep(round(40 * typeface.scale()))
        bar.setRange(0, max(0, self._tops[-1] - page))

    def _name(self) -> None:
        self.setAccessibleName(f"Preview, {len(self)} pages")
