"""Bought labels find their pieces: by our reference, by postal code and name, by weight; never by a guess."""

import random
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.paper.bought.reading import ReadLabel, read_labels
from desk.session.labels.matching import Sureness, WaitingPiece, _code_of, _folded, match_labels
from tests.paper.bought.made import LAYOUTS, Parcel, write_labels_like


def candidate(number, name="Ada Quist", postal_code="55804", weight="2 lb"):
    return WaitingPiece(number, f"{number}-1", str(number), (_folded(name),), _code_of(postal_code), weight)


def read(text="", codes=()):
    return ReadLabel("labels.pdf", 0, (288, 432), (0, 0, 288, 432), text, codes)


ADA, BEN = candidate(1047), candidate(1048, "Ben Ko", "97701")
TRACKING = "9999000000000000000008"
TWICE = (candidate(1050, weight="2 lb"), candidate(1051, weight="12 oz"))


@pytest.mark.parametrize(
    ("text", "codes", "sureness", "pieces"),
    [
        ("REF 1047-1", (), Sureness.MATCHED, (1047,)),
        ("ref: 1047-12", ("1047-12",), Sureness.NONE, ()),  # another package's reference begins alike
        ("ADA QUIST\n41 HARBOR RD\nDULUTH MN 55804-1048", (), Sureness.MATCHED, (1047,)),
        ("ADA QUIST\nDULUTH MN 55805", (), Sureness.WEAK, (1047,)),
        ("DULUTH MN 55804", (), Sureness.NONE, ()),
        ("REF 1047-1\nBEN KO\nBEND OR 97701", (), Sureness.SEVERAL, (1047, 1048)),
        ("order 1048", (), Sureness.WEAK, (1048,)),
        ("ADA QUISTER\nDULUTH MN 55804", (), Sureness.NONE, ()),
        ("", ("1047-1",), Sureness.MATCHED, (1047,)),
        ("", ("9999000000000000000008",), Sureness.NONE, ()),
        ("THANK YOU. RECEIPT 3 LABELS", (), Sureness.ASIDE, ()),
        ("THANK YOU. RECEIPT 3 LABELS", ("A CODE",), Sureness.NONE, ()),
        ("", (), Sureness.NONE, ()),  # an image whose barcode is unreadable
        ("Receipt: 1047-1 $8.60, 1048-1 $9.10", (), Sureness.ASIDE, ()),
    ],
)
def test_only_number_address_and_weight_together_decide_a_match(text, codes, sureness, pieces):
    (found,) = match_labels([read(text, codes)], (ADA, BEN))
    assert (found.sureness, found.piece_ids) == (sureness, pieces)
    assert (found.piece_id is None) is (sureness is not Sureness.MATCHED)


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("ADA QUIST\nDULUTH MN 55804\n2 LB", 1050),
        ("ADA QUIST\nDULUTH MN 55804\n12 oz", 1051),
        ("ADA QUIST\nDULUTH MN 55804\n#1051", 1051),
        ("ADA QUIST\nDULUTH MN 55804\n112 oz", None),
        ("ADA QUIST\nDULUTH MN 55804", None),
    ],
)
def test_two_orders_of_one_buyer_are_matched_by_number_or_weight_only(text, piece):
    (found,) = match_labels([read(text)], TWICE)
    assert found.piece_id == piece
    assert piece is not None or found.piece_ids == (1050, 1051)


def test_two_labels_for_one_package_are_both_left_for_the_user():
    first, second, third = match_labels([read("REF 1047-1"), read("REF 1047-1"), read("REF 1048-1")], (ADA, BEN))
    assert (first.sureness, second.sureness) == (Sureness.SEVERAL, Sureness.SEVERAL)
    assert first.why == "two labels fit this package"
    assert third.piece_id == 1048


def test_a_receipt_page_never_takes_the_place_of_the_label_it_repeats():
    page = "ADA QUIST\nDULUTH MN 55804\nPostage $8.60"
    label, receipt = match_labels([read(page, (TRACKING,)), read(page)], (ADA, BEN))
    assert (label.piece_id, receipt.sureness, receipt.piece_id) == (1047, Sureness.ASIDE, None)
    (alone,) = match_labels([read(page)], (ADA, BEN))
    assert alone.piece_id == 1047  # without another page it is the label


@pytest.mark.parametrize(
    ("text", "other", "piece"),
    [
        ("PRIORITY", "ground", 1050),
        ("GROUND", "ground", 1051),
        ("GROUND", "priority", None),  # both go by priority
        ("PRIORITY GROUND", "ground", None),
        ("", "ground", None),
    ],
)
def test_a_service_that_only_one_uses_breaks_a_tie(text, other, piece):
    first, second = (replace(one, weight="2 lb") for one in TWICE)
    both = (replace(first, service="priority"), replace(second, service=other))
    (found,) = match_labels([read(f"ADA QUIST\nDULUTH MN 55804\n{text}")], both)
    assert found.piece_id == piece


