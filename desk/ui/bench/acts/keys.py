"""The keys of the bench, in the groups of the key list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from desk.session.verdict.stamp_request import accept_stamp_request, decline_stamp_request
from desk.ui.actions import Act
from desk.ui.bench.acts.answering import AnsweringActs
from desk.ui.bench.acts.describing import DescribingActs
from desk.ui.bench.acts.matching import MatchingActs
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.acts.splitting import SplittingActs
from desk.ui.bench.acts.switches import SwitchActs
from desk.ui.bench.acts.viewing import LookingActs
from desk.ui.bench.acts.weighing import WeighingActs
from desk.ui.bench.layout import BenchLayout
from desk.ui.bench.package_card import ADDRESS_KEY, SPLIT_KEY
from desk.ui.common_keys import ASIDE, EDIT, FIND, HISTORY, MAILER, MATCH, PAGE, REASON, RIGHT, SERVICE, SIZE


@dataclass(frozen=True, slots=True)
class BenchActs:
    """The acts of one bench screen, by group."""

    opening: OpeningActs
    weighing: WeighingActs
    describing: DescribingActs
    answering: AnsweringActs
    splitting: SplittingActs
    looking: LookingActs
    switches: SwitchActs
    matching: MatchingActs

    @classmethod
    def of(cls, view: BenchLayout) -> BenchActs:
        """Make the acts of a bench."""
        opening = OpeningActs(view)
        weighing = WeighingActs(view, opening)
        return cls(
            opening,
            weighing,
            DescribingActs(view),
            AnsweringActs(view, weighing.checked),
            SplittingActs(view, opening),
            LookingActs(view),
            SwitchActs(view),
            MatchingActs(view, opening),
        )


def bench_keys(acts: BenchActs) -> Sequence[Act]:
    """Return the keys, in the groups of the key list."""
    groups = (
        ("Find and open", _opening(acts)),
        ("Weight", _weighing(acts.weighing)),
        ("Packing", _describing(acts.describing)),
        ("Answers", _answering(acts.answering, acts.splitting)),
        ("Options", _switches(acts.switches)),
    )
    return [replace(act, group=group) for group, rows in groups for act in rows]


def _opening(acts: BenchActs) -> Sequence[Act]:
    opening, looking = acts.opening, acts.looking
    return (
        Act("0 – 9", "Find by number"),
        Act(FIND, "Find", opening.find),
        Act("N", "Next piece", opening.next_piece),
        Act(PAGE, "Details of this piece", looking.open_page),
        Act(EDIT, "Correct the order", looking.correct_order),
        Act(HISTORY, "History", looking.open_history),
        Act(MATCH, "Scan to match: slip, then label", acts.matching.open),
        Act(ADDRESS_KEY, "Full address", looking.toggle_address),
    )


def _weighing(weighing: WeighingActs) -> Sequence[Act]:
    return (
        Act("T", "Type a weight", weighing.type_weight),
        Act("Enter", "Use the weight shown, or open the next piece"),
        Act("E", "Use this weight for identical orders", weighing.copy),
    )


def _describing(describing: DescribingActs) -> Sequence[Act]:
    return (
        Act(MAILER, "Mailer", describing.offer_mailers),
        Act(SERVICE, "Service", describing.offer_services),
        Act("S", 'Fits the 1/4" slot', lambda: describing.set_thickness("slot")),
        Act("H", 'Up to 1/2"', lambda: describing.set_thickness("half")),
        Act("Q", 'Up to 3/4"', lambda: describing.set_thickness("three quarters")),
        Act("K", "Thicker", lambda: describing.set_thickness("thicker")),
        Act(SIZE, "Size: length, width, thickness", describing.ask_size),
        Act("B", "Rigid or not", describing.toggle_rigid),
        Act("U", "Lumpy (uneven thickness) or not", describing.toggle_lumpy),
    )


def _answering(answering: AnsweringActs, splitting: SplittingActs) -> Sequence[Act]:
    return (
        Act(RIGHT, "Checked, it's right", answering.answer),
        Act("Shift+Y", "Heavy from extra packing", answering.answer_packing),
        Act("R", "Use stamps and refund", lambda: answering.answer_request(accept_stamp_request)),
        Act("D", "Don't use stamps", lambda: answering.answer_request(decline_stamp_request)),
        Act(ASIDE, "Set aside, or put back", answering.set_aside),
        Act(REASON, "Set aside with a reason", answering.ask_reason),
        Act(SPLIT_KEY, "Split into packages, or back in one", splitting.split),
    )


def _switches(switches: SwitchActs) -> Sequence[Act]:
    return (
        Act("G", "Advance automatically", switches.switch_advance),
        Act("O", "Sounds on or off", switches.switch_sounds),
    )
