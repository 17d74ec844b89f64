"""Widgets and painters as pictures: which colors are where, for tests of what is painted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget

GROUND = "#ff00ff"  # no color of ours


def painted(width: int, height: int, paint: Callable[[QPainter, QRectF], None]) -> QImage:
    """Return what a function paints into a box of that size."""
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor(GROUND))
    painter = QPainter(image)
    try:
        paint(painter, QRectF(0, 0, width, height))
    finally:
        painter.end()
    return image


def grabbed(widget: QWidget) -> QImage:
    """Return a picture of a widget."""
    return widget.grab().toImage()


def _pixels(image: QImage) -> memoryview:
    """Return all pixels at once, line after line: reading them one by one takes a hundred times as long."""
    return memoryview(bytes(image.convertToFormat(QImage.Format.Format_RGB32).constBits())).cast("I")


def colors(image: QImage) -> Counter[str]:
    """Return how many pixels have each color."""
    return Counter({f"#{value & 0xFFFFFF:06x}": count for value, count in Counter(_pixels(image)).items()})


def has(image: QImage, color: str) -> bool:
    """Return True if exactly that color is in the picture."""
    return color.lower() in colors(image)


def where(image: QImage, color: str) -> set[tuple[int, int]]:
    """Return the positions of exactly that color."""
    wanted, wide = QColor(color).rgb() & 0xFFFFFF, image.width()
    return {(at % wide, at // wide) for at, value in enumerate(_pixels(image)) if value & 0xFFFFFF == wanted}


def columns(image: QImage, color: str) -> list[int]:
    """Return the columns with exactly that color, in order."""
    return sorted({x for x, _ in where(image, color)})


def rows(image: QImage, color: str) -> list[int]:
    """Return the rows with exactly that color, in order."""
    return sorted({y for _, y in where(image, color)})
