"""What the bench says of one piece: prices by Notice 123, list of 2026-07-12 (one transcription), as shipped."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from desk.domain.finding import Code, Severity
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.stamp import StampKind, StampStock
from desk.session.bench.bench_view import LEFT_OUT, BenchView, Cost, PriceStep, bench_view
from desk.session.pile.batch import judge_batch
from desk.session.rulebook import Rulebook
from desk.session.verdict.verdict import Terms
from tests.session import made
from tests.session.words.samples import sample

Viewed = Callable[..., BenchView]


@pytest.fixture
def viewed(rulebook: Rulebook) -> Viewed:
    """The view of a made case that got its stamps: `viewed(value, mailer, shop=..., on=..., scale=..., **fields)`."""

    def one(*words: Any, shop: Any = None, on: date = made.ON, scale: str = "1", **fields: Any) -> BenchView:
        terms = Terms(shop or made.shop(), rulebook, on, Decimal(scale))
        return bench_view(judge_batch([made.case(*words, **fields)], terms).verdicts[0], terms)

    return one


def codes(view: BenchView) -> list[str]:
    return [why.code for why in view.why]


def test_a_light_letter_shows_status_postage_and_billed_weight(viewed: Viewed) -> None:
    view = viewed("0.7")
    assert (view.number, view.figure, view.to) == ("1001", "1 oz", "Ada Vell, Bend OR")
    assert (view.shape, view.service, view.status) == ("letter", "letter, stamped", "ready")
    assert (view.stamps, view.stamp_words) == ((("1", "Forever"),), "1 Forever. Exact postage.")
    assert view.looks == ()


def test_an_unweighed_piece_shows_only_the_shipping_paid(viewed: Viewed) -> None:
    view = viewed(None)
    assert (view.figure, view.shape, view.service, view.ruler) == ("", "", "", None)
    assert (view.stamps, view.stamp_words) == ((), "")
    assert view.costs == (Cost("Shipping paid", "$5.00"),)
    assert (view.status, view.looks) == ("to weigh", ("no-weight",))


def test_an_amount_paid_in_another_currency_names_it(viewed: Viewed) -> None:
    assert viewed(None, shipping_paid=Money(500, "CAD")).costs == (Cost("Shipping paid", "CAD 5.00"),)


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({}, "Ada Vell, Bend OR"),
        ({"address": replace(made.HOME, recipient="", company="Quill & Co")}, "Quill & Co, Bend OR"),
        ({"address": replace(made.HOME, recipient="")}, "Bend OR"),
        ({"address": replace(made.HOME, city="")}, "Ada Vell, OR"),
        ({"address": replace(made.HOME, city="", region="")}, "Ada Vell"),
        ({"address": made.FRANCE}, "Solène Mercadier, France"),
        ({"address": replace(made.HOME, country="")}, "Ada Vell, Bend OR"),
    ],
)
def test_recipient_and_destination_are_shown(viewed: Viewed, fields: dict[str, Any], expected: str) -> None:
    assert viewed(None, **fields).to == expected


@pytest.mark.parametrize(("piece", "of", "expected"), [(1, 1, "1001"), (1, 2, "1001-1"), (2, 2, "1001-2")])
def test_the_number_names_the_piece_where_there_is_more_than_one(
    viewed: Viewed, piece: int, of: int, expected: str
) -> None:
    assert viewed("0.7", key=PieceKey("1001", piece), pieces_in_order=of).number == expected


@pytest.mark.parametrize(
    ("drawer", "expected"),
    [
        ((), "You don't have the stamps for this postage."),
        ((StampStock(StampKind.FOREVER, 2),), "2 Forever. $0.53 overpaid."),  # 1.64 - 1.11
        (made.DRAWER, "1 Forever, 1 additional ounce. Exact postage."),
    ],
)
def test_stamps_are_named_in_words(viewed: Viewed, drawer: tuple[StampStock, ...], expected: str) -> None:
    assert viewed("1.5", shop=made.shop(stamps=drawer)).stamp_words == expected


def test_each_stamp_has_its_own_mark(viewed: Viewed) -> None:
    assert viewed("1.5").stamps == (("1", "Forever"), ("+1", "additional ounce"))
    faces = (StampStock(StampKind.FACE, 3, Money(41)),)
    assert viewed("0.7", shop=made.shop(stamps=faces)).stamps == (("$0.41", "face value"), ("$0.41", "face value"))


def test_the_costs_of_a_piece_are_listed_down_to_the_margin(viewed: Viewed) -> None:
    # an envelope of 24.00 a 200; 0.04 put in, 0.03 for the label
    assert viewed("1.5").costs == (
        Cost("Postage", "$1.11"),
        Cost("A7", "$0.12"),
        Cost("Insert and label", "$0.07"),
        Cost("Shipping paid", "$5.00"),
        Cost("Margin", "$3.70", strong=True),
    )


def test_a_negative_margin_is_called_a_loss(viewed: Viewed) -> None:
    # 1.11 + 0.12 + 0.07 = 1.30
    assert viewed("1.5", shipping_paid=Money(130)).costs[-1] == Cost("Margin", "$0.00", strong=True)
    lost = viewed("1.5", shipping_paid=Money(129)).costs[-1]
    assert lost == Cost("Margin", "-$0.01", strong=True, beside="loss")
    assert lost.line == ("Margin, loss", "-$0.01", True)


def test_without_postage_there_is_no_margin(viewed: Viewed) -> None:
    assert "Margin" not in [cost.words for cost in viewed("0.7", address=replace(made.HOME, country="")).costs]


def test_a_mailer_without_a_price_says_so_and_a_reused_one_is_free(viewed: Viewed) -> None:
    unpriced = made.shop(mailers=(replace(made.ENVELOPE, pack_price=None),))
    assert viewed("1.5", shop=unpriced).costs[1] == Cost("A7", "", beside="no price set")
    reused = made.shop(mailers=(replace(made.ENVELOPE, pack_price=None, reused=True),))
    assert viewed("1.5", shop=reused).costs[1] == Cost("A7", "$0.00")


def test_a_refund_is_shown_as_due_once_it_is_accepted(viewed: Viewed) -> None:
    # 5.00 paid - 0.82 postage - 0.12 for the mailer
    asked = viewed("0.7", buyer_note="by stamp").costs[-2]
    assert asked == Cost("Refund if sent with stamps", "$4.06")
    owed = viewed("0.7", buyer_note="by stamp", answered=frozenset({"stamps-requested"})).costs[-2]
    assert owed == Cost("Refund due (sent with stamps)", "$4.06", strong=True)


def test_an_unknown_mailer_is_shown_without_a_cost(viewed: Viewed) -> None:
    assert viewed("0.7", "Sack").costs[1] == Cost("Mailer", "")


def test_no_postage_is_shown_where_no_service_is_eligible(viewed: Viewed) -> None:
    view = viewed("0.7", address=replace(made.HOME, country=""))
    assert (view.service, view.figure) == ("", "")
    assert view.costs[0] == Cost("Postage", "")
    assert view.ruler is not None
    assert view.ruler.steps == ()


def test_an_outdated_price_list_is_noted_next_to_the_postage(viewed: Viewed) -> None:
    (postage, *_) = viewed("12", "Padded", on=date(2027, 1, 18)).costs
    assert postage.beside == "price list of July 12, 2026, valid through January 17, 2027"
    (in_time, *_) = viewed("12", "Padded", on=date(2026, 10, 3)).costs
    assert in_time == Cost("Postage", "$11.35")


@pytest.mark.parametrize(
    ("value", "expected"),
    [("0.7", None), ("1.0", "look"), ("1.5", None), ("3.6", "note")],
)
def test_the_ruler_says_whether_rounding_or_tolerance_leaves_the_price_open(
    viewed: Viewed, value: str, expected: str | None
) -> None:
    ruler = viewed(value).ruler
    assert ruler is not None
    assert (ruler.weight_oz, ruler.doubt) == (Decimal(value), expected)


def test_the_band_is_rounding_and_tolerance_and_narrower_after_a_check(viewed: Viewed) -> None:
    # Half a division of 0.1 oz, and one division by NIST Handbook 44, section 2.20 Table 6, class III.
    plain, checked = viewed("0.7").ruler, viewed("0.7", scale="0").ruler
    assert plain is not None
    assert checked is not None
    assert (plain.low_oz, plain.high_oz) == (Decimal("0.55"), Decimal("0.85"))
    assert (checked.low_oz, checked.high_oz) == (Decimal("0.65"), Decimal("0.75"))


def test_the_band_is_wider_by_the_reading_of_the_empty_pan(viewed: Viewed) -> None:
    # 0.1 oz on the empty pan, half a division, and one division of tolerance, which a check halves.
    plain = made.weighing("0.7")
    off = replace(plain, shown=replace(plain.shown, offset=Decimal("0.1")))
    for scale, ends in (("1", ("0.45", "0.95")), ("0.5", ("0.5", "0.9"))):
        ruler = viewed(None, weighing=off, scale=scale).ruler
        assert ruler is not None
        assert (ruler.low_oz, ruler.high_oz) == tuple(map(Decimal, ends))


def test_the_band_lies_below_the_reading_on_a_scale_that_rounds_up(viewed: Viewed) -> None:
    up = made.shop(policy=made.policy(scale_rounds_up=True))
    ruler = viewed("0.7", shop=up).ruler
    assert ruler is not None
    assert (ruler.low_oz, ruler.high_oz) == (Decimal("0.5"), Decimal("0.8"))


def test_the_ruler_shows_steps_within_three_ounces(viewed: Viewed) -> None:
    ruler = viewed("0.7").ruler
    assert ruler is not None
    assert ruler.steps == (
        PriceStep(Decimal(1), "$0.82"),
        PriceStep(Decimal(2), "$1.11"),
        PriceStep(Decimal(3), "$1.40"),
        PriceStep(Decimal("3.5"), "$1.69"),
    )
    flat = viewed("3.6").ruler
    assert flat is not None
    assert [step.up_to_oz for step in flat.steps] == [1, 2, 3, 4, 5, 6]


def test_the_reasons_are_sorted_most_serious_first(viewed: Viewed) -> None:
    marks = [Severity(why.mark).rank for why in viewed("3.6", "Sack").why]
    assert len(set(marks)) > 1
    assert marks == sorted(marks)


def test_a_reason_has_sentence_what_to_do_and_source(viewed: Viewed) -> None:
    (first, *_) = viewed("1.0", shop=made.shop(policy=made.policy(close_call_from=Money(0)))).why
    assert (first.code, first.mark, first.head) == ("too-close-to-call", "look", "Too close to call")
    assert first.sentence == (
        "Too close to call. Your scale reads in steps of 0.1 oz, so this could be just over or just under 1 oz. "
        "We used the higher price."
    )
    assert "DMM 133.1.3" in first.way_out
    assert first.source == "NIST Handbook 44, section 2.20 Table 6, class III"


def test_findings_shown_elsewhere_are_left_out_and_none_is_shown_twice(viewed: Viewed) -> None:
    cheap = viewed("0.7", shipping_paid=Money(10))
    assert not LEFT_OUT & set(codes(cheap))
    shown = [(why.code, why.sentence) for why in cheap.why]
    assert len(shown) == len(set(shown))


def test_the_declaration_is_explained_only_abroad(viewed: Viewed) -> None:
    assert "form-by-service" in codes(viewed("4.2", "Padded", address=made.FRANCE))
    assert not {"form-by-service", "form-not-needed"} & set(codes(viewed("4.2", "Padded")))


def test_an_answered_issue_is_no_longer_open_but_still_shown(viewed: Viewed) -> None:
    answered = viewed("1.0", answered=frozenset({"too-close-to-call"}))
    assert (answered.looks, answered.status) == ((), "ready")
    assert "too-close-to-call" in codes(answered)


def test_open_issues_are_listed_once_and_without_stops(rulebook: Rulebook) -> None:
    terms = Terms(made.shop(), rulebook, made.ON)
    verdict = judge_batch([made.case("0.7")], terms).verdicts[0]
    reported = [sample(code) for code in (Code.SIZE_MISSING, Code.SIZE_MISSING, Code.TOO_SMALL)]
    view = bench_view(replace(verdict, findings=tuple(reported)), terms)
    assert view.looks == ("size-missing",)


def test_a_stiff_flat_goes_as_a_parcel_without_stamps(viewed: Viewed) -> None:
    card = Mailer("Stiff", MailerKind.RIGID, Size.of("9", "7", "0.3", "in"), stiff=True)
    view = viewed("2", "Stiff", shop=made.shop(mailers=(card,)))
    assert (view.shape, view.service, view.stamps) == ("flat", "ground (retail)", ())
    assert "stiff-flat" in codes(view)


@pytest.mark.parametrize(("stiff", "price"), [(False, "$1.11"), (True, "$1.60")])
def test_price_steps_include_the_surcharge_of_the_piece(viewed: Viewed, stiff: bool, price: str) -> None:
    """1.11 for 2 oz, and 0.49 more when it cannot go through the machine (Notice 123, list of 2026-07-12)."""
    view = viewed(weighing=made.weighing("1.3", stiff=stiff))
    assert view.ruler is not None
    assert PriceStep(Decimal(2), price) in view.ruler.steps
    assert view.ruler.applies == PriceStep(Decimal(2), price)
    assert view.postage == price
