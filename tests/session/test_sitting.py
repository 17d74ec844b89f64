"""Who is notified of a change: everyone listening at that moment, in the order they joined."""

from desk.domain.changes import Changes
from desk.session.sitting import Sitting


def test_announcing_without_a_listener_does_no_harm(sitting: Sitting) -> None:
    sitting.announce(Changes(shop=True))
    assert sitting.listeners == []


def test_all_listeners_get_the_same_change_in_order(sitting: Sitting) -> None:
    heard: list[tuple[str, Changes]] = []
    sitting.listeners += [
        lambda reported: heard.append(("first", reported)),
        lambda reported: heard.append(("second", reported)),
    ]
    reported = Changes(pieces=frozenset({4}))
    sitting.announce(reported)
    assert heard == [("first", reported), ("second", reported)]


def test_a_listener_that_leaves_silences_no_other(sitting: Sitting) -> None:
    heard: list[str] = []

    def once(_told: Changes) -> None:
        heard.append("once")
        sitting.listeners.remove(once)

    sitting.listeners += [once, lambda _told: heard.append("always")]
    sitting.announce(Changes())
    sitting.announce(Changes())
    assert heard == ["once", "always", "always"]


def test_a_listener_added_meanwhile_gets_the_next_change(sitting: Sitting) -> None:
    heard: list[Changes] = []
    late = heard.append
    sitting.listeners.append(lambda _told: sitting.listeners.append(late))
    sitting.announce(Changes(shop=True))
    assert heard == []
    sitting.announce(Changes(settings=True))
    assert heard == [Changes(settings=True)]


def test_listeners_of_two_sittings_are_not_shared(sitting: Sitting) -> None:
    other = Sitting(sitting.store, sitting.clock, sitting.rulebook, sitting.on)
    other.listeners.append(lambda _told: None)
    assert sitting.listeners == []
