from dataclasses import replace

import pytest

from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop
from desk.domain.shop.stamp import StampKind, StampStock
from desk.domain.weight import Weight
from desk.intake.shop.shop_values import mailer_values, policy_values, product_values, stamp_values
from desk.session.importing.import_orders import import_shop
from desk.session.pile.stored_cases import read_terms
from desk.session.setup import change_shop
from desk.session.setup.shop_texts import mailer_texts, policy_texts, product_texts
from desk.session.undo import next_steps, undo
from tests.session import made


@pytest.fixture
def settled(sitting):
    import_shop(sitting, made.shop(policy=made.policy(max_stamps=4)))
    return sitting


def shop_in(sitting):
    return read_terms(sitting).shop


def of(faults):
    return {fault.field: fault.sentence for fault in faults}


def test_one_field_of_a_mailer_is_one_step_that_can_be_undone(settled):
    values = mailer_values(made.ENVELOPE) | {"tare": "0.5", "tare_unit": "oz"}
    assert change_shop.save_mailer(settled, 0, values) == ()
    assert shop_in(settled).mailers[0] == replace(made.ENVELOPE, tare=Weight.of("0.5", "oz"))
    assert next_steps(settled)[0] == "Mailer saved: A7"
    undo(settled)
    assert shop_in(settled) == made.shop(policy=made.policy(max_stamps=4))


def test_listeners_are_notified_that_the_shop_changed(settled):
    heard = []
    settled.listeners.append(heard.append)
    change_shop.save_mailer(settled, 0, mailer_values(made.ENVELOPE) | {"stiff": True})
    assert [changes.shop for changes in heard] == [True]


def test_the_same_values_again_make_no_step(settled):
    before = next_steps(settled)
    assert change_shop.save_mailer(settled, 1, mailer_values(made.PADDED)) == ()
    assert next_steps(settled) == before


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"tare": "much"}, "tare", "Expected a number such as 12.50."),
        ({"tare": "-1"}, "tare", "Expected a number of 0 or more."),
        ({"name": " "}, "name", "Expected a value here; it is needed."),
        ({"kind": "sack"}, "kind", "Expected one of envelope, flat, padded, rigid, apparel, box, tube, card."),
        ({"thickness": ""}, "thickness", "Expected length, width and thickness together, or none."),
        ({"pack_count": "2.5"}, "pack_count", "Expected a whole number."),
        ({"pack_count": "0"}, "pack_count", "Expected a whole number of at least 1."),
        ({"pack_price": "1.234"}, "pack_price", "Expected an amount of USD with at most 2 decimals."),
        ({"name": "Padded"}, "name", "Another mailer has this name."),
        ({"tare_unit": ""}, "tare", "Expected a tare unit with it: oz, lb, g or kg."),
    ],
)
def test_a_fault_is_reported_at_its_field_and_nothing_is_saved(settled, typed, field, sentence):
    before = shop_in(settled)
    faults = change_shop.save_mailer(settled, 0, mailer_values(made.ENVELOPE) | typed)
    assert of(faults) == {field: sentence}
    assert shop_in(settled) == before


def test_a_name_already_in_use_is_refused_for_mailers_and_products(settled):
    before = shop_in(settled)
    assert of(change_shop.save_mailer(settled, 1, mailer_values(made.PADDED) | {"name": "A7"}))["name"]
    assert of(change_shop.save_product(settled, 1, product_values(made.FOLDER) | {"sku": "CD"}))["sku"]
    assert shop_in(settled) == before


def test_faults_of_all_fields_come_together(settled):
    typed = mailer_values(made.ENVELOPE) | {"tare": "x", "length": "y", "pack_count": "z"}
    assert set(of(change_shop.save_mailer(settled, 0, typed))) == {"tare", "length", "pack_count"}


def test_an_incomplete_sender_is_saved_and_names_what_is_missing(sitting):
    import_shop(sitting, Shop(Address()))
    faults = change_shop.save_sender(sitting, {"name": "Sorrel Street Bindery", "country": "united states"})
    assert [fault.field for fault in faults] == ["address1", "city", "region", "postal_code"]
    assert all(fault.kept for fault in faults)
    sender = shop_in(sitting).sender
    assert (sender.recipient, sender.country) == ("Sorrel Street Bindery", "US")


