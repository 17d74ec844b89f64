"""Reading without the collector of cycles, which makes none and is looked over again with every thousand orders."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def uncollected() -> Iterator[None]:
    """Let the collector rest while many records without cycles are made, which are old to it then; at rest it stays so."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.freeze()  # and thawed at once: what was made counts as old, and is not looked over at the next chance
            gc.unfreeze()
            gc.enable()