def test_a_known_tracking_number_in_a_barcode_is_enough():
    known = (ADA, replace(BEN, tracking=TRACKING))
    (found,) = match_labels([read("", (f"42055804{TRACKING}",))], known)
    assert found.piece_id == 1048


@pytest.mark.parametrize(
    ("name", "typed"),
    [("José Núñez", "JOSE NUNEZ"), ("Anna Weiß", "ANNA WEISS"), ("山田花子", "山田花子"), ("Łukasz Øst", "LUKASZ OST")],
)
def test_marks_and_case_of_a_name_do_not_matter(name, typed):
    (found,) = match_labels([read(f"{typed}\n10115")], [candidate(7, name, "10115")])
    assert found.piece_id == 7


def test_tracking_numbers_are_checked_and_amounts_are_proposed_only_when_there_is_one():
    good, bad = "9999 0000 0000 0000 0000 08", "9999 0000 0000 0000 0000 09"
    first, second = match_labels(
        [read(f"REF 1047-1\n{good}\nPostage $8.60"), read(f"REF 1048-1\n{bad}\npaid $1.00 total $2.00")], (ADA, BEN)
    )
    assert (first.tracking, first.paid) == (good.replace(" ", ""), Decimal("8.60"))
    assert (second.tracking, second.paid) == ("", None)


def parcels(count, generator):
    """Invented parcels: some with our reference, some without, some of one buyer, names with marks and of other scripts."""
    names = [
        "Ada Quist",
        "José Núñez",
        "Anna Weiß",
        "Łukasz Ost",
        "Mina 山田",
        "Walt Brinker",
        "Ruth Amsel",
        "Zoë Pell",
    ]
    found = []
    for number in range(count):
        name = f"{generator.choice(names)} {number // 3 if number % 5 == 0 else number}"
        reference = f"{2000 + number}-1" if number % 4 else ""
        found.append(
            Parcel(
                name.upper(),
                f"{number} QUILL ROW",
                "BEND OR",
                f"97{number % 900:03d}",
                reference,
                f"{1 + number % 9} lb",
                number,
            )
        )
    return found


@pytest.mark.parametrize("layout", LAYOUTS)
def test_invented_labels_in_eight_layouts_are_never_matched_wrongly(layout, tmp_path):
    made = parcels(12, random.Random(layout))
    if layout == "picture":  # nothing but dots: what its code holds must be ours
        made = [
            Parcel(
                one.name, one.street, one.city, one.postal_code, "", one.weight, one.number, f"{2000 + one.number}-1"
            )
            for one in made
        ]
    file = tmp_path / f"{layout}.pdf"
    shuffled = random.Random(layout).sample(made, len(made))
    file.write_bytes(write_labels_like(shuffled, layout))
    known = [candidate(2000 + one.number, one.name, one.postal_code, one.weight) for one in made]
    found = match_labels(read_labels(file), known)
    assert [match.piece_id for match in found] == [2000 + one.number for one in shuffled]
    if layout != "picture":
        assert [match.tracking for match in found] == [one.tracking for one in shuffled]


def test_a_tracking_number_that_is_known_decides():
    known = replace(ADA, tracking="9999000000000000000008")
    (found,) = match_labels([read("", ("9999000000000000000008",))], (known, BEN))
    assert (found.piece_id, found.why) == (1047, "our reference")


@pytest.mark.parametrize(("order", "sureness"), [("104", Sureness.NONE), ("1047", Sureness.WEAK)])
def test_an_order_number_of_three_digits_is_not_enough_for_a_match(order, sureness):
    (found,) = match_labels([read(f"order {order}", ("a code",))], [replace(ADA, order=order, reference="x")])
    assert found.sureness is sureness


def test_the_reference_and_the_address_of_one_package_agree():
    (found,) = match_labels([read("REF 1047-1\nADA QUIST\nDULUTH MN 55804")], (ADA, *TWICE))
    assert (found.piece_id, found.why) == (1047, "our reference")


@pytest.mark.parametrize(
    ("text", "paid"),
    [
        ("POSTAGE $7.20", "7.20"),
        ("PAID 7.20", None),
        ("TOTAL $7.20 PAID $7.20", "7.20"),
        ("TOTAL $7.20 PAID $8.20", None),
    ],
)
def test_one_amount_in_dollars_is_proposed(text, paid):
    (found,) = match_labels([read(text)], (ADA,))
    assert found.paid == (None if paid is None else Decimal(paid))


@pytest.mark.parametrize(("held", "sureness"), [(False, Sureness.MATCHED), (True, Sureness.HELD)])
def test_a_package_with_an_open_customs_issue_waits(held, sureness):
    (found,) = match_labels([read("REF 1047-1")], [replace(ADA, held=held)])
    assert (found.sureness, found.piece_ids) == (sureness, (1047,))
    assert (found.piece_id is None) is held
