"""Save the memory in a file beside the store and load it again. The file is a cache and may be deleted at any time.

The file is only used when the store still has exactly the weighings it was learned from.
"""

from __future__ import annotations

import json
import logging
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any  # as json gives values

from desk.domain.shop.shop import Shop
from desk.domain.whole_file import write_whole
from desk.learning.explanations import Cause
from desk.learning.parameters import Parameters
from desk.learning.parcel import Expected
from desk.learning.snapshot import from_bytes, to_bytes
from desk.learning.verdicts import Fit, WeightVerdict
from desk.session.learned.memory import Memory, Taught
from desk.session.learned.parcels import typed_weights
from desk.session.sitting import Sitting
from desk.store.tables import weighings

log = logging.getLogger("desk.session")
NAME = "learned-weights.bin"
HEAD_SEPARATOR = b"\n"


def save_memory(sitting: Sitting, shop: Shop, memory: Memory, folder: Path) -> None:
    """Save the memory in a folder. A stale memory is not saved; a folder that can't be written is no error."""
    if memory.stale:
        return
    head = json.dumps({"of": learned_from(sitting, shop), **_flagged(memory)}).encode()
    try:
        write_whole(folder / NAME, head + HEAD_SEPARATOR + to_bytes(memory.learner))
    except OSError as fault:
        log.warning("the learned weights cannot be saved: %s", fault.strerror)


def recall(sitting: Sitting, shop: Shop, folder: Path) -> Memory | None:
    """Return the saved memory; None when there is none, it is damaged, or the store's weighings have changed."""
    try:
        head, _, content = (folder / NAME).read_bytes().partition(HEAD_SEPARATOR)
    except FileNotFoundError:
        return None
    except OSError as fault:
        log.warning("the learned weights cannot be read and are learned again: %s", fault.strerror)
        return None
    try:
        rest = json.loads(head)
        learner = from_bytes(content, Parameters()) if rest["of"] == learned_from(sitting, shop) else None
        return None if learner is None else _memory(Memory(learner), rest)
    except (ValueError, KeyError, TypeError):
        log.warning("the learned weights are damaged and are learned again")
        return None


def learned_from(sitting: Sitting, shop: Shop) -> list[object]:
    """Return a digest of what the memory was learned from: weighings in use, answers, and typed weights."""
    with sitting.store.reading() as conn:
        counted = weighings.fingerprint(conn)
    return [*counted, *([list(one) for one in sorted(weights.items())] for weights in typed_weights(shop))]


def _flagged(memory: Memory) -> dict[str, object]:
    odd = {number: verdict for number, verdict in memory.verdicts.items() if verdict.fit in (Fit.LIGHT, Fit.HEAVY)}
    return {
        "taught": [[piece, one.weighing_id, one.right, one.packed] for piece, one in memory.taught.items()],
        "verdicts": [[number, asdict(verdict)] for number, verdict in odd.items()],
        "neighbors": [[number, memory.neighbors.get(number, "")] for number in odd],
        "last": memory.last,
    }


def _memory(memory: Memory, rest: dict[str, Any]) -> Memory:  # as json gives it
    for number, verdict in rest["verdicts"]:
        causes = tuple(Cause(cause) for cause in verdict["causes"])
        expected = Expected(**verdict["expected"])
        memory.verdicts[number] = WeightVerdict(
            Fit(verdict["fit"]), expected, verdict["chance_right"], causes, tuple(verdict["items"])
        )
    return replace(
        memory,
        taught={piece: Taught(weighing, right, packed) for piece, weighing, right, packed in rest["taught"]},
        neighbors=dict(rest["neighbors"]),
        last=rest["last"],
    )
