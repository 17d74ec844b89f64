"""The warning about outdated prices: dismissed for a day, kept in the store, undone like any step."""

from datetime import timedelta

from desk.session.pile.price_warning import dismiss, is_dismissed
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, undo


def test_a_dismissed_warning_comes_back_on_the_next_day(sitting: Sitting) -> None:
    assert not is_dismissed(sitting)
    dismiss(sitting)
    assert is_dismissed(sitting)
    sitting.on += timedelta(days=1)
    assert not is_dismissed(sitting)


def test_the_dismissal_can_be_undone(sitting: Sitting) -> None:
    dismiss(sitting)
    assert next_steps(sitting)[0] == "Price warning dismissed"
    undo(sitting)
    assert not is_dismissed(sitting)
