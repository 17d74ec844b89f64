"""Papers made in several processes: the same as one after another, also when a process ends early."""

import os
from dataclasses import replace

import pytest

from desk.session.papers import at_once
from desk.session.papers.at_once import make_all
from desk.session.papers.kinds import Paper
from desk.session.papers.making import PaperRequest
from desk.session.pile.batch import judge_batch
from tests.session import made


@pytest.fixture
def requests(terms):
    batch = judge_batch([made.case(order=made.order(str(number))) for number in range(3)], terms)
    return [PaperRequest(paper, batch, terms) for paper in Paper]


@pytest.fixture
def in_two_processes(monkeypatch):
    monkeypatch.setattr(at_once, "FEWEST", 3)
    monkeypatch.setattr(at_once.os, "cpu_count", lambda: 2)
    monkeypatch.setattr(at_once.threading, "active_count", lambda: 1)


def plain(papers):
    return [replace(paper, proof_seconds=0.0) for paper in papers]


def test_documents_made_in_another_process_equal_those_made_here(requests, resources, in_two_processes, monkeypatch):
    here, drawn = os.getpid(), at_once._drawn
    in_turn = [at_once._made(one, resources) for one in requests]
    monkeypatch.setattr(at_once, "_drawn", lambda *given: drawn(*given) if os.getpid() != here else {})
    monkeypatch.setattr(at_once, "_made", lambda *given: in_turn[0] if os.getpid() == here else made_alone(*given))
    assert plain(make_all(requests, resources)) == plain(in_turn)


made_alone = at_once._made


def test_documents_of_a_process_that_ends_early_are_made_here(requests, resources, in_two_processes, monkeypatch):
    monkeypatch.setattr(at_once, "_answer", lambda *_: os._exit(1))
    assert [paper.paper for paper in make_all(requests, resources)] == list(Paper)


@pytest.mark.parametrize(
    ("fewest", "cores", "threads", "shares"), [(3, 2, 1, True), (4, 2, 1, False), (3, 1, 1, False), (3, 2, 2, False)]
)
def test_documents_are_shared_among_processes_only_for_many_pieces_on_several_cores(
    requests, monkeypatch, fewest, cores, threads, shares
):
    monkeypatch.setattr(at_once, "FEWEST", fewest)
    monkeypatch.setattr(at_once.os, "cpu_count", lambda: cores)
    monkeypatch.setattr(at_once.threading, "active_count", lambda: threads)
    assert at_once._can_share(requests) is shares
