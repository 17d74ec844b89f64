"""Where your own data is."""

from __future__ import annotations

from pathlib import Path


def own_store() -> Path:
    """Return the path of your own data, whether it exists or not."""
    from platformdirs import user_data_path

    return user_data_path("tare-and-tag", appauthor=False) / "store.sqlite"
