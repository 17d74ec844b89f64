"""Whether the bench advances automatically: saved on this computer."""

from __future__ import annotations

from desk.ui.kit.kept_choice import keep_choice, kept_choice

KEY = "bench/advance"


def advances() -> bool:
    """Return whether the next piece opens automatically after a weight."""
    return kept_choice(KEY, ("yes", "no"), "no", "advance automatically") == "yes"


def keep_advance(on: bool) -> None:
    """Save the choice."""
    keep_choice(KEY, "yes" if on else "no")
