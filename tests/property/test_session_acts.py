"""Whatever a person does in whatever order: screens keep up, undo leads home, money adds up, nothing is half done."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.faults import Refused
from desk.domain.money import zero
from desk.session.money.cost_list import cost_list
from desk.session.pile.batch import judge_batch
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, redo, undo
from desk.session.verdict.judge import judge
from desk.store.tables.shop import load
from tests.property.session_acts import ACTS, ANY_ACT, Act, do, followed, fresh_sitting

MANY = st.lists(ANY_ACT, min_size=1, max_size=14)


def by_id(sitting: Sitting) -> tuple[dict[int, object], object]:
    with sitting.store.reading() as conn:
        shop = load(conn)
    return {each.id: (each.order_id, each.case, each.turn) for each in read_stored(sitting)}, shop


@settings(max_examples=10)
@given(MANY)
def test_an_updated_pile_equals_a_fresh_one(acts: list[Act]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
            fresh = Pile(sitting)
            assert pile.in_turn() == fresh.in_turn()
            assert dict(pile.verdicts) == dict(fresh.verdicts)
            assert pile.batch().drawer_left == fresh.batch().drawer_left


@settings(max_examples=10)
@given(MANY, st.lists(st.sampled_from(["undo", "redo"]), max_size=12))
def test_the_pile_follows_undo_and_redo_too(acts: list[Act], turns: list[str]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
        for turn in turns:
            back, again = next_steps(sitting)
            try:
                name = undo(sitting) if turn == "undo" else redo(sitting)
            except Refused:
                assert (back if turn == "undo" else again) == ""
                continue
            assert name == (back if turn == "undo" else again)
            fresh = Pile(sitting)
            assert dict(pile.verdicts) == dict(fresh.verdicts)
            assert pile.in_turn() == fresh.in_turn()


@settings(max_examples=10)
@given(MANY)
def test_undoing_everything_restores_the_first_state_and_redoing_everything_the_last(acts: list[Act]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        states = [by_id(sitting)]
        for act in acts:
            before = sitting.store.revision
            do(pile, act)
            if sitting.store.revision > before:
                states.append(by_id(sitting))
        for expected in reversed(states[:-1]):
            undo(sitting)
            assert by_id(sitting) == expected
        for expected in states[1:]:
            redo(sitting)
            assert by_id(sitting) == expected
        assert next_steps(sitting)[1] == ""


@settings(max_examples=10)
@given(MANY, ANY_ACT)
def test_a_refused_act_changes_nothing(acts: list[Act], last: Act) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in [*acts, last]:
            before, revision = by_id(sitting), sitting.store.revision
            if not do(pile, act):
                assert by_id(sitting) == before
                assert sitting.store.revision == revision


@settings(max_examples=10)
@given(MANY)
def test_an_act_is_one_step(acts: list[Act]) -> None:
    """One undo reverses one act; importing a list may report its changes in the same step."""
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            before = sitting.store.revision
            do(pile, act)
            assert sitting.store.revision - before in (0, 1), act


@settings(max_examples=10)
@given(MANY)
def test_judging_gives_equal_verdicts_in_any_order_and_changes_no_case(acts: list[Act]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
        terms, stored = read_terms(sitting), read_stored(sitting)
        shown = [repr(each.case) for each in stored]
        first = [judge(each.case, terms) for each in stored]
        backwards = [judge(each.case, terms) for each in reversed(stored)]
        assert backwards[::-1] == first
        assert [judge(each.case, read_terms(sitting)) for each in stored] == first
        assert [repr(each.case) for each in stored] == shown


@settings(max_examples=10)
@given(MANY)
def test_the_costs_of_all_pieces_add_up(acts: list[Act]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
        listed, nothing = cost_list(pile), zero("USD")
        for row in listed.rows:
            spent = row.money.postage + row.money.materials + row.money.refund
            assert row.money.margin + spent == row.money.charged
            assert row.loses == (row.money.charged < spent)
            assert nothing <= row.money.refund <= row.money.charged
        for column in ("charged", "postage", "materials", "refund", "margin"):
            parts = [getattr(row.money, column) for row in listed.rows]
            assert getattr(listed.sums, column) == sum(parts, nothing), column
        assert listed.open + len(listed.rows) == len(pile.verdicts)


@settings(max_examples=10)
@given(MANY)
def test_no_more_stamps_are_used_than_are_in_stock(acts: list[Act]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
        batch = judge_batch([each.case for each in read_stored(sitting)], pile.terms)
        held: dict[object, int] = {}
        for stock in pile.terms.shop.stamps:
            held[stock.kind, stock.value] = held.get((stock.kind, stock.value), 0) + stock.count
        for verdict in batch.verdicts:
            gone = verdict.case.postage_on or verdict.case.handed_over
            if verdict.stamps is not None and not gone and not verdict.stays_here:  # set aside or stopped: holds none
                for kind, value, count in verdict.stamps.stamps:
                    held[kind, value] -= count
        assert all(count >= 0 for count in held.values()), held
        left: dict[object, int] = {}
        for stock in batch.drawer_left:
            left[stock.kind, stock.value] = left.get((stock.kind, stock.value), 0) + stock.count
        assert left == held


@settings(max_examples=10)
@given(MANY)
def test_every_piece_has_a_status_and_a_reason(acts: list[Act]) -> None:
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for act in acts:
            do(pile, act)
        for verdict in pile.verdicts.values():
            order = [found.severity for found in verdict.findings]
            assert order == sorted(order, key=["stop", "look", "note", "fine"].index)
            open_looks = [f for f in verdict.findings if f.severity == "look" and f.code not in verdict.case.answered]
            if verdict.status == "ready":
                assert not verdict.is_stopped
                assert not open_looks
            if verdict.status == "needs a look":
                assert verdict.is_stopped or open_looks
            assert (verdict.offer is None) <= (verdict.stamps is None)
        assert sum(pile.batch().counts().values()) == len(pile.verdicts)


def test_every_act_succeeds_at_least_once() -> None:
    """The draw above means something only if each act can succeed on this pile."""
    with fresh_sitting() as sitting, followed(sitting) as pile:
        first = list(pile.verdicts)
        done = {"pack": do(pile, ("pack", 0, 1)), "apart": do(pile, ("apart", 0, 0))}
        done["weigh"] = do(pile, ("weigh", 0, 5))
        done |= {name: do(pile, (name, 0, 5)) for name in sorted(ACTS.keys() - done.keys() - {"stamps on", "remove"})}
        assert do(pile, ("beside", 1, 0))
        done["weigh again"] = do(pile, ("weigh", 3, 5))
        done["stamps on"] = any(do(pile, ("stamps on", which, 0)) for which in range(len(first)))
        done["remove"] = do(pile, ("remove", 0, 0))
        assert [name for name, ok in done.items() if not ok] == []
