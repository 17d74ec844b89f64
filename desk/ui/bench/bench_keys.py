"""The keys of the bench, in the groups in which the list of keys shows them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from desk.session.verdict.stamp_letter import accept_stamp_request, decline_stamp_request
from desk.ui.actions import Act
from desk.ui.bench.bench_acts import BenchActs
from desk.ui.trade.piece_sheet import OPENING_KEY


def bench_keys(does: BenchActs) -> Sequence[Act]:
    """The table of keys, in the groups of the list of keys."""
    groups = (
        ("Which piece", _to_find(does)),
        ("Its weight", _to_weigh(does)),
        ("What it is in", _to_describe(does)),
        ("What you say of it", _to_answer(does)),
        ("How the bench works", _to_set(does)),
    )
    return [replace(act, group=group) for group, acts in groups for act in acts]


def _to_find(does: BenchActs) -> Sequence[Act]:
    return (
        Act("0 – 9", "Find by number"),
        Act("F", "Find", does.find),
        Act("N", "Next piece", does.next_piece),
        Act(OPENING_KEY, "All about this piece", does.open_page),
    )


def _to_weigh(does: BenchActs) -> Sequence[Act]:
    return (
        Act("T", "Type a weight", does.type_weight),
        Act("Return", "Take the weight that is asked about, or the next piece"),
        Act("E", "Those alike take this weight", does.copy),
        Act("Z", "Take the last step back", does.take_back),
    )


def _to_describe(does: BenchActs) -> Sequence[Act]:
    return (
        Act("M", "Mailer", does.offer_mailers),
        Act("S", "Goes through the slot, 1/4 in", lambda: does.say_thickness("slot")),
        Act("H", "Up to 1/2 in", lambda: does.say_thickness("half")),
        Act("Q", "Up to 3/4 in", lambda: does.say_thickness("three quarters")),
        Act("K", "Thicker", lambda: does.say_thickness("thicker")),
        Act("B", "Stiff, or it bends", does.say_stiff),
        Act("U", "Uneven, or even", does.say_uneven),
    )


def _to_answer(does: BenchActs) -> Sequence[Act]:
    return (
        Act("Y", "Seen, it is right", does.answer),
        Act("R", "Send it by stamp, as asked", lambda: does.answer_request(accept_stamp_request)),
        Act("D", "Not by stamp", lambda: does.answer_request(decline_stamp_request)),
        Act("A", "Set aside, or back on the line", does.set_aside),
    )


def _to_set(does: BenchActs) -> Sequence[Act]:
    return (
        Act("G", "Go on by itself when lifted", does.switch_going_on),
        Act("O", "Sounds on or off", does.switch_sounds),
    )
