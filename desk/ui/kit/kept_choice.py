"""Choices about this window that are saved outside the store. One that can't be read is logged and reported."""

from __future__ import annotations

import logging
from collections.abc import Collection

from PySide6.QtCore import QSettings

log = logging.getLogger("desk.ui")
_UNREAD: dict[str, str] = {}  # key to words


def kept_choice(key: str, among: Collection[str], usual: str, words: str) -> str:
    """Return the choice saved under a key, one of `among`; the usual one when there is none.

    Another value is logged once, and its words are in `unread_choices` until a good one is read or saved.
    """
    saved = str(QSettings().value(key, usual))
    if saved in among:
        _UNREAD.pop(key, None)
        return saved
    if key not in _UNREAD:
        log.warning("the choice %r cannot be read; the usual one is used", key)
        _UNREAD[key] = words
    return usual


def keep_choice(key: str, value: str) -> None:
    """Save a choice under a key."""
    _UNREAD.pop(key, None)
    QSettings().setValue(key, value)


def unread_choices() -> tuple[str, ...]:
    """Return the words of the choices that could not be read."""
    return tuple(_UNREAD.values())
