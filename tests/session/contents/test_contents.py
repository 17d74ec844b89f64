from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.finding import Severity
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.orders.packages import packed_orders, read_packing
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Restriction
from desk.domain.shop.shop import ExchangeRate, LetterPostage, ParcelPayment
from desk.domain.weight import Weight, WeightUnit
from desk.paper.fonts import Fonts
from desk.session.contents.contents import is_gift, label_contents, packing_contents, slip_contents
from desk.session.contents.declared_fields import dollars_from
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.contents.piece_words import pounds_ounces, stamp_marks, stamps_in_words
from desk.session.contents.worksheet_contents import ASK, keying_contents
from desk.session.papers.print_check import check_printable, printable
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from desk.session.words.customs import KEEP_PRIVATE
from tests.session.made import BOOK, CARD, FRANCE, HOME, ON, case, line, order, policy, shop

SUMERIAN = "\U00012038"
ANSWERED = frozenset({"hazard-surface-only", "restricted-goods"})


@pytest.fixture(scope="module")
def fonts(resources):
    return Fonts(resources / "fonts")


def labels(terms, *cases):
    return list(label_contents(judge_batch(cases, terms), terms))


def test_stamped_metered_and_counter_pieces_get_a_label_and_online_ones_do_not(rulebook, terms):
    assert [label.order for label in labels(terms, case(number="1"), case("12", "Padded", number="2"))] == ["1"]
    metered = Terms(shop(policy=policy(letter_postage=LetterPostage.METERED)), rulebook, ON)
    assert labels(metered, case())[0].payment == "metered"
    counter = Terms(shop(policy=policy(parcel_payment=ParcelPayment.COUNTER)), rulebook, ON)
    (label,) = labels(counter, case("12", "Padded"))
    assert (label.payment, label.letter, label.billable) == ("counter", False, "12 oz")


def test_a_piece_to_check_gets_a_label_and_a_stopped_or_unweighed_one_does_not(terms):
    stopped = case(address=replace(HOME, city=""))
    assert labels(terms, stopped, case(None)) == []
    assert len(labels(terms, case(buyer_note="by stamp"))) == 1


def test_a_label_shows_order_address_and_postage(terms):
    (_, label) = labels(terms, case(number="1"), case("1.5", number="2", pieces_in_order=2))
    assert (label.reference, label.piece_of, label.weighed) == ("2-1", "piece 1 of 2", "weighed 1.5 oz")
    assert (label.billable, label.service_words, label.letter) == ("2 oz", "Letter, stamped", True)
    assert label.envelope == (7.25, 5.25)
    assert label.recipient == ("ADA VELL", "1 QUILL ROW", "BEND OR  97701")
    assert label.sender[0] == "SORREL STREET BINDERY"
    assert label.stamps == ((1, "Forever"), (1, "additional ounce"))
    assert label.remarks == ()


def test_a_rigid_piece_is_marked_do_not_bend(rulebook):
    thin = Mailer("Thin board", MailerKind.ENVELOPE, Size.of("7", "5", "0.1", "in"), stiff=True)
    terms = Terms(shop(mailers=(thin,)), rulebook, ON)
    assert labels(terms, case("0.7", "Thin board"))[0].remarks == ("DO NOT BEND",)


def test_each_stamp_has_a_mark_on_the_label(terms):
    batch = judge_batch([case("2.5")], terms)
    assert [mark.words for mark in stamp_marks(batch.verdicts[0])] == [
        "Forever",
        "additional ounce",
        "additional ounce",
    ]
    assert stamps_in_words(batch.verdicts[0]) == ((1, "Forever"), (2, "additional ounce"))
    assert stamp_marks(judge_batch([case(None)], terms).verdicts[0]) == ()


def test_every_piece_has_a_slip(terms):
    slips = list(slip_contents(judge_batch([case(), case(None, number="2", address=FRANCE)], terms)))
    assert [(slip.reference, slip.billable, slip.status, slip.mailer) for slip in slips] == [
        ("1001-1", "1 oz", "Ready", "A7"),
        ("2-1", "", "To weigh", ""),
    ]
    assert slips[0].items == ("1 × Card",)
    assert [slip.marks for slip in slips] == [(), ("ABROAD", "CHECK")]
    assert [slip.recipient_short for slip in slips] == ["Ada Vell, Bend OR", "Solène Mercadier, Lyon, France"]


