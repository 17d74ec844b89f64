"""Frozen records made at the price of records that are not frozen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, make_dataclass
from typing import Any, TypeVar

Record = TypeVar("Record")


def swift(kind: type[Record]) -> Callable[..., Record]:
    """What makes records of a frozen slotted kind, out of all their fields in order; a kind that checks them is refused.

    A frozen record is filled through `object.__setattr__`, a call for each field: a third of all the time that reading
    ten thousand orders takes. Here a twin that is not frozen is filled, and then becomes the record.
    """
    if hasattr(kind, "__post_init__"):
        raise TypeError(f"{kind.__name__} looks at its fields when it is made")
    twin: Any = make_dataclass(kind.__name__, [field.name for field in fields(kind)], slots=True)  # type: ignore[arg-type]

    def made(*values: object) -> Record:
        record = twin(*values)
        record.__class__ = kind
        found: Record = record
        return found

    return made
