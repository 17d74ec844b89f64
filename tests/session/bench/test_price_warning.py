"""The warning about outdated prices: dismissed for a day, saved in the store, passed by when a step is undone."""

from datetime import timedelta

from desk.session.bench.price_warning import dismiss, is_dismissed
from desk.session.setup.forgetting import keep_addresses_for, privacy
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, redo, undo


def test_a_dismissed_warning_comes_back_on_the_next_day(sitting: Sitting) -> None:
    assert not is_dismissed(sitting)
    dismiss(sitting)
    assert is_dismissed(sitting)
    sitting.on += timedelta(days=1)
    assert not is_dismissed(sitting)


def test_undo_skips_a_dismissal(sitting: Sitting) -> None:
    keep_addresses_for(sitting, 30)
    dismiss(sitting)
    assert next_steps(sitting)[0] == "Time to keep addresses saved"
    undo(sitting)
    assert privacy(sitting).keep_days == 90
    assert is_dismissed(sitting)


def test_a_dismissal_does_not_end_redo(sitting: Sitting) -> None:
    keep_addresses_for(sitting, 30)
    undo(sitting)
    dismiss(sitting)
    redo(sitting)
    assert privacy(sitting).keep_days == 30
