"""Convert domain records to JSON and back, by msgspec: one codec for every frozen dataclass.

Decimals and dates become text, enums their value, tuples lists. Reading back gives an equal record and refuses other
types. Every record carries the version of its form in `v`: a dataclass as its first key, anything else as
`{"v":1,"is":...}`. A field that a later form lacks is dropped; a new field takes its default. Where that is not enough,
raise `VERSION` and convert the older form in a migration.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Generic, TypeVar, cast  # msgspec takes and gives any type

import msgspec

T = TypeVar("T")
VERSION = 1
_ENCODER = msgspec.json.Encoder()
_HEAD = re.compile(r'\{"v":(\d{1,9})[,}]')
_HEAD_NOW = f'{{"v":{VERSION}'


class WrappedRecord(msgspec.Struct, Generic[T]):
    """A record that is not a dataclass, wrapped so that it can carry a version too."""

    value: T = msgspec.field(name="is")


def to_text(record: object) -> str:
    """Return the record as compact JSON with its form's version."""
    body = plain_text(record)
    if not body.startswith("{") or isinstance(record, dict):
        return f'{_HEAD_NOW},"is":{body}}}'
    return _HEAD_NOW + ("}" if body == "{}" else f",{body[1:]}")


def from_text(kind: type[T], text: str) -> T:
    """Return the record of that kind written by `to_text`. Text without a version is read as today's form.

    Raises:
        ValueError: not such a record, or of a later form.
    """
    head = _HEAD.match(text)
    if head is not None and int(head[1]) > VERSION:
        raise ValueError(f"a record of version {head[1]}, known here up to {VERSION}")
    try:
        if head is not None and text.startswith('"is":', head.end()):
            return cast("T", _decoder(cast("Any", WrappedRecord[kind])).decode(text).value)  # type: ignore[valid-type]
        return cast("T", _decoder(cast("Any", kind)).decode(text))
    except msgspec.DecodeError as fault:
        raise ValueError(str(fault)) from None


def to_plain(record: object) -> Any:  # as msgspec gives it
    """Return a record as plain values: dicts, lists, texts and numbers."""
    return msgspec.to_builtins(record)


def without_version(text: str) -> str:
    """Return a dataclass's text without the version that `to_text` added."""
    head = _HEAD.match(text)
    return text if head is None else "{" + text[head.end() :]


def plain_text(plain: object) -> str:
    """Return plain values or a record as compact JSON without a version."""
    return _ENCODER.encode(plain).decode()


def texts_in(text: str) -> Iterator[str]:
    """Yield the texts among the values of JSON, without its names."""
    waiting = [msgspec.json.decode(text)]
    while waiting:
        value = waiting.pop()
        if isinstance(value, str):
            yield value
        elif isinstance(value, dict):
            waiting += value.values()
        elif isinstance(value, list):
            waiting += value


def _decoder(kind: object) -> msgspec.json.Decoder[Any]:
    return msgspec.json.Decoder(kind)