def test_every_declaration_has_a_worksheet(terms):
    abroad = case("13", "Padded", number="8", address=FRANCE, lines=(line(BOOK),))
    (sheet,) = keying_contents(judge_batch([case(), abroad], terms), terms)
    assert (sheet.form, sheet.reference, sheet.category) == ("CN22 data", "8-1", "sale of goods")
    (first,) = sheet.lines
    assert (first.net_kg, first.net_lb_oz, first.value, first.hs) == ("0.310 kg", "0 lb 10.9 oz", "6.50 USD", "482010")
    assert (sheet.gross_lb_oz, sheet.gross_kg) == ("0 lb 13 oz", "0.369 kg")
    assert any("fair value" in caution or "never a gift" in caution for caution in sheet.cautions)
    assert all("\u2014" not in reported for reported in sheet.findings)


def test_tax_numbers_are_printed_in_full_with_a_caution_and_faults_come_first(rulebook):
    terms = Terms(shop(tax_ids={"ioss": "IM0400000000"}), rulebook, ON)
    batch = judge_batch([case("13", "Padded", address=FRANCE, lines=(line(BOOK),))], terms)
    (sheet,) = keying_contents(batch, terms)
    assert batch.verdicts[0].declaration.reference == "IM0400000000"
    assert sheet.tax_id == "IM0400000000"
    assert KEEP_PRIVATE in sheet.cautions
    assert sheet.to_fix == ()
    assert sheet.recipient_phone == ASK
    bare = shop(products=(replace(BOOK, hs=""),))
    (open_,) = keying_contents(
        judge_batch([case("13", "Padded", address=FRANCE, lines=(line(BOOK),))], Terms(bare, rulebook, ON)),
        Terms(bare, rulebook, ON),
    )
    assert open_.to_fix == ("Book needs a six-digit HS code: none is given.",)
    assert not set(open_.to_fix) & set(open_.findings)
    assert KEEP_PRIVATE not in open_.cautions


def test_a_sender_without_a_country_is_in_the_united_states(rulebook):
    terms = Terms(replace(shop(), sender=replace(shop().sender, country="")), rulebook, ON)
    (sheet,) = keying_contents(judge_batch([case("13", "Padded", address=FRANCE, lines=(line(BOOK),))], terms), terms)
    assert (sheet.sender_fields.country, sheet.recipient_fields.country) == ("United States", "France")


@pytest.mark.parametrize(
    ("currency", "rates", "source"),
    [
        ("USD", (), "as paid"),
        ("EUR", (ExchangeRate("EUR", "USD", Decimal("1.10"), ON),), "own rate"),
        ("EUR", (ExchangeRate("EUR", "USD", Decimal("1.10"), ON, rough=True),), "approximate rate"),
        ("KWD", (), ""),
    ],
)
def test_a_value_in_dollars_names_its_exchange_rate(rulebook, currency, rates, source):
    terms = Terms(shop(rates=rates), replace(rulebook, rates=()), ON)
    assert dollars_from(Money.of("10", currency), terms) == source


def test_values_are_in_dollars_next_to_the_amount_paid(rulebook):
    rate = ExchangeRate("EUR", "USD", Decimal("1.10"), ON)
    terms = Terms(shop(rates=(rate,)), rulebook, ON)
    paid = replace(line(BOOK), unit_price=Money(1000, "EUR"))
    batch = judge_batch(
        [case("13", "Padded", address=FRANCE, lines=(paid,), currency="EUR", discount=Money(0, "EUR"))], terms
    )
    (sheet,) = keying_contents(batch, terms)
    assert (sheet.lines[0].value, sheet.total_value) == ("11.00 USD (10.00 EUR)", "11.00 USD (10.00 EUR)")


def test_the_hand_over_sheet_groups_by_who_takes_it(terms):
    cases = [
        case(number="1"),
        case("3", "Padded", number="2"),
        case(None, number="3"),
        case("11", "Board", number="4"),
    ]
    content = hand_over_content(judge_batch(cases, terms), terms)
    assert [[row.number for row in group.rows] for group in content.groups] == [["1"], ["2", "4"]]
    assert content.groups[0].total == "1 piece, $0.82"
    assert content.notes == ("Not listed: 1 not weighed yet.",)
    assert content.date == "July 15, 2026"


