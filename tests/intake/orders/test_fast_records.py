"""Records made the quick way are the same records in every respect."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, fields, replace

import pytest

from desk.domain.address import Address
from desk.domain.money import Money
from desk.domain.order import Order, OrderLine
from desk.intake.orders.fast_records import swift


@pytest.mark.parametrize(
    "record",
    [
        Address("Ada Finch", "Finch & Co", "Elm 3", country="DE", country_typed="Germany"),
        OrderLine("Notebook", 2, Money(1250), "NB-1", "blue"),
        Order("7", Address("Ada"), (OrderLine("Pen", 1, Money(300)),)),
    ],
    ids=lambda record: type(record).__name__,
)
def test_a_record_is_the_same_however_it_was_made(record: Address | OrderLine | Order) -> None:
    made = swift(type(record))(*(getattr(record, field.name) for field in fields(record)))
    assert type(made) is type(record)
    assert made == record
    assert hash(made) == hash(record)
    assert repr(made) == repr(record)
    assert replace(made) == record
    assert copy.deepcopy(made) == record
    assert pickle.loads(pickle.dumps(made)) == record
    assert not hasattr(made, "__dict__")


def test_it_is_frozen() -> None:
    made = swift(Money)(450, "USD")
    with pytest.raises(FrozenInstanceError):
        made.minor = 0  # type: ignore[misc]


def test_every_field_has_to_be_given() -> None:
    with pytest.raises(TypeError):
        swift(Money)(450)


@dataclass(frozen=True, slots=True)
class Checked:
    count: int

    def __post_init__(self) -> None:
        if self.count < 1:
            raise ValueError(self.count)


def test_a_record_that_looks_at_its_fields_is_refused() -> None:
    with pytest.raises(TypeError, match="Checked looks at its fields"):
        swift(Checked)