def test_a_sender_without_name_or_in_an_unknown_country_is_reported(settled):
    faults = change_shop.save_sender(settled, {"country": "Elsewhere"})
    assert [(fault.field, fault.kept) for fault in faults] == [("country", False)]
    assert shop_in(settled).sender == made.SENDER
    assert change_shop.missing_of_sender(Address())[0].sentence == "Needed: a name or a company."
    assert change_shop.missing_of_sender(made.SENDER) == ()


def test_a_shop_that_was_never_filled_in_takes_a_mailer(sitting):
    assert change_shop.add_mailer(sitting) == 0
    assert change_shop.add_mailer(sitting) == 1
    assert [mailer.name for mailer in shop_in(sitting).mailers] == ["New mailer", "New mailer 2"]
    values = {"name": "Card", "kind": "card", "tare": "2", "tare_unit": "g"}
    assert change_shop.save_mailer(sitting, 1, values) == ()
    assert shop_in(sitting).mailer("Card").tare == Weight.of(2, "g")


def test_the_policy_is_saved_with_amounts_in_its_currency(settled):
    values = policy_values(shop_in(settled).policy)
    typed = values | {"untracked": "45.00", "max_stamps": "2", "parcel_services": ["media"]}
    assert change_shop.save_policy(settled, typed) == ()
    policy = shop_in(settled).policy
    assert (policy.untracked_up_to, policy.max_stamps, policy.parcel_services) == (Money(4500), 2, ("media",))
    wrong = change_shop.save_policy(settled, values | {"untracked": "often", "currency": "XYZ"})
    assert set(of(wrong)) == {"untracked", "currency"}
    assert shop_in(settled).policy == policy


def test_tax_numbers_are_saved_as_typed(settled):
    assert change_shop.save_tax_ids(settled, {"ioss": "IM0400000000", "voec": ""}) == ()
    assert shop_in(settled).tax_ids == {"ioss": "IM0400000000"}


def test_a_product_keeps_the_edition_of_its_code(sitting):
    old = replace(made.CARD, hs_edition="HS 2017")
    import_shop(sitting, made.shop(products=(old, made.BOOK)))
    (fault,) = change_shop.save_product(sitting, 0, product_values(old) | {"customs_words": "Paper card"})
    assert (fault.field, fault.kept) == ("hs", True)  # a code of another edition is reported and kept
    assert shop_in(sitting).products[0] == replace(old, customs_words="Paper card")
    assert change_shop.save_product(sitting, 0, product_values(old) | {"hs": "491199"}) == ()
    assert shop_in(sitting).products[0].hs_edition == "HS 2022"


def test_a_product_without_sku_and_name_is_refused(settled):
    faults = change_shop.save_product(settled, 0, {"origin": "Nowhere"})
    assert set(of(faults)) == {"name", "origin"}


def test_each_kind_of_stamp_has_one_line(settled):
    dime = {"kind": "face", "value": "0.10", "count": "3"}
    place = change_shop.add_stamp(settled, StampKind.FACE)
    assert change_shop.save_stamp(settled, place, dime) == ()
    again = change_shop.add_stamp(settled, StampKind.FACE)
    assert (place, again) == (2, 3)
    assert change_shop.add_stamp(settled, StampKind.FACE) == again  # one without a value is already there
    messages = {"value": "This stamp is already in the list. Count it there."}
    assert of(change_shop.save_stamp(settled, again, dime | {"count": "40"})) == messages
    assert of(change_shop.save_stamp(settled, 1, {"kind": "forever", "count": "1"})) == {"kind": messages["value"]}
    assert [stamp.count for stamp in shop_in(settled).stamps] == [5, 3, 3, 0]
    assert change_shop.save_stamp(settled, again, dime | {"value": "0.05"}) == ()


def test_counting_stamps_sets_the_stock_to_the_count(settled):
    forever = shop_in(settled).stamps[0]
    assert change_shop.save_stamp(settled, 0, stamp_values(forever) | {"count": "17"}) == ()
    assert shop_in(settled).stamps[0].count == 17
    undo(settled)
    assert shop_in(settled).stamps[0].count == forever.count
    assert of(change_shop.save_stamp(settled, 0, {"kind": "face", "count": "1"}))["value"].startswith(
        "Expected a value"
    )


def test_records_are_added_and_removed(settled):
    assert change_shop.add_product(settled) == 5
    assert change_shop.add_stamp(settled, StampKind.POSTCARD) == 2
    assert shop_in(settled).stamps[2] == StampStock(StampKind.POSTCARD, 0)
    for kind, place in (("products", 5), ("stamps", 2), ("mailers", 0)):
        change_shop.remove(settled, kind, place)
    assert next_steps(settled)[0] == "Mailer removed: A7"
    assert [mailer.name for mailer in shop_in(settled).mailers] == ["Padded", "Board"]
    with pytest.raises(IndexError):
        change_shop.remove(settled, "stamps", 9)