def test_an_empty_pile_has_nothing_to_hand_over(terms):
    content = hand_over_content(judge_batch([], terms), terms)
    assert (content.groups, content.notes, content.total) == ((), (), "0 pieces, $0.00")


def test_heavy_stamped_large_envelopes_go_to_a_clerk(rulebook):
    from desk.domain.shop.stamp import StampKind, StampStock

    kraft = Mailer("Kraft", MailerKind.FLAT, Size.of("12", "9", "0.3", "in"))
    terms = Terms(shop(mailers=(kraft,), stamps=(StampStock(StampKind.FACE, 90, Money(1)), StampStock(StampKind.FACE, 9, Money(100)))), rulebook, ON)  # fmt: skip
    content = hand_over_content(judge_batch([case("11.4", "Kraft")], terms), terms)
    assert [group.heading for group in content.groups] == ["Counter: hand to a clerk"]


def test_hazardous_pieces_have_their_own_group_however_they_are_paid(rulebook):
    magnets = replace(BOOK, restricted=(Restriction.MAGNET,))
    terms = Terms(shop(products=(CARD, magnets)), rulebook, ON)
    cases = [case(number="1"), case("12", "Padded", number="2", lines=(line(magnets),), answered=ANSWERED)]
    content = hand_over_content(judge_batch(cases, terms), terms)
    assert [(group.heading[:9], len(group.rows)) for group in content.groups][:1] == [("Hazardous", 1)]


def test_unpaid_counter_parcels_are_marked_on_the_sheet_and_paid_ones_are_not(rulebook):
    terms = Terms(shop(policy=policy(parcel_payment=ParcelPayment.COUNTER)), rulebook, ON)
    cases = [case("3", "Padded", number="1"), case("3", "Padded", number="2", postage_on=True)]
    (group,) = hand_over_content(judge_batch(cases, terms), terms).groups
    assert [row.mark for row in group.rows] == ["to pay", ""]
    first, second = labels(terms, *cases)
    assert (first.payment, second.payment) == ("counter", "paid")


def test_a_dimensional_weight_is_on_the_slip_but_never_on_the_package(rulebook):
    large = Mailer("Large", MailerKind.BOX, Size.of("20", "16", "12", "in"))
    terms = Terms(
        shop(
            mailers=(large,), policy=policy(parcel_payment=ParcelPayment.COUNTER, parcel_services=("priority-retail",))
        ),
        rulebook,
        ON,
    )
    batch = judge_batch([case("40", "Large")], terms)
    (label,) = label_contents(batch, terms)
    (slip,) = slip_contents(batch)
    assert batch.verdicts[0].offer.billable.dimensional
    assert (label.billable, label.weighed) == ("3 lb", "weighed 40 oz")
    assert slip.dimensions.startswith("dimensional weight ")
    assert slip.dimensions.removeprefix("dimensional weight ") == slip.billable != "3 lb"


@pytest.mark.parametrize(
    ("note", "expected"), [("It's a GIFT, no prices please", True), ("for myself", False), ("", False)]
)
def test_a_gift_is_recognized_by_the_buyers_note_and_has_no_prices(terms, note, expected):
    bought = order(buyer_note=note)
    assert is_gift(bought, ("gift",)) is expected
    (slip,) = packing_contents(judge_batch([case(order=bought)], terms), terms, ("gift",), "Thanks!")
    assert (slip.thanks, slip.lines[0].item) == ("Thanks!", "Card")
    assert bool(slip.lines[0].price) is not expected
    assert slip.sums == (() if expected else (("Items", "$6.50"), ("Shipping", "$5.00"), ("Total", "$11.50")))
    assert ("GIFT" in next(slip_contents(judge_batch([case(order=bought)], terms), ("gift",))).marks) is expected


SPLIT = order("7", lines=(line(CARD, 3), line(BOOK)))


