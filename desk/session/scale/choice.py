"""Which scale is used and its format: what Setup asks, saved as one setting, and the rule made from it."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from typing import Any  # fields of several types

from desk.domain.faults import Refused
from desk.domain.shop.shop import Policy
from desk.domain.weight import Shown
from desk.scales.drivers.framing import Ends
from desk.scales.drivers.lines import Bit, LinePattern
from desk.scales.drivers.own_pattern import check_expression
from desk.scales.drivers.presets import PRESETS
from desk.scales.drivers.status_bits import trusting
from desk.scales.port import SerialSettings
from desk.scales.reading import State
from desk.scales.settling import StepRule
from desk.scales.tray import Tray
from desk.session.scale.step_rule import step_rule
from desk.session.setup.change_shop import FieldFault
from desk.session.sitting import Sitting
from desk.store.tables import settings

SCALE = "scale"
OWN = "own"
USUAL_TALK = "status-prefixed"
SPEEDS = (1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200)
BITS = ("8N1", "7E1", "7O1", "8E1", "8O1", "7N2", "8N2")
TYPED = "kind port preset speed bits usb own_expression own_request own_ends own_states".split()
OWN_STATES = {"stable": State.STABLE, "moving": State.MOVING, "over": State.OVER, "under": State.UNDER}


class ScaleKind(StrEnum):
    """Where readings come from. Without a scale, weights are typed; a virtual one is for trying things out."""

    NONE = "none"
    VIRTUAL = "virtual"
    VIRTUAL_USB = "virtual-usb"
    SERIAL = "serial"
    USB = "usb"


@dataclass(frozen=True, slots=True)
class MovingBit:
    """The status bit found to mean moving, for which format: byte and bit from 0, and its sense."""

    preset: str
    place: int
    bit: int
    when: bool


@dataclass(frozen=True, slots=True)
class ScaleChoice:
    r"""The chosen scale. `bits` are data bits, parity and stop bits; `usb` is the serial number of a USB scale.

    The `own` fields describe your own format when no built-in one fits: an expression with named groups, what to send
    (with `\r` and `\n` as typed), what ends a frame, and words of the status group (`ST stable, US moving`).
    """

    kind: ScaleKind = ScaleKind.NONE
    port: str = ""
    preset: str = USUAL_TALK
    speed: int = 9600
    bits: str = "8N1"
    usb: str = ""
    own_expression: str = ""
    own_request: str = ""
    own_ends: str = "line"
    own_states: str = ""
    tray: Decimal | None = None
    tray_unit: str = ""
    moving: MovingBit | None = None


NONE, VIRTUAL, VIRTUAL_USB = ScaleChoice(), ScaleChoice(ScaleKind.VIRTUAL), ScaleChoice(ScaleKind.VIRTUAL_USB)


def has_terminals() -> bool:
    """Return whether the system has pseudo-terminals for a virtual serial scale; Windows has none."""
    return sys.platform != "win32"


def usual_scale(*, is_demo: bool) -> ScaleChoice:
    """Return the default scale: in the demo a virtual one, on a serial port where possible, else none."""
    if not is_demo:
        return NONE
    return VIRTUAL if has_terminals() else VIRTUAL_USB


def talk_of(choice: ScaleChoice) -> str:
    """Return the format of a virtual serial scale: the chosen one, if it is built in."""
    return choice.preset if choice.preset in PRESETS else USUAL_TALK


def scale_choice(sitting: Sitting, default: ScaleChoice = NONE) -> ScaleChoice:
    """Return the chosen scale, or the default."""
    with sitting.store.reading() as conn:
        return settings.read(conn, SCALE, default)


def save_scale(sitting: Sitting, values: Mapping[str, object], default: ScaleChoice = NONE) -> tuple[FieldFault, ...]:
    """Save the scale settings; with a fault nothing is saved, and faults are returned by field."""
    before = scale_choice(sitting, default)
    # only texts, but `replace` is checked against the fields of every type
    typed: dict[str, Any] = {name: str(value).strip() for name, value in values.items() if name in TYPED}
    kind, speed = typed.pop("kind", before.kind), typed.pop("speed", str(before.speed))
    if kind not in tuple(ScaleKind):
        return (_not_among("kind", tuple(ScaleKind)),)
    chosen = replace(before, kind=ScaleKind(kind), speed=int(speed) if speed.isdecimal() else 0, **typed)
    faults = _faults(chosen)
    if not faults and chosen != before:
        _keep(sitting, chosen, "Scale settings saved")
    return faults


def keep_tray(sitting: Sitting, shown: Shown | None, default: ScaleChoice = NONE) -> None:
    """Save the weight of a tray that always stays on; None removes it."""
    value, unit = (shown.value, shown.unit.counted_in.value) if shown else (None, "")
    chosen = replace(scale_choice(sitting, default), tray=value, tray_unit=unit)
    _keep(sitting, chosen, "Tray weighed" if shown else "Tray removed")


def trust_bit(sitting: Sitting, bit: Bit | None, default: ScaleChoice = NONE) -> None:
    """Trust the bit found to mean moving; None forgets it, and equal readings decide again."""
    before = scale_choice(sitting, default)
    moving = None if bit is None else MovingBit(before.preset, bit.place, bit.bit, bit.when)
    _keep(sitting, replace(before, moving=moving), "Status bit trusted" if bit else "Status bit forgotten")


def trusted_bit(choice: ScaleChoice) -> Bit | None:
    """Return the trusted bit for the current format, or None."""
    bit = choice.moving
    if bit is None or bit.preset != choice.preset:
        return None
    return Bit(bit.place, bit.bit, State.MOVING, bit.when)


def bits_are_disputed(choice: ScaleChoice) -> bool:
    """Return whether its format has status bits whose meaning differs between scales."""
    return choice.kind is ScaleKind.SERIAL and choice.preset in PRESETS and not PRESETS[choice.preset].flag_is_sure


def serial_settings(choice: ScaleChoice) -> SerialSettings:
    """Return the line settings of a serial scale."""
    data, stop = int(choice.bits[0]), int(choice.bits[2])
    return SerialSettings(choice.port, choice.speed, data, choice.bits[1], stop)


def pattern_of(choice: ScaleChoice) -> LinePattern:
    """Return the chosen format, built-in or your own."""
    if choice.preset != OWN:
        bit = trusted_bit(choice)
        return PRESETS[choice.preset] if bit is None else trusting(PRESETS[choice.preset], bit)
    return LinePattern(
        OWN,
        (choice.own_expression,),
        ends=Ends(choice.own_ends),
        request=_bytes(choice.own_request),
        states=_states(choice.own_states),
    )


def settling_rule(policy: Policy, choice: ScaleChoice) -> StepRule:
    """Return the scale's step and whether its flag is trusted; with disputed bits, equal readings decide."""
    talks = {ScaleKind.SERIAL: pattern_of(choice), ScaleKind.VIRTUAL: PRESETS[talk_of(choice)]}.get(choice.kind)
    sure = talks is None or talks.flag_is_sure
    return replace(step_rule(policy), trusts_flag=sure)