def test_choices_are_added_renamed_and_removed(settled):
    assert change_shop.save_choice(settled, "", " Slow ", ["flat"]) == ()
    assert change_shop.save_choice(settled, "", "Fast", []) == ()
    assert change_shop.save_choice(settled, "Slow", "Slowest", ["flat", "media"]) == ()
    assert dict(shop_in(settled).choices) == {"Slowest": ("flat", "media"), "Fast": ()}
    assert list(shop_in(settled).choices) == ["Slowest", "Fast"]
    assert of(change_shop.save_choice(settled, "Slowest", "Fast", [])) == {
        "name": "This choice is already in the list."
    }
    assert of(change_shop.save_choice(settled, "Slowest", " ", [])) == {"name": "Type the words the buyer chooses by."}
    change_shop.remove_choice(settled, "Fast")
    assert list(shop_in(settled).choices) == ["Slowest"]


def test_a_mailer_changed_to_rigid_is_rigid_unless_set_otherwise(settled):
    values = mailer_values(made.ENVELOPE)
    change_shop.save_mailer(settled, 0, values | {"kind": "rigid"})
    assert read_terms(settled).shop.mailers[0].stiff
    change_shop.save_mailer(settled, 0, values | {"kind": "rigid", "stiff": False})
    assert not read_terms(settled).shop.mailers[0].stiff


@pytest.mark.parametrize(
    ("hs", "announced"),
    [
        ("4909", "An HS code needs at least 6 digits. Look it up on Customs."),
        ("490900", ""),
        ("", ""),
        ("999999", "This code isn't in the HS edition in force. Look it up on Customs."),
    ],
)
def test_an_hs_code_that_customs_would_refuse_is_saved_and_reported(settled, hs, announced):
    values = product_values(shop_in(settled).products[0]) | {"hs": hs}
    faults = change_shop.save_product(settled, 0, values)
    assert [(fault.field, fault.sentence, fault.kept) for fault in faults] == (
        [("hs", announced, True)] if announced else []
    )
    assert shop_in(settled).products[0].hs == hs


@pytest.mark.parametrize("typed", ["USA", "us", "United States"])
def test_a_country_of_origin_may_be_typed_by_its_name(settled, typed):
    values = product_values(shop_in(settled).products[0]) | {"origin": typed}
    assert change_shop.save_product(settled, 0, values) == ()
    assert shop_in(settled).products[0].origin == "US"


def test_an_unknown_country_of_origin_is_refused(settled):
    values = product_values(shop_in(settled).products[0]) | {"origin": "Xx"}
    (fault,) = change_shop.save_product(settled, 0, values)
    assert (fault.field, fault.kept) == ("origin", False)


def test_numbers_are_typed_as_the_locale_writes_them(settled, locale):
    locale("de_DE.UTF-8")
    values = mailer_texts(shop_in(settled).mailers[0]) | {"tare": "12,5", "tare_unit": "g", "pack_price": "1.234,50"}
    assert change_shop.save_mailer(settled, 0, values) == ()
    saved = shop_in(settled).mailers[0]
    assert (saved.tare, saved.pack_price) == (Weight.of("12.5", "g"), Money.of("1234.50", "USD"))
    assert mailer_texts(saved)["tare"] == "12,5"


def test_a_record_shown_in_another_locale_and_saved_again_is_the_same(settled, locale):
    before = shop_in(settled)
    locale("fr_FR.UTF-8")
    for at, mailer in enumerate(before.mailers):
        assert change_shop.save_mailer(settled, at, mailer_texts(mailer)) == ()
    for at, product in enumerate(before.products):
        assert change_shop.save_product(settled, at, product_texts(product)) == ()
    assert change_shop.save_policy(settled, policy_texts(before.policy)) == ()
    assert shop_in(settled) == before


def test_a_number_that_could_be_two_is_reported_at_its_field(settled, locale):
    locale("de_DE.UTF-8")
    before = shop_in(settled)
    faults = change_shop.save_mailer(settled, 0, mailer_texts(before.mailers[0]) | {"tare": "1.234", "tare_unit": "g"})
    assert of(faults) == {"tare": "1.234 could be 1234 or 1,234. Type one of these."}
    assert shop_in(settled) == before
