"""Texts already read: a list says the same few amounts, dates and countries over and over."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class Remembered(dict[Key, Value]):
    """What each text of one file reads as; looking up a new one reads it, and raises what the reader raises.

    `known` are those that need no reading, such as an empty text. A text that cannot be read is not kept.
    """

    __slots__ = ("_reader",)

    def __init__(self, reader: Callable[[Key], Value], known: Mapping[Key, Value] | None = None) -> None:
        super().__init__(known or {})
        self._reader = reader

    def __missing__(self, text: Key) -> Value:
        value = self[text] = self._reader(text)
        return value
