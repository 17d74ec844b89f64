"""Texts already read: a list says the same few amounts, dates and countries over and over."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

Value = TypeVar("Value")


class Remembered(dict[str, Value]):
    """What each text of one file reads as; looking up a new one reads it, and raises what the reader raises.

    An empty text is `nothing`. A text that cannot be read is not kept.
    """

    __slots__ = ("_reader",)

    def __init__(self, reader: Callable[[str], Value], nothing: Value) -> None:
        super().__init__({"": nothing})
        self._reader = reader

    def __missing__(self, text: str) -> Value:
        value = self[text] = self._reader(text)
        return value
