"""Disable garbage collection during reading, which makes no cycles but would trigger a scan every thousand orders.

It saves 6% of reading 10,000 orders (0.200 s instead of 0.213 s) and 7% of 700, measured on November 29, 2026.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def uncollected() -> Iterator[None]:
    """Disable garbage collection while building many acyclic records; leave it off if it already was."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            # freeze and unfreeze move the new records to the oldest generation, so the next collection skips them
            gc.freeze()
            gc.unfreeze()
            gc.enable()