def test_each_package_of_a_split_order_lists_its_own_items_without_shipping(terms):
    packings = (read_packing(f"{CARD.sku} x2; {BOOK.sku}"), read_packing(CARD.sku))
    parts = packed_orders(SPLIT, packings)
    pieces = [
        replace(case(number="7", order=part, pieces_in_order=2), key=PieceKey("7", at), is_divided=True)
        for at, part in enumerate(parts, 1)
    ]
    batch = judge_batch(pieces, terms)
    slips = list(packing_contents(batch, terms))
    assert [slip.package_of for slip in slips] == ["package 1 of 2", "package 2 of 2"]
    assert [[row.quantity for row in slip.lines] for slip in slips] == [["2", "1"], ["1"]]
    assert [[name for name, _ in slip.sums] for slip in slips] == [["Items in this package"]] * 2
    assert {slip.heading for slip in slips} == {"In this package"}
    assert [len(slip.items) for slip in slip_contents(batch)] == [2, 1]


def test_a_slip_of_an_order_that_is_not_split_says_that_it_lists_the_whole_order(terms):
    batch = judge_batch([case(number="7", order=SPLIT, pieces_in_order=2), case(number="8")], terms)
    assert [slip.heading for slip in packing_contents(batch, terms)] == ["In this order", "In this package"]
    assert [slip.items[0] for slip in slip_contents(batch)] == ["Whole order:", "1 × Card"]


def test_an_apartment_goes_to_the_end_of_the_street_line_if_it_fits(terms):
    # source: Publication 28, section 213 (from memory): at the end of the street line, else above it
    short = replace(HOME, address2="Apt 3")
    long = replace(HOME, address1="12345 North Quill Meadow Heights Row", address2="Apt 3")
    other = replace(HOME, address2="Kestrel House")
    found = [label.recipient for label in labels(terms, *(case(address=address) for address in (short, long, other)))]
    assert found[0] == ("ADA VELL", "1 QUILL ROW APT 3", "BEND OR  97701")
    assert found[1][1:3] == ("12345 NORTH QUILL MEADOW HEIGHTS ROW", "APT 3")
    assert found[2][1:3] == ("1 QUILL ROW", "KESTREL HOUSE")


@pytest.mark.parametrize(
    ("ounces", "expected"),
    [("3.2", "0 lb 3.2 oz"), ("16", "1 lb 0 oz"), ("15.999", "1 lb 0 oz"), ("19.25", "1 lb 3.25 oz")],
)
def test_weights_are_written_in_pounds_and_ounces(ounces, expected):
    assert pounds_ounces(Weight.of(Decimal(ounces), WeightUnit.OUNCE)) == expected
    assert pounds_ounces(None) == ""


@pytest.mark.parametrize("tenths", range(1, 160, 7))
def test_a_tenth_of_an_ounce_is_restored_from_whole_grams(tenths):
    typed = Decimal(tenths) / 10
    grams = Weight(Weight.of(typed, WeightUnit.OUNCE).grams.quantize(Decimal(1)))
    assert Decimal(pounds_ounces(grams, "0.1").split()[2]) == typed


def test_an_address_no_font_can_write_stops_the_label(terms, fonts):
    batch = judge_batch([case(address=replace(HOME, recipient=f"Ada {SUMERIAN}")), case(number="2")], terms)
    checked = check_printable(batch, terms, fonts)
    first, second = checked.verdicts
    (reported,) = [found for found in first.findings if found.code == "letters-not-printable"]
    assert (reported.facts["letters"], reported.severity) == (SUMERIAN, Severity.STOP)
    assert first.status == "needs a look"
    assert second == batch.verdicts[1]
    assert [label.order for label in label_contents(checked, terms)] == ["2"]


def test_unprintable_letters_on_a_label_bought_online_only_need_a_check(terms, fonts):
    batch = judge_batch([case("12", "Padded", address=replace(HOME, city=f"Bend {SUMERIAN}"))], terms)
    (found,) = [
        f for f in check_printable(batch, terms, fonts).verdicts[0].findings if f.code == "letters-not-printable"
    ]
    assert found.severity is Severity.LOOK


def test_scripts_covered_by_the_fonts_are_printed_unchanged(terms, fonts):
    batch = judge_batch([case(address=replace(HOME, recipient="高橋 ليلى שרה Émile"))], terms)
    assert check_printable(batch, terms, fonts) == batch


def test_slips_get_a_mark_for_letters_that_cannot_be_printed(terms, fonts):
    bought = order(address=replace(HOME, recipient=f"A{SUMERIAN}da"))
    (slip,) = slip_contents(judge_batch([case(order=bought)], terms))
    assert printable(slip, fonts).recipient_short == "A?da, Bend OR"
    assert printable(("plain", 3, None), fonts) == ("plain", 3, None)
