"""The fields of a worksheet one by one, in the order of the online form."""

from desk.paper.keying.keying_content import PartyFields
from desk.paper.keying.keying_fields import keying_fields
from tests.paper.made import goods, keying


def texts(**changes):
    return [(field.group, field.name, field.text) for field in keying_fields(keying(**changes))]


def test_groups_are_in_the_order_of_the_online_form():
    """Sender, addressee, reason, articles, totals, numbers: PS 2976-R (read, weak)."""
    sender = PartyFields(first_name="June", last_name="Alder", city="Duluth")
    groups = [group for group, _, _ in texts(sender_fields=sender, recipient_fields=PartyFields(city="Berlin"))]
    assert list(dict.fromkeys(groups)) == [
        "From",
        "To",
        "Package",
        "Article 1 of 2",
        "Article 2 of 2",
        "Totals",
        "Also asked",
    ]


def test_weights_are_typed_as_pounds_and_ounces():
    found = {name: text for group, name, text in texts(gross_lb_oz="1 lb 3.2 oz") if group == "Totals"}
    assert (found["Total weight, lb"], found["Total weight, oz"]) == ("1", "3.2")


def test_empty_fields_are_left_out_and_numbers_are_in_full():
    found = texts(tax_id="IM0400000000", lines=(goods(1),))
    assert ("Also asked", "Seller's tax number", "IM0400000000") in found
    assert all(text for _, _, text in found)
    assert "License" not in [name for _, name, _ in found]