def tray_of(choice: ScaleChoice) -> Tray | None:
    """Return the tray that is subtracted from each reading."""
    return None if choice.tray is None else Tray(choice.tray, choice.tray_unit)


def _keep(sitting: Sitting, chosen: ScaleChoice, step: str) -> None:
    with sitting.store.act(step) as tx:
        settings.write(tx, SCALE, chosen)
    sitting.announce(sitting.store.last_changes)


def _faults(chosen: ScaleChoice) -> tuple[FieldFault, ...]:
    faults = [
        _not_among(name, known)
        for name, known in (("speed", SPEEDS), ("bits", BITS), ("preset", (*PRESETS, OWN)))
        if getattr(chosen, name) not in known
    ]
    if chosen.kind is ScaleKind.SERIAL and not chosen.port:
        faults.append(FieldFault("port", "Expected the name of the port the scale is plugged into."))
    if chosen.preset == OWN and not faults:
        faults += _own_faults(chosen)
    return tuple(faults)


def _not_among(name: str, known: Iterable[object]) -> FieldFault:
    return FieldFault(name, f"Expected one of {', '.join(map(str, known))}.")


def _own_faults(chosen: ScaleChoice) -> list[FieldFault]:
    faults = []
    try:
        check_expression(chosen.own_expression)
    except Refused as refused:
        faults.append(FieldFault("own_expression", refused.sentence))
    if chosen.own_ends not in tuple(Ends):
        faults.append(FieldFault("own_ends", "Expected line or etx."))
    if _states(chosen.own_states).keys() != {part.split()[0] for part in chosen.own_states.split(",") if part.strip()}:
        faults.append(FieldFault("own_states", "Expected pairs such as ST stable, US moving, OL over."))
    return faults


def _states(text: str) -> dict[str, State]:
    pairs = (part.split() for part in text.split(","))
    return {pair[0]: OWN_STATES[pair[1]] for pair in pairs if len(pair) == 2 and pair[1] in OWN_STATES}


def _bytes(typed: str) -> bytes:
    return typed.replace("\\r", "\r").replace("\\n", "\n").encode("latin-1", "replace")
