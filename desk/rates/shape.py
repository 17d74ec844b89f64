"""Shape: letter, flat or parcel by size, and which price the piece may pay.

Source of every limit: DMM 101 Physical Standards, as updated 2023-07-09, unless a line names another. Limits are
inclusive where the standard says "no more than" or "at least", and compared in exact millimeters.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from desk.domain.exact import short
from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.length import Length, Size, inches
from desk.domain.service import COMMON_GIRTH
from desk.domain.size_limits import (
    CARD,
    LARGE_ENVELOPE,
    LEAST_HEIGHT,
    LEAST_LENGTH,
    LEAST_THICKNESS,
    LETTER,
    THIN_WHEN_LARGE,
)
from desk.domain.weight import OUNCE_G, POUND_G, Weight

LETTER_LIMIT = Weight(Decimal("3.5") * OUNCE_G)  # DMM 101.1.1c
FLAT_LIMIT = Weight(13 * OUNCE_G)  # DMM 101.6.1.1
PARCEL_LIMIT = Weight(70 * POUND_G)  # DMM 101.3.2
GIRTH_LIMIT = inches(str(COMMON_GIRTH))  # length plus girth, every service (DMM 101.3.2)
GROUND_GIRTH_LIMIT = inches(130)  # length plus girth, ground parcels at the oversized price (DMM 101.3.2)

_THINNEST, _LEAST_LENGTH, _LEAST_HEIGHT = LEAST_THICKNESS.mm, LEAST_LENGTH.mm, LEAST_HEIGHT.mm
_LETTER = tuple(side.mm for side in LETTER)
_FLAT = tuple(side.mm for side in LARGE_ENVELOPE)
_CARD = tuple(side.mm for side in CARD)
_THIN_WHEN_LARGE = THIN_WHEN_LARGE.mm
_SQUAREST, _LONGEST_SHAPE = Decimal("1.3"), Decimal("2.5")


@dataclass(frozen=True, slots=True)
class Traits:
    """What the standards need to know about a piece besides its size. `paper` is about the outside."""

    stiff: bool = False
    uneven: bool = False
    paper: bool = True
    boxed: bool = False
    tube: bool = False
    address_parallel_short: bool = False
    clasp: bool = False
    card: bool = False  # a plain card, no envelope: it may pay the postcard price
    rectangular: bool = True


PLAIN = Traits()


@dataclass(frozen=True, slots=True)
class ShapeVerdict:
    """The class by size and the price the piece may pay; `machinable` is None where it does not matter.

    `pays_as` is `none` when the mail does not take the piece. Girth is given for pieces that pay as parcels.
    """

    shape: str  # "letter", "flat", "parcel", or "" below the smallest mailable size
    pays_as: str  # "letter", "flat", "parcel" or "none"
    machinable: bool | None
    reasons: tuple[Finding, ...]
    girth: Length | None = None
    length_plus_girth: Length | None = None


@dataclass(frozen=True, slots=True)
class ShapeOptions:
    """What size and traits decide before the weight is known.

    `flat_form`: it may pay the price of its shape. `flat_when_heavy`: a letter over 3.5 oz may pay as a flat.
    """

    shape: str
    flat_form: bool
    machinable: bool | None
    card: bool
    reasons: tuple[Finding, ...]
    girth: Length | None = None
    length_plus_girth: Length | None = None
    flat_when_heavy: bool = True


UNMEASURED = ShapeOptions("parcel", flat_form=False, machinable=None, card=False, reasons=())


def assumed(shape: str, traits: Traits = PLAIN) -> ShapeOptions:
    """Return the form of a piece without a size, assumed to have that shape (`postcard` too)."""
    irregular = traits.stiff or traits.uneven or traits.clasp or traits.address_parallel_short or not traits.paper
    letter = shape == "letter"
    by_size = "letter" if shape == "postcard" else shape
    return ShapeOptions(
        by_size,
        shape != "parcel",
        not irregular if letter else None,
        card=shape == "postcard",
        reasons=(),
        flat_when_heavy=_may_be_flat(traits),
    )


def classify(size: Size, weight: Weight, traits: Traits = PLAIN) -> ShapeVerdict:
    """Return letter, flat or parcel, and the price that shape and weight lead to. Never raises."""
    return weighed(form_of(size, traits), weight)


def form_of(size: Size, traits: Traits = PLAIN) -> ShapeOptions:
    """Return the class by size; the longest side counts as length whichever way the address runs (DMM 601.1.1)."""
    length, height, thickness = (side.mm for side in size.sides())
    if small := _too_small(length, height, thickness):
        return ShapeOptions("", flat_form=False, machinable=None, card=False, reasons=(small,))
    sides = (length, height, thickness)
    if _within(sides, _LETTER):
        return _letter(sides, traits)
    if _within(sides, _FLAT):
        return _flat(size, sides, traits)
    because = reason(Code.PARCEL_BY_SIZE, "DMM 101.2.1b, 101.3.2", **_measures(sides))
    return _with_girth(ShapeOptions("parcel", flat_form=False, machinable=None, card=False, reasons=(because,)), size)


def weighed(form: ShapeOptions, weight: Weight) -> ShapeVerdict:
    """Return the price a form leads to at a weight: letters over 3.5 oz pay as flats, over 13 oz as parcels."""
    pays_as, moved = _pays_as(form, weight)
    return ShapeVerdict(
        shape=form.shape,
        pays_as=pays_as,
        machinable=form.machinable if pays_as == "letter" else None,
        reasons=form.reasons + moved,
        girth=form.girth if pays_as in ("parcel", "none") else None,
        length_plus_girth=form.length_plus_girth if pays_as in ("parcel", "none") else None,
    )


def girth_around(sides: Iterable[Length]) -> Length:
    """Return the sum of the sides of the cross section, square to the length (DMM 101.3.2)."""
    return Length(sum((side.mm for side in sides), Decimal(0)))


def _pays_as(form: ShapeOptions, weight: Weight) -> tuple[str, tuple[Finding, ...]]:
    if not form.shape:
        return "none", ()
    if weight > PARCEL_LIMIT:
        return "none", (reason(Code.OVER_WEIGHT, "DMM 101.3.2", limit="70", unit="lb"),)
    if form.length_plus_girth is not None and form.length_plus_girth > GROUND_GIRTH_LIMIT:
        return "none", (reason(Code.OVER_SIZE, "DMM 101.3.2", limit="130", measure="length plus girth"),)
    if form.shape == "letter" and form.flat_form and weight <= LETTER_LIMIT:
        return "letter", ()
    if form.shape == "letter" and form.flat_form and not form.flat_when_heavy:
        return "parcel", (reason(Code.STIFF_LETTER_OVER_WEIGHT, "DMM 101.2.5, 101.6.4", limit="3.5", unit="oz"),)
    if form.flat_form and weight <= FLAT_LIMIT:
        moved = (reason(Code.LETTER_OVER_WEIGHT, "DMM 101.1.1c", limit="3.5", unit="oz"),)
        return "flat", moved if form.shape == "letter" else ()
    if form.flat_form:
        return "parcel", (reason(Code.FLAT_OVER_WEIGHT, "DMM 101.6.1.1", limit="13", unit="oz"),)
    return "parcel", ()


def _too_small(length: Decimal, height: Decimal, thickness: Decimal) -> Finding | None:
    flat_and_short = thickness <= _LETTER[2] and (length < _LEAST_LENGTH or height < _LEAST_HEIGHT)
    if thickness < _THINNEST or flat_and_short:
        return finding(Code.TOO_SMALL, "DMM 601.1.2; DMM 101.3.2", None, **_measures((length, height, thickness)))
    return None


def _letter(sides: tuple[Decimal, Decimal, Decimal], traits: Traits) -> ShapeOptions:
    because = reason(Code.LETTER_BY_SIZE, "DMM 101.1.1; DMM 601.1.1", **_measures(sides))
    if traits.tube or not traits.rectangular:
        code = Code.TUBE_PAYS_PARCEL if traits.tube else Code.NOT_RECTANGULAR
        refused = (because, reason(code, "DMM 101.1.1d, 101.2.5"))
        return ShapeOptions("letter", flat_form=False, machinable=None, card=False, reasons=refused)
    odd_traits, heavy = _nonmachinable(sides, traits), _may_be_flat(traits)
    if _within(sides, _CARD):  # DMM 101.6.3.1: card-size pieces never pay the surcharge
        reasons = (because, reason(Code.CARD_SIZE, "DMM 101.6.2.2, 101.6.3.1"))
        machinable = None if odd_traits else True
        return ShapeOptions("letter", True, machinable, traits.card, reasons, flat_when_heavy=heavy)
    notes = (finding(Code.NOT_MACHINABLE, "DMM 101.1.2, 101.6.3.1", trait=odd_traits),) if odd_traits else ()
    return ShapeOptions("letter", True, not odd_traits, card=False, reasons=(because, *notes), flat_when_heavy=heavy)


def _may_be_flat(traits: Traits) -> bool:
    """Return True if a letter over 3.5 oz meets the standards of flats; else it pays as a parcel (DMM 101.2.5,
    101.6.4).
    """
    return not (traits.stiff or traits.boxed or traits.uneven)


def _nonmachinable(sides: tuple[Decimal, Decimal, Decimal], traits: Traits) -> tuple[str, ...]:
    length, height, thickness = sides
    large = length > _CARD[0] or height > _CARD[1]
    tests = {
        "proportions": length < height * _SQUAREST or length > height * _LONGEST_SHAPE,  # DMM 101.1.2a
        "not-paper": not traits.paper,  # b
        "clasp": traits.clasp,  # c
        "uneven": traits.uneven,  # d
        "stiff": traits.stiff or traits.boxed,  # e
        "thin": large and thickness < _THIN_WHEN_LARGE,  # 101.1.1a, 1.2f
        "address": traits.address_parallel_short,  # g
    }
    return tuple(name for name, failed in tests.items() if failed)


def _flat(size: Size, sides: tuple[Decimal, Decimal, Decimal], traits: Traits) -> ShapeOptions:
    reasons = [reason(Code.FLAT_BY_SIZE, "DMM 101.2.1", **_measures(sides))]
    only_thick = sides[0] <= _LETTER[0] and sides[1] <= _LETTER[1]
    if only_thick and not (traits.boxed or traits.tube):
        reasons.append(finding(Code.TOO_THICK_FOR_LETTER, "DMM 101.1.1b", None, **_measures(sides)))
    failed = _flat_faults(traits)
    form = ShapeOptions("flat", flat_form=not failed, machinable=None, card=False, reasons=(*reasons, *failed))
    return _with_girth(form, size)


def _flat_faults(traits: Traits) -> list[Finding]:
    """Return why a flat-size piece must pay the parcel price (DMM 101.2.3 to 101.2.5, 101.6.4)."""
    if traits.tube:
        return [reason(Code.TUBE_PAYS_PARCEL, "DMM 101.2.5")]
    if traits.boxed:
        return [reason(Code.BOX_PAYS_PARCEL, "DMM 101.2.3")]
    failed = []
    if traits.stiff:
        failed.append(finding(Code.STIFF_FLAT, "DMM 101.2.3, 101.2.5"))
    if traits.uneven:
        failed.append(finding(Code.UNEVEN_FLAT, "DMM 101.2.4, 101.2.5"))
    if not traits.rectangular:
        failed.append(reason(Code.NOT_RECTANGULAR, "DMM 101.2.5; Price list of October 5, 2025, p. 6 note 2"))
    return failed


def _with_girth(form: ShapeOptions, size: Size) -> ShapeOptions:
    length, height, thickness = size.sides()
    girth = girth_around((height, thickness, height, thickness))  # the girth of the enclosing box is never too short
    return ShapeOptions(form.shape, form.flat_form, form.machinable, form.card, form.reasons, girth, length + girth)


def _within(sides: tuple[Decimal, ...], largest: tuple[Decimal, ...]) -> bool:
    return all(side <= limit for side, limit in zip(sides, largest, strict=True))


def _measures(sides: tuple[Decimal, ...]) -> dict[str, str]:
    names = ("length_in", "height_in", "thickness_in")
    return {name: short(Length(side).inches()) for name, side in zip(names, sides, strict=True)}
