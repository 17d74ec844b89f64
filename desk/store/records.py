"""Domain records as JSON and back, driven by their type hints: one codec for every frozen dataclass.

Decimals and dates become text, enums their value, tuples lists. Reading back gives an equal record. A field that a
later record has no more is dropped; one that it has gained takes its default.
"""

from __future__ import annotations

import json
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

T = TypeVar("T")
Turn = Callable[[Any], Any]
_JSON = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"))  # made once: json.dumps makes one a call


def to_text(record: object) -> str:
    """The record as compact JSON, fields in the order they are declared in."""
    turn: Turn | None = _encoder(typing.cast("typing.Hashable", type(record)))
    return plain_text(turn(record) if turn else record)


def from_text(kind: type[T], text: str) -> T:
    """The record of that kind written by `to_text`; ValueError, TypeError, KeyError or ArithmeticError when it is none."""
    turn: Turn | None = _decoder(typing.cast("typing.Hashable", kind))
    plain = json.loads(text)
    return typing.cast("T", turn(plain) if turn else plain)


def plain_text(plain: object) -> str:
    """Plain values as compact JSON, as every JSON column holds them."""
    return _JSON.encode(plain)


@cache
def _encoder(hint: Any) -> Turn | None:
    """How to turn a value of that type into plain JSON; None when it is plain already."""
    if hint is Decimal:
        return str
    if hint is date:
        return date.isoformat
    if isinstance(hint, type) and issubclass(hint, Enum):
        return attrgetter("value")
    if is_dataclass(hint):
        return _dataclass_encoder(hint)
    return _container(hint, _encoder, list)


@cache
def _decoder(hint: Any) -> Turn | None:
    """The way back from plain JSON; None when nothing has to be done."""
    if hint is Decimal:
        return Decimal
    if hint is date:
        return date.fromisoformat
    if isinstance(hint, type) and issubclass(hint, Enum):
        return hint
    if is_dataclass(hint):
        return _dataclass_decoder(hint)
    return _container(hint, _decoder, tuple)


def _container(hint: Any, inner: Callable[[Any], Turn | None], sequence: Turn) -> Turn | None:
    """Optional values, tuples of one type, and mappings from text; None for plain scalars and unions of them."""
    origin, arguments = typing.get_origin(hint), typing.get_args(hint)
    if origin is tuple:
        each = inner(arguments[0]) or _same
        return sequence if each is _same else lambda values: sequence(each(value) for value in values)
    if origin is not None and issubclass(origin, Mapping):
        each = inner(arguments[1]) or _same
        return dict if each is _same else lambda values: {name: each(value) for name, value in values.items()}
    if origin in (types.UnionType, typing.Union) and types.NoneType in arguments:
        turn = inner(next(argument for argument in arguments if argument is not types.NoneType))
        return turn and (lambda value: None if value is None else turn(value))
    return None


def _same(value: Any) -> Any:
    return value


def _turns(kind: Any, inner: Callable[[Any], Turn | None]) -> dict[str, Turn]:
    hints = typing.get_type_hints(kind)
    found = {field.name: inner(hints[field.name]) for field in fields(kind)}
    return {name: turn for name, turn in found.items() if turn is not None}


def _dataclass_encoder(kind: Any) -> Turn:
    names = [field.name for field in fields(kind)]
    turns = _turns(kind, _encoder)
    if len(names) == 1:
        (name,) = names
        turn = turns.get(name, _same)
        return lambda record: {name: turn(getattr(record, name))}
    values = attrgetter(*names)  # one call for all fields: ten thousand orders are written at once

    def encode(record: Any) -> dict[str, Any]:
        plain = dict(zip(names, values(record), strict=True))
        for name, turn in turns.items():
            plain[name] = turn(plain[name])
        return plain

    return encode


def _dataclass_decoder(kind: Any) -> Turn:
    known = {field.name for field in fields(kind)}
    turns = _turns(kind, _decoder)

    def decode(plain: dict[str, Any]) -> Any:
        for name in plain.keys() - known:
            del plain[name]  # fresh from the JSON reader, so it may be changed in place
        for name, turn in turns.items():
            if name in plain:
                plain[name] = turn(plain[name])
        return kind(**plain)

    return decode
