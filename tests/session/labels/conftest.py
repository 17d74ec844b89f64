"""Three parcels whose postage is bought online, and a PDF of their labels."""

import pytest

from tests.paper.bought.made import Parcel, write_labels_like
from tests.session import made

ORDERS = ("1001", "1002", "1003")
THREE_PARCELS = pytest.mark.stocked(
    [made.order(number) for number in ORDERS], weights={number: made.weighing("3", "Padded") for number in ORDERS}
)


def parcel(order, number, **changes):
    facts = {"name": "ADA VELL", "street": "1 QUILL ROW", "city": "BEND OR", "postal_code": "97701"}
    return Parcel(**(facts | {"reference": f"{order}-1", "weight": "3 oz", "number": number} | changes))


@pytest.fixture
def file(tmp_path):
    """Three labels, last order first."""
    path = tmp_path / "bought.pdf"
    path.write_bytes(write_labels_like([parcel(order, int(order)) for order in reversed(ORDERS)], "frame"))
    return path
