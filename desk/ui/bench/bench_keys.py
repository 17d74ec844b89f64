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
        (does.tr("Which piece"), _to_find(does)),
        (does.tr("Its weight"), _to_weigh(does)),
        (does.tr("What it is in"), _to_describe(does)),
        (does.tr("What you say of it"), _to_answer(does)),
        (does.tr("How the bench works"), _to_set(does)),
    )
    return [replace(act, group=group) for group, acts in groups for act in acts]


def _to_find(does: BenchActs) -> Sequence[Act]:
    return (
        Act("0 – 9", does.tr("Find by number")),
        Act("F", does.tr("Find"), does.find),
        Act("N", does.tr("Next piece"), does.next_piece),
        Act(OPENING_KEY, does.tr("All about this piece"), does.open_page),
    )


def _to_weigh(does: BenchActs) -> Sequence[Act]:
    return (
        Act("T", does.tr("Type a weight"), does.type_weight),
        Act("Return", does.tr("Take the weight that is asked about, or the next piece")),
        Act("E", does.tr("Those alike take this weight"), does.copy),
        Act("Z", does.tr("Take the last step back"), does.take_back),
    )


def _to_describe(does: BenchActs) -> Sequence[Act]:
    return (
        Act("M", does.tr("Mailer"), does.offer_mailers),
        Act("S", does.tr("Goes through the slot, 1/4 in"), lambda: does.say_thickness("slot")),
        Act("H", does.tr("Up to 1/2 in"), lambda: does.say_thickness("half")),
        Act("Q", does.tr("Up to 3/4 in"), lambda: does.say_thickness("three quarters")),
        Act("K", does.tr("Thicker"), lambda: does.say_thickness("thicker")),
        Act("B", does.tr("Stiff, or it bends"), does.say_stiff),
        Act("U", does.tr("Uneven, or even"), does.say_uneven),
    )


def _to_answer(does: BenchActs) -> Sequence[Act]:
    return (
        Act("Y", does.tr("Seen, it is right"), does.answer),
        Act("R", does.tr("Send it by stamp, as asked"), lambda: does.answer_request(accept_stamp_request)),
        Act("D", does.tr("Not by stamp"), lambda: does.answer_request(decline_stamp_request)),
        Act("A", does.tr("Set aside, or back on the line"), does.set_aside),
    )


def _to_set(does: BenchActs) -> Sequence[Act]:
    return (
        Act("G", does.tr("Go on by itself when lifted"), does.switch_going_on),
        Act("O", does.tr("Sounds on or off"), does.switch_sounds),
    )
